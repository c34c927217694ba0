"""A film's moments: they end at the contact, exactly, and slow down on the way there."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from swingcheck.errors import RenderError
from swingcheck.model import Obstacle
from swingcheck.render.film.stage import BACK, HOLD, film_way, moments
from swingcheck.swing.check import check
from tests.factory import plain_scene
from tests.pictures import shown

CHEST = Obstacle(name="chest", corner=(-4.0, 14.0, 0.5), size=(14.0, 10.0, 30.0))


def test_way_is_to_the_contact_at_the_rate_that_is_asked_and_none_where_it_is_blocked() -> None:
    assert film_way(shown(plain_scene())) == (plain_scene().swing.start, 0.0)
    scene = plain_scene(hinge__jamb__setbacks=(0.2,) * 3)
    pinching = check(scene)
    assert pinching.closing is not None
    assert film_way(shown(scene)) == (radians(90.0), pinching.closing.angle)
    scene = plain_scene(obstacles=(CHEST,), swing__start=radians(20.0))
    fouling = check(scene)
    assert fouling.opening is not None
    assert fouling.opening.against == "chest"
    assert film_way(shown(scene)) == (0.0, fouling.opening.angle)
    blocked = shown(plain_scene(obstacles=(CHEST,)))
    assert blocked.pose.overlaps
    with pytest.raises(RenderError, match="chest"):
        film_way(blocked)
    few, many = (moments(1.5, 0.1, seconds=2.0, rate=rate) for rate in (5, 20))
    assert len(many) > 3 * len(few)
    plain = [m.seconds for m in many if m.seconds != HOLD]
    assert set(plain) == {1 / 20}
    assert replace(few[0], seconds=0.05) == many[0]


@pytest.mark.parametrize(("begin", "end"), [(1.57, 0.12), (0.0, 1.2), (1.57, 0.0)])
def test_moments_slow_to_the_end_and_come_back(begin: float, end: float) -> None:
    film = moments(begin, end, seconds=5.0, rate=12)
    held = max(range(len(film)), key=lambda k: film[k].seconds)
    assert film[held].angle == end
    assert film[held].seconds == HOLD
    assert sum(moment.angle == end for moment in film) == 1
    there = np.array([moment.angle for moment in film[: held + 1]])
    assert there[0] == pytest.approx(begin)
    steps = np.abs(np.diff(there))
    assert (np.diff(steps) < 0).all()
    assert steps[0] > 20 * steps[-1]
    assert len(there) == 61
    back = [moment.angle for moment in film[held:]]
    assert (np.diff(back) * (begin - end) > 0).all()
    total = sum(moment.seconds for moment in film)
    assert total == pytest.approx(5.0 + HOLD + 5.0 * BACK, abs=0.2)
