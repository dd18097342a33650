"""The build sheet: the tree of a drink, edited in place."""
