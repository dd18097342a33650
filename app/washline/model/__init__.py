"""What a house knows, as immutable values: items, builds and their steps, targets, the house book and its changes."""
