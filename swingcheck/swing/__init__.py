"""The truth about one scene: contact in trade words, margins, clearances, what decides, verdict."""
