"""The window: widgets, item models, painting and printing with Qt."""
