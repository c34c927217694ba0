"""What a standard asks of a door, one row each, where the scene asks for it under ``[site]``.

Every figure was read in secondary texts only, or is from memory where its row
says so. What the code of the place says goes before all of them.
"""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.files import table_rows
from swingcheck.model import Access, Scene
from swingcheck.model.hinge import hinge_count
from swingcheck.swing.decide import SLACK
from swingcheck.swing.found import Code, Found, Reason
from swingcheck.units import parsed_length

STEEL = ("hollow metal", "steel")

COUNTED = "hinges to spare"
"""What a rule reads that is no length."""


def broken_rules(found: Found) -> Iterator[Reason]:
    """Yield the rules that a checked door breaks, in the order of their rows."""
    asks, read = _asks(found.scene), _readings(found)
    for rule in RULES:
        value = read[rule["reads"]]
        if value is None or not asks[rule["asks"]]:
            continue
        source = f"{rule['source']}, read in secondary texts only"
        for end, under in (("least", 1), ("most", -1)):
            limit = parsed_length(rule[end]) if rule[end] else value
            if under * (limit - value) > SLACK:
                told = (None, None) if rule["reads"] == COUNTED else (value, limit)
                yield Reason(Code.RULE, told[0], told[1], source, rule["of"])


def _asks(scene: Scene) -> dict[str, bool]:
    """Return what rules may be asked for, and whether the scene asks for them."""
    slab, site = scene.slab, scene.site
    is_steel = any(words.casefold() in STEEL for words in (slab.construction, slab.material))
    return {
        "exit": site.exit,
        "fire": site.fire_rated,
        "fire wood": site.fire_rated and not is_steel,
        "fire steel": site.fire_rated and is_steel,
        **{f"access {each.value}": site.access is each for each in Access},
    }


def _readings(found: Found) -> dict[str, float | None]:
    """Return what rules read, inches, ``None`` where there is nothing to read."""
    scene, margins = found.scene, found.margins
    around = (*margins.hinge, *margins.strike, *margins.head)
    clear, count = found.clear_width, scene.hinge.count
    if clear is None and found.opened is not None:
        clear = found.opened.clear_width
    return {
        "clear width": clear,
        "clear height": min(scene.opening.height) - (scene.stop.projection if scene.stop else 0.0),
        "threshold": scene.threshold.height if scene.threshold else None,
        "handle": scene.lock.height if scene.lock else None,
        "widest margin": max(around),
        "least margin": min(around),
        "bottom": max(margins.bottom),
        COUNTED: float(count - hinge_count(max(scene.slab.height))) if count else None,
    }


RULES = table_rows(__package__, "rules")
"""What is asked of an exit, of a way for wheelchairs, and of a fire-rated opening.

A row says what the rule is ``of``, what ``asks`` for it, what it ``reads``, the limits and the
source. A length is in inches where no unit stands beside it.
"""
