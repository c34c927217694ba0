"""The live page: a scene served to a browser on this machine, with dials to turn."""

from swingcheck.live.server import server
from swingcheck.live.session import Session
