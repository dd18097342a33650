"""The house book at the left: its list, and the sheet of a raw ingredient."""
