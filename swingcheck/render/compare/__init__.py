"""Two scenes side by side."""
