"""What swingcheck says of a turning scene, and that held against the collision library.

Stepping can miss a glance that is over within one step. Every disagreement must be that and
nothing else: the touch is then found by stepping finely about the exact angle, and a walk that
never turns farther than the distance left allows finds nothing before it.
"""

from __future__ import annotations

import numpy as np

from swingcheck.geometry.clearance import Nearest, least_distances_of
from swingcheck.geometry.contact import Contact, first_contact
from swingcheck.geometry.turning import turning_about
from tests.peers import Peer, TurningScene

STEP = np.radians(0.5)
CLOSE = 1e-9  # radians; both ways agree to 1e-12 on all but nearly grazing contacts


def contact_of(turning: TurningScene) -> Contact | None:
    """Return the first contact of a scene."""
    return first_contact(
        turning.moving,
        turning.fixed,
        point=turning.point,
        direction=turning.direction,
        start=turning.start,
        stop=turning.stop,
        rise=turning.rise,
    )


def least_of(turning: TurningScene, stop: float, start: float | None = None) -> list[Nearest]:
    """Return the least distance of every fixed part, from the scene's own start or another."""
    ready = turning_about(
        turning.moving,
        turning.fixed,
        point=turning.point,
        direction=turning.direction / np.linalg.norm(turning.direction),
        start=turning.start if start is None else start,
        rise=turning.rise,
    )
    return least_distances_of(ready, stop, range(len(turning.fixed)))


def check_against_stepping(turning: TurningScene, step: float = STEP) -> str:
    """Check a first contact; return ``none``, ``touch`` or ``glance`` (missed by the step)."""
    exact = contact_of(turning)
    peer = Peer(turning)
    bracket = peer.stepped(step)
    if exact is None:
        assert bracket is None, f"{turning.label}: stepping touches at {bracket}"
        return "none"
    if bracket is not None:
        late = turning.sense * (exact.angle - bracket.touching)
        assert late <= 0, f"{turning.label}: exact {exact.angle} comes after {bracket}"
        if turning.sense * (exact.angle - bracket.free) >= 0:
            bisected = peer.bisected(bracket).touching
            if abs(bisected - exact.angle) <= CLOSE:
                return "touch"
    _check_glance(turning, peer, exact.angle, step)
    return "glance"


def _check_glance(turning: TurningScene, peer: Peer, angle: float, step: float) -> None:
    """Check that parts do touch at an exact angle that stepping jumped over, and not before."""
    assert peer.distance(angle) <= 1e-9, f"{turning.label}: nothing touches at {angle}"
    fine = None
    for window in (step, step / 20, step / 400):
        first = angle - turning.sense * window
        if turning.sense * (first - turning.start) < 0:
            first = turning.start
        fine = peer.refined(first, angle + turning.sense * window)
        if fine is not None:
            break
    assert fine is not None, f"{turning.label}: no overlap about {angle}, however finely stepped"
    assert abs(fine.touching - angle) <= 1e-6, f"{turning.label}: {fine} for {angle}"
    check_nothing_before(turning, angle)


def check_nothing_before(turning: TurningScene, angle: float | None) -> None:
    """Check that the walk that passes nothing ends at a first contact, or meets nothing either."""
    certain = Peer(turning).advanced()
    if angle is None:
        assert certain is None, turning.label
        return
    assert certain is not None, turning.label
    assert turning.sense * (angle - certain) >= -1e-9, turning.label
    assert Peer(turning).distance(angle) <= 1e-9, turning.label
    assert abs(angle - certain) <= 1e-4, turning.label


def assert_least(near: Nearest, peer: Peer, angles: np.ndarray, accuracy: float) -> None:
    """Check a least clearance to its accuracy: nothing is nearer, and it is there."""
    least = min(peer.distance(float(angle)) for angle in angles)
    there = peer.distance(near.angle)
    assert near.distance <= least + accuracy
    assert near.distance - accuracy <= there <= near.distance + 1e-9
