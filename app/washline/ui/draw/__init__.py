"""Painting functions that know only a QPainter: the same drawing for the window, a picture file and paper."""
