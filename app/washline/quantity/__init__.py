"""Numbers, units and amounts as people type and read them."""
