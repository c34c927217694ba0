"""``[lock]``: a bored lock, its deadbolt, its knob or lever."""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.model import Deadbolt, Face, Handle, Lock, Scene, Slab, hung_top
from swingcheck.scenefile.broken import SLACK_IN, Broken, beyond
from swingcheck.scenefile.filling import Filling, Taken
from swingcheck.scenefile.spec import NONE, Table, from_0, one_of, over_0, word
from swingcheck.units import length_text

# The bored lock's usual preparation: 2-1/8 in bore, 2-3/8 in backset, 1 in edge
# bore, face 1 x 2-1/4 in (ALOA dictionary, "160 prep").
_BORED = {
    "backset": over_0(48.0, usual=2.375),
    "bore": over_0(12.0, usual=2.125),
    "edge_bore": over_0(12.0, usual=1.0),
    "face_length": over_0(48.0, usual=2.25),
    "face_width": over_0(12.0, usual=1.0),
    "face_depth": from_0(3.0, usual=1 / 8),
}
_LEVER_LENGTH_IN, _LEVER_IN, _KNOB_IN = 4.5, 3 / 4, 2.125

TABLE = Table(
    keys={
        "height": over_0(usual=36.0),
        **_BORED,
        "throw": from_0(6.0, usual=1 / 2),
        "deadbolt": Table(
            keys={
                "above": over_0(48.0, usual=5.5, why="usual over a bored lock"),
                **_BORED,
                "throw": from_0(6.0, usual=1.0, why="usual for a deadbolt"),
            },
            words=NONE,
        ),
        "handle": Table(
            keys={
                "kind": word("knob", "lever", usual="knob", why="usual for a bored lock"),
                "face": one_of(Face, usual="both", why="one on each face"),
                "projection": over_0(12.0, usual=2.5),
                "diameter": over_0(12.0),
                "length": over_0(24.0),
                "rose": over_0(12.0, usual=2.5),
            },
            words=NONE,
        ),
    },
    words=NONE,
    why="usual for a bored lock",
    ask="A bored lock. Backset: strike edge to the centre of the bore; height: finished floor to\n"
    "the centre of the bore; bores by their diameters; the face is the latch's plate.",
    sample={},
)


def read(filling: Filling, slab: Slab) -> Lock | None:
    """Return the lock, or None where there is none."""
    if not filling.has_table("lock"):
        return None
    same: Taken = {
        name: (filling.number(f"lock.{name}"), "as for the lock below it") for name in _BORED
    }
    return filling.made(
        "lock",
        Lock,
        deadbolt=filling.made("lock.deadbolt", Deadbolt, same),
        handle=_handle(filling, slab),
    )


def _handle(filling: Filling, slab: Slab) -> Handle | None:
    """Return the knob or lever, or None."""
    path = "lock.handle"
    if not filling.has_table(path):
        return None
    room = min(slab.width) - filling.number("lock.backset")
    why, sizes = "usual knob", {"diameter": _KNOB_IN}
    if filling.words(f"{path}.kind") == "lever":
        why = "usual lever"
        sizes = {"diameter": _LEVER_IN, "length": min(_LEVER_LENGTH_IN, max(room / 2, 1.0))}
    sizes |= {name: filling.usual_of(f"{path}.{name}")[0] for name in ("projection", "rose")}
    usual: Taken = {name: (value, why) for name, value in sizes.items()}
    found = filling.all_of(path, usual)
    if found.pop("kind") == "knob":
        found["length"] = 0.0
    return Handle(**found)


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of the lock, its deadbolt and its handle."""
    lock, slab = scene.lock, scene.slab
    if lock is None:
        return
    yield from _bored(scene, "lock", lock)
    yield from _height(scene, "lock.height", lock, lock.height, 0.0)
    if (bolt := lock.deadbolt) is not None:
        path, words = "lock.deadbolt", "above {}, so that it is clear of the lock"
        yield from _bored(scene, path, bolt)
        yield from _height(scene, f"{path}.above", bolt, lock.height + bolt.above, lock.height)
        sizes = ("bore", "edge_bore", "face_length")
        apart = max((getattr(bolt, name) + getattr(lock, name)) / 2 for name in sizes)
        yield from beyond(scene, f"{path}.above", ">", apart, words, "lock.bore", f"{path}.bore")
    room, words = min(slab.width) - lock.backset, "under what is left to the hinge edge, {}"
    held = ("<", room, words, "slab.width", "lock.backset")
    yield from beyond(scene, "lock.handle.length", *held)


def _bored(scene: Scene, path: str, bored: Lock | Deadbolt) -> Iterator[Broken]:
    """Yield what does not fit across the slab or into its edge."""
    slab, half = scene.slab, bored.bore / 2

    def held(name: str, must: str, limit: float, words: str, *others: str) -> Iterator[Broken]:
        follows = f"lock.{name}"
        return beyond(scene, f"{path}.{name}", must, limit, words, *others, follows=follows)

    bore, backset = f"{path}.bore", f"{path}.backset"
    too_near = list(held("backset", ">", half, "above half the bore, {}", bore))
    wood = "under the wood before the bore, {}"
    yield from too_near or held("face_depth", "<", bored.backset - half, wood, backset, bore)
    within = "under {}, so that the bore stays within the slab"
    yield from held("backset", "<", min(slab.width) - half, within, "slab.width", bore)
    for name in ("edge_bore", "face_width"):
        under = "under the slab's thickness, {}"
        yield from held(name, "<", slab.thickness, under, "slab.thickness")


def _height(
    scene: Scene, key: str, bored: Lock | Deadbolt, height: float, below: float
) -> Iterator[Broken]:
    """Yield a height at which the bores run out of the slab; ``below`` is taken off in words."""
    slab, unit = scene.slab, scene.unit
    bottom = hung_top(scene.opening, slab) - slab.height[0]
    half = max(bored.bore, bored.face_length, bored.edge_bore) / 2
    low, high = bottom + half, bottom + min(slab.height) - half
    if low - SLACK_IN <= height <= high + SLACK_IN:
        return
    over = "the lock" if below else "the floor"
    expected = (
        f"between {length_text(max(low - below, 0.0), unit)} and"
        f" {length_text(high - below, unit)} over {over}, so that it stays within the slab"
    )
    yield Broken(
        key=key,
        value=length_text(height - below, unit),
        expected="in a higher slab: there is no room for it" if low > high else expected,
        others=("opening.height", "slab.height"),
        follows="lock.height",
    )
