"""What was promised, billed, paid and spent: one ledger of events for each contract, and the state that follows from them."""
