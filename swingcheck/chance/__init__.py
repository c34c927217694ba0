"""Many variants of one scene at once: what may be changed, how far off it may be, what follows."""
