"""Washline: composition, balance and cost of drinks made with house-made parts."""

__version__ = "0.1.0"
