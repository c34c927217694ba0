"""Which way round an opening is shown.

The opening frame is right-handed, with the pull side toward +y and up +z: to
somebody on the pull side, +x points to the left, and the hinge leg at x = 0
stands on the right. An opening with its hinges on the left, seen from the pull
side, is its mirror image in x. Numbers are the same for both; meshes and
pictures pass through here as they leave.
"""

from __future__ import annotations

from swingcheck.geometry.solid import Solid
from swingcheck.model import Scene


def is_mirrored(scene: Scene) -> bool:
    """Return whether the opening as built is the mirror image in x of the opening frame."""
    return scene.hinges_on == "left"


def as_hung(scene: Scene, solid: Solid) -> Solid:
    """Return a solid of the opening frame on the hand that the scene's hinges are on."""
    return solid.mirrored_in_x() if is_mirrored(scene) else solid
