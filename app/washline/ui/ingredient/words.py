"""Words that the sheet of a raw ingredient and the form for a new one share."""

READ_THE_LABEL = "unknown: nobody has read the label"
