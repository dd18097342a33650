"""A version of a drink without what brings its alcohol, made in one step."""
