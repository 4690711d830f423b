"""Several changes at once, and which change to bake first."""
