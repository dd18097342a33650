"""Where the mass went: the flow picture with its ledger, and the list of unused leftovers."""
