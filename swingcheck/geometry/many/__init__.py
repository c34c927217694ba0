"""Many variants of one shape at once: what can meet in any of them, and what each meets first."""
