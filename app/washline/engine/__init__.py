"""Composition through the whole graph: compile, evaluate in columns, recompute what changed, explain and doubt a figure."""
