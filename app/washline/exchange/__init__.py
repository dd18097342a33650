"""Files that a house takes in and hands on: the pantry, house files, build files. No database and no window."""
