"""Bench arithmetic: weight, ripping, layout."""
