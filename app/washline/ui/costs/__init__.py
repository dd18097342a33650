"""The costs of drinks and parts in two tables."""
