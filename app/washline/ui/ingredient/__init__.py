"""What the sheet of a raw ingredient shows besides plain fields, and the form that makes a new one from a label."""
