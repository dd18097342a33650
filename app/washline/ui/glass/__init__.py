"""The sheet *In the glass*."""
