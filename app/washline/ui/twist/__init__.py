"""A twist beside its parent: line by line, reading by reading, and as two shapes."""
