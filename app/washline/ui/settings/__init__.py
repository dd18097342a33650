"""The settings: how this house counts, and how this window looks."""
