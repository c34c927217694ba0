"""The swing as a short film."""
