"""swingcheck: a 3D fit simulator for a door slab swinging past its stops."""

__version__ = "0.1.0"
