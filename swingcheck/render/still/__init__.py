"""The slab in its opening in 3D; the only place that needs GL."""
