"""Bring to target: the engine run backwards, from the readings that a house wants to the amounts that give them."""
