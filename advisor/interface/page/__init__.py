"""The page in the browser: a second face of the same answer, served from this machine."""
