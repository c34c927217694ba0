"""Curves and maps of many variants."""
