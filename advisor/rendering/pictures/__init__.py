"""Pictures drawn once as scenes, and written as SVG or PNG."""
