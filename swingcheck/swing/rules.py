"""What a standard asks of a door, one row each, where the scene asks for it under ``[site]``.

Every figure was read in secondary texts only, or is from memory where its row
says so. What the code of the place says goes before all of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from swingcheck.model import Access, Scene
from swingcheck.model.hinge import hinge_count
from swingcheck.swing.decide import SLACK
from swingcheck.swing.found import Code, Found, Margins, Reason

STEEL = ("hollow metal", "steel")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One row: what it is ``of``, what ``asks`` for it, how it is read, and the limits.

    ``read`` is ``None`` where there is nothing to read; ``is_length`` tells inches from a count.
    """

    of: str
    asks: Callable[[Scene], bool]
    read: Callable[[Found], float | None]
    source: str
    least: float = 0.0
    most: float = float("inf")
    is_length: bool = True


def broken_rules(found: Found) -> Iterator[Reason]:
    """Yield the rules that a checked door breaks."""
    for rule in RULES:
        read = rule.read(found) if rule.asks(found.scene) else None
        if read is None or rule.least - SLACK <= read <= rule.most + SLACK:
            continue
        limit = rule.least if read < rule.least else rule.most
        if rule.is_length:
            yield Reason(Code.RULE, read, limit, rule.source, rule.of)
        else:
            yield Reason(Code.RULE, None, None, rule.source, rule.of)


def _around(margins: Margins) -> tuple[float, ...]:
    return (*margins.hinge, *margins.strike, *margins.head)


def _clear_width(found: Found) -> float | None:
    if found.clear_width is None and found.opened is not None:
        return found.opened.clear_width
    return found.clear_width


def _clear_height(found: Found) -> float:
    stop = found.scene.stop
    return min(found.scene.opening.height) - (stop.projection if stop else 0.0)


def _threshold(found: Found) -> float | None:
    return None if found.scene.threshold is None else found.scene.threshold.height


def _handle(found: Found) -> float | None:
    return None if found.scene.lock is None else found.scene.lock.height


def _fire(scene: Scene) -> bool:
    return scene.site.fire_rated


def _fire_of(*, steel: bool) -> Callable[[Scene], bool]:
    return lambda scene: _fire(scene) and _is_steel(scene) is steel


def _is_steel(scene: Scene) -> bool:
    slab = scene.slab
    return any(words.casefold() in STEEL for words in (slab.construction, slab.material))


def _hinges_to_spare(found: Found) -> float | None:
    count = found.scene.hinge.count
    return None if not count else float(count - hinge_count(max(found.scene.slab.height)))


_SECOND_HAND = "read in secondary texts only"
_EDGES = f"NFPA 80, 6.3.1.7.1, {_SECOND_HAND}"

RULES = (
    Rule(
        of="clear width",
        asks=lambda scene: scene.site.exit,
        read=_clear_width,
        source=f"IBC 1010.1.1 and IRC R311.2, {_SECOND_HAND}",
        least=32.0,
    ),
    Rule(
        of="clear height",
        asks=lambda scene: scene.site.exit,
        read=_clear_height,
        source=f"IRC R311.2, {_SECOND_HAND}",
        least=78.0,
    ),
    Rule(
        of="clear width",
        asks=lambda scene: scene.site.access is Access.US,
        read=_clear_width,
        source=f"ADA 404.2.3, {_SECOND_HAND}",
        least=32.0,
    ),
    Rule(
        of="clear width",
        asks=lambda scene: scene.site.access is Access.UK,
        read=_clear_width,
        source=f"Approved Document M, dwellings, met head-on from 900 mm, {_SECOND_HAND}",
        least=750 / 25.4,
    ),
    Rule(
        of="threshold",
        asks=lambda scene: scene.site.access is Access.US,
        read=_threshold,
        source=f"ADA 404.2.5, {_SECOND_HAND}",
        most=1 / 2,
    ),
    Rule(
        of="handle over the floor",
        asks=lambda scene: scene.site.access is Access.US,
        read=_handle,
        source=f"ADA 404.2.7, {_SECOND_HAND}",
        least=34.0,
        most=48.0,
    ),
    Rule(
        of="widest margin",
        asks=_fire_of(steel=False),
        read=lambda found: max(_around(found.margins)),
        source=_EDGES,
        most=1 / 8,
    ),
    Rule(
        of="widest margin",
        asks=_fire_of(steel=True),
        read=lambda found: max(_around(found.margins)),
        source=_EDGES,
        most=3 / 16,
    ),
    Rule(
        of="least margin",
        asks=_fire_of(steel=True),
        read=lambda found: min(_around(found.margins)),
        source=_EDGES,
        least=1 / 16,
    ),
    Rule(
        of="bottom",
        asks=_fire,
        read=lambda found: max(found.margins.bottom),
        source=f"NFPA 80, 4.8.4, {_SECOND_HAND}",
        most=3 / 4,
    ),
    Rule(
        of="fewer hinges than its height asks for",
        asks=_fire,
        read=_hinges_to_spare,
        source=f"NFPA 80, 1968, {_SECOND_HAND}",
        is_length=False,
    ),
)
"""What is asked of an exit, of a way for wheelchairs, and of a fire-rated opening."""
