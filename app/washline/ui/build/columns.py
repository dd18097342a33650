"""The columns of the build tree: their order, headings and definitions."""

NAME, AMOUNT, UNIT, MASS, SUGARS, ACIDS, ETHANOL, COST = range(8)
COLUMN_COUNT = 8
FIRST_FIGURE = MASS

ROWS_MIME = "application/x-washline-steps+json"

HEADS = ("Build", "Amount", "", "g in glass", "sugars, g", "acids, g", "ethanol, g", "cost")
IN_BOTTLE = "g in bottle"
"""The heading of the grams where the build is a house-made part."""

HEAD_TIPS = (
    "What goes into the vessel and what happens to it, in order",
    "How much of it, as typed",
    "",
    "Grams of this line in the glass. Computed from full precision: a rounded column may not add up by 1 in the last digit",
    "Grams of sugars that this line brings to the glass",
    "Grams of acids that this line brings to the glass",
    "Grams of pure alcohol that this line brings to the glass",
    "What this line costs, in the house's currency",
)
FIGURE_WORDS = ("grams in the glass", "grams of sugars", "grams of acids", "grams of ethanol", "cost")
