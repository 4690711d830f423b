"""Process lines: which key takes what, and what a pan or an oven line says."""
