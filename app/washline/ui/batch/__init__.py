"""A drink made ahead: the weigh-out and what to know about it."""
