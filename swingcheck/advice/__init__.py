"""What to do about a door: settings, windows, cures, bevels; each simulated as it is said."""
