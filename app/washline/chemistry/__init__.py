"""Pure functions on numbers: composition in, a physical quantity out; units stand in the names, sources in the docstrings.

A composition is an array of masses in grams with shape (24, n): one row per component (``components``), one column per
liquid. Every function is elementwise along the columns and sums its components left to right, so that a column alone
and the same column in any batch give the same bytes. Outside its range a value is flagged (``ranges``) and every
result names its method (``methods``).
"""
