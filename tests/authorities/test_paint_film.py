"""What paint takes off a margin against published film thicknesses.

Sources, and how each was reached:

- MIL-HDBK-1110 (UFC 3-190-06), section 4.4.1.2, waterborne system on wood: a
  primer of 1.5 mils dry and one or two top coats of 1.5 mils dry each. Read.
- Loss of a margin painted on both its faces, three coats: 0.009 in, and 0.018
  in over both sides. Derived from it.
- Ira S. Griffith, Carpentry (1916, public domain), section 67: allow "a scant
  1/16" at top and each side for paint or varnish. Read; it covers swelling too.
- Clear lacquer: about 1 mil dry a coat, 3 to 4 mils in all. Read informally.
"""

from __future__ import annotations

import pytest

from swingcheck.bench.door import bench_numbers
from swingcheck.bench.ripping import ripping
from swingcheck.bench.season import season_margins
from swingcheck.model import Finish
from swingcheck.scenefile import read_scene
from tests.factory import plain_scene

MIL = 0.001


def test_three_coats_on_both_faces() -> None:
    scene = plain_scene(
        finish=Finish(slab=3, jamb=3, film=1.5 * MIL), slab__construction="hollow metal"
    )
    bare = ripping(scene)
    painted = season_margins(scene, bare.margins)
    assert painted.film == pytest.approx(0.009)
    month = painted.months[0]
    both = sum(
        before - after
        for before, after in zip(
            (bare.margins.hinge[1], bare.margins.strike[1]),
            (month.hinge[1], month.strike[1]),
            strict=True,
        )
    )
    assert both == pytest.approx(0.018)


def test_film_is_the_handbooks_where_nothing_is_said_and_lacquers_in_a_bare_jamb() -> None:
    assert Finish().film == pytest.approx(1.5 * MIL)
    # A primer and one of its one or two top coats.
    assert 2 <= Finish().slab <= 3
    assert read_scene("[opening]\nwidth = 30\nheight = 80\n[finish]\n").finish == Finish()
    # Four coats of 1 mil on one face only.
    scene = plain_scene(finish=Finish(slab=4, jamb=0, film=1 * MIL))
    assert bench_numbers(scene).season.film == pytest.approx(4 * MIL)


@pytest.mark.parametrize("coats", [2, 3])
def test_griffiths_allowance_covers_the_paint_and_more(coats: int) -> None:
    film = bench_numbers(
        plain_scene(finish=Finish(slab=coats, jamb=coats, film=1.5 * MIL))
    ).season.film
    assert film < 1 / 16 / 5
