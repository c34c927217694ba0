"""The two corners on a card: what they show, and that no word covers another."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from swingcheck.assembly import assemble
from swingcheck.library.files import closeups
from swingcheck.palette import CASING, JAMB, METAL, SLAB, STOP
from swingcheck.render.plan.corners import CARD_HEIGHT, CARD_PIXELS, CARD_WIDTH, pair_figure
from swingcheck.scenefile import read_scene
from tests.factory import CASING as TRIM
from tests.factory import bevel, linen_closet, plain_scene, rounded
from tests.pictures import TIGHT, misplaced, painted, pixels
from tests.scene_files import SCENES

HUNG = [path for path in sorted(SCENES.glob("*.toml")) if read_scene(path).hinge.count]
"""The invented openings with hinges; a slab on pivots has no card."""


def test_it_has_the_parts_of_both_corners_its_size_and_equal_bytes() -> None:
    picture = pixels(pair_figure(assemble(plain_scene(casing=TRIM))), CARD_PIXELS)
    assert picture.shape[:2] == (int(CARD_PIXELS * CARD_HEIGHT / CARD_WIDTH), CARD_PIXELS)
    half = picture.shape[1] / 2
    for part in (SLAB, JAMB, STOP, CASING):
        across = painted(picture, part.fill)[:, 1]
        assert (across < half).any() and (across > half).any(), part.label
    first, again = (closeups(plain_scene()) for _ in range(2))
    assert first == again


@pytest.mark.parametrize("hand", ["left", "right"])
def test_the_hinges_are_on_their_own_side(hand: str) -> None:
    picture = pixels(pair_figure(assemble(plain_scene(hinges_on=hand))), CARD_PIXELS)
    across = painted(picture, METAL.fill)[:, 1]
    assert len(across) > 500
    assert (np.median(across) < CARD_PIXELS / 2) == (hand == "left")


@pytest.mark.parametrize("path", HUNG, ids=lambda path: path.stem)
def test_no_word_covers_another_in_the_invented_house(path: Path) -> None:
    assert misplaced(pair_figure(assemble(read_scene(path)))) == []


@pytest.mark.parametrize(
    "changes",
    [
        {"slab__thickness": 0.75, "opening__rabbet__hinge": (0.8125,)},
        {"slab__thickness": 2.25, "opening__depth": 6.0},
        {"slab__strike_edge": rounded(3.0)},
        {"slab__hinge_edge": bevel(0.0), "stop": None},
        {"unit": "mm", "casing": TRIM},
        {"unit": "mm", **TIGHT},
        {"stop__projection": 0.75, "stop__width": 2.0},
        {"hinge__open_width": 6.0, "hinge__barrel": 0.7},
        TIGHT,
    ],
    ids=lambda changes: ",".join(changes),
)
def test_no_word_covers_another_in_other_doors(changes: dict[str, object]) -> None:
    assert misplaced(pair_figure(assemble(linen_closet(**changes)))) == []
