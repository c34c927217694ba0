"""The margins of the closed slab, drawn large."""
