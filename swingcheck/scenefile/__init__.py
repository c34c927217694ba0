"""From a TOML scene file to a scene, with every fault at once; and a starter to fill in.

What the other rooms use is named here. A table of the file has one home,
``tables/<table>.py``; ``registry.py`` puts them in order.
"""

from swingcheck.scenefile.broken import Broken
from swingcheck.scenefile.reading import read_scene
from swingcheck.scenefile.registry import NAMES, broken_limits
from swingcheck.scenefile.saved import saved_text
from swingcheck.scenefile.source import refused, scene_text, source_bytes, source_name
from swingcheck.scenefile.spec import Key, Kind, Table
