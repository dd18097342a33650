"""The papers: the drawing of a spec card, its files, its preview."""
