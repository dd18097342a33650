"""The command line: every command works without a window."""
