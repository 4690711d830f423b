"""Bakes kept, compared and learnt from; used by the interface alone."""
