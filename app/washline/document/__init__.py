"""The open document: the one mutable object. Commands, the order of an edit, history, twists; one notice per edit."""
