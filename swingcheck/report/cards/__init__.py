"""Cards for the bench: one page a door, in cutting order; and templates at true scale."""
