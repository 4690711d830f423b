"""The checks of `advisor lint`: a program of its own beside the layers, which reads what they read."""
