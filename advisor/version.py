"""The one version string: pyproject.toml, the pages and the JSON read it from here."""

__version__ = "0.4.0"
