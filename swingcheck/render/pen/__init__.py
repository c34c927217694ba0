"""What every sheet draws with: ink, letters, panels, keys, the paper itself."""
