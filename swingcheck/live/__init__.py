"""The live page: a scene served to a browser on this machine, with dials to turn."""

from swingcheck.live.bench import Bench
from swingcheck.live.server import server

__all__ = ["Bench", "server"]
