"""What kinds of opening there are beside one slab on butt hinges, and what each cannot have."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from swingcheck.chance.values import in_file, length_setting
from swingcheck.model import Scene

_BY_HEIGHT = ("slab.height", "slab.top", "slab.head_margin")


def why_missing(scene: Scene, key: str) -> str:
    """Return why a scene of its kind does not have a free dimension; empty when it has."""
    if scene.pivot is not None and key.startswith("hinge."):
        return "the slab hangs on pivots"
    if scene.pivot is not None and key == "slab.thickness":
        return "the pivots stand by it"
    own_widths = (scene.hinge.jamb.width, scene.hinge.slab.width)
    if key == "hinge.open_width" and None not in own_widths:
        return "each leaf has a width of its own"
    if scene.lower is not None and key in _BY_HEIGHT:
        return "the lower slab hangs by it"
    return ""


def why_not_flat(scene: Scene) -> str:
    """Return what of how a slab hangs, or swings beside it, no plan shows; empty for nothing."""
    reasons = {
        "the slab hangs on pivots": scene.pivot is not None,
        "the hinges' leaves are not half the open width, or cranked": not scene.hinge.is_flat,
        "the slab rises as it opens": scene.hinge.rise != 0.0,
        "it is a pair": scene.inactive is not None,
        "it is a Dutch door": scene.lower is not None,
        "another opening's slab swings in the same room": bool(scene.neighbours),
    }
    return next((reason for reason, found in reasons.items() if found), "")


def following_paths(scene: Scene, paths: Sequence[str]) -> Iterator[str]:
    """Yield the other slab's measurements that a scene file leaves to follow from these."""
    left_out = {item.key for item in scene.assumed}
    ends = "lower.shelf.ends"
    if ends in left_out and "stop.projection" in paths:
        yield ends
    for table in ("inactive", "lower"):
        if getattr(scene, table) is None:
            continue
        for path in paths:
            key = f"{table}.{in_file(path).removesuffix('.bevel').split('[')[0]}"
            names = key.split(".")
            tables = {".".join(names[: k + 1]) for k in range(1, len(names))}
            if tables & left_out and not _is_round(scene, table, path):
                yield f"{table}.{path.split('[')[0]}"


def held_settings(after: Scene, paths: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield settings that hold a slab on pivots where it hangs though its stops are moved."""
    out = "pivot.jamb.out"
    if after.pivot is None or out not in {item.key for item in after.assumed}:
        return
    if any(path.startswith("opening.rabbet") for path in paths):
        texts = [f'"{length_setting(value, after.unit)}"' for value in after.pivot.out]
        yield out, f"[{', '.join(texts)}]"


def other_width(scene: Scene) -> float:
    """Return how much of the opening's width another slab takes, inches: a pair's inactive one."""
    return max(scene.inactive.slab.width) if scene.inactive else 0.0


def _is_round(scene: Scene, table: str, path: str) -> bool:
    if not path.endswith("_edge.bevel"):
        return False
    edge = getattr(getattr(scene, table).slab, path.split(".")[1])
    return bool(edge.is_round)
