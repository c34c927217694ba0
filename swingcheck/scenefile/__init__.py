"""From a TOML scene file to a scene, with every fault at once; and a starter to fill in."""

from swingcheck.scenefile.reading import read_scene
from swingcheck.scenefile.starter import starter_scene

__all__ = ["read_scene", "starter_scene"]
