"""What a check says: text, JSON, page."""
