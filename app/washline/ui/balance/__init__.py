"""The balance pane: the radar, the readings with their strips, and what is contained."""
