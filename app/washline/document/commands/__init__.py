"""Makers of commands: pure functions from house book to house book, one module per subject."""
