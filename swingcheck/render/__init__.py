"""Pictures: the only home of pyvista and matplotlib."""
