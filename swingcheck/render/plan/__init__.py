"""The plan sheet: section, close-ups of the corners, and the same at true scale."""
