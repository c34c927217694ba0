"""Whatever the verdict speaks of is what a picture shows: posed, on the part said, and said."""

from __future__ import annotations

import numpy as np
import pytest

from swingcheck.geometry.booleans import gap_between
from swingcheck.render.chart.draw import contact_sentences
from swingcheck.render.film.stage import film_way
from swingcheck.render.pen.panel import Box
from swingcheck.render.pen.section import cut_height, plan_cut, turned_parts
from swingcheck.render.pen.subject import Pose
from swingcheck.render.pen.words import contact_words, moment_words
from swingcheck.render.plan.corners import corners_of
from swingcheck.render.plan.measures import strike_corner
from swingcheck.render.plan.sheet import swing_arc
from swingcheck.swing.found import Verdict, Way
from tests.pictures import HOUSE, PAIR, charted, found, subject

MADE = (
    "inactive slab",
    "inactive slab, right",
    "lower slab",
    "push side blocked",
    "push side fouls",
)
SHIPPED = sorted(path.stem for path in HOUSE.glob("*.toml"))


@pytest.mark.parametrize("name", [*SHIPPED, *MADE])
def test_the_posed_slab_touches_what_it_is_said_to_where_the_ring_is(name: str) -> None:
    asked, decided = subject(name), found(name).decided
    pose = asked.pose
    if decided.verdict is Verdict.SWINGS:
        assert pose.seated or (pose.at is None and not pose.against)
        return
    assert pose.at is not None
    facing = [part.solid for part in asked.assembly.fixed if part.name in pose.against]
    assert facing
    posed = turned_parts(asked.assembly.axis, asked.assembly.moving, pose.angle)
    gaps = [gap_between(part.solid, solid, within=1.0) for part in posed for solid in facing]
    assert min(gaps) < 1e-4
    for solids in ([part.solid for part in posed], facing):
        near = [np.clip(pose.at, *solid.bounds) - pose.at for solid in solids]
        assert min(np.linalg.norm(each) for each in near) < 1e-3
    assert (pose.angle < 0) == decided.push
    if decided.way is not Way.TOGETHER:
        assert asked.slab == decided.slab
        if decided.touch is not None:
            assert pose.angle == decided.touch.angle
            assert pose.against == (decided.touch.against,)
        else:
            assert abs(pose.angle) == asked.assembly.scene.swing.start
            assert set(pose.overlaps) <= set(decided.blocked_by)
    words = contact_words(asked, cut_height(asked.assembly, pose))
    assert all(part.removeprefix("the ") in words for part in pose.against)
    assert ("overlaps" in words) == bool(pose.overlaps)
    assert asked.slab in words


@pytest.mark.parametrize("name", MADE)
def test_a_chart_ends_at_what_decides(name: str) -> None:
    asked, data = subject(name), charted(name)
    assert data.push == (asked.pose.angle < 0)
    sentences, angle = contact_sentences(data)
    assert asked.pose.against[0].removeprefix("the ") in sentences[0]
    if asked.pose.touch is not None:
        assert angle == abs(asked.pose.angle)
        assert angle in data.reached
        (line,) = [line for line in data.lines if line.touches]
        assert np.interp(angle, data.angles, line.distances) == 0.0
        beside = [np.interp(angle * k, data.angles, line.distances) for k in (0.99, 1.01)]
        assert max(beside) < 0.6  # it comes near on the way, on the side that is shown


def test_a_film_runs_to_the_side_that_decides() -> None:
    begin, end = film_way(subject("push side fouls"))
    assert begin == 0.0 and end == subject("push side fouls").pose.angle < 0
    for name in ("inactive slab", "lower slab"):
        begin, end = film_way(subject(name))
        assert begin == subject(name).assembly.scene.swing.start > end > 0
    begin, end = film_way(subject("upper_hall"))
    assert begin == 0.0 < end


def test_another_slab_and_the_push_side_are_drawn_where_they_stand() -> None:
    asked = subject("push side fouls")
    assert asked.pose.at is not None and asked.pose.at[1] < 0
    cut = plan_cut(asked, asked.pose, cut_height(asked.assembly, asked.pose))
    (slab,) = [part for part in cut.moving if part.kind.value == "slab"]
    assert slab.outlines[0][:, 1].min() < -10
    window = Box(x=0.0, y=0.0, width=4.0, height=4.0)
    arc = swing_arc(corners_of(asked, window)).arc
    assert arc[-1, 1] > arc[0, 1] + 10  # up the page: the push side
    assert "to the push side" in moment_words(asked)
    asked = subject("inactive slab")
    assert asked.assembly.scene.hinges_on != PAIR.hinges_on
    assert asked.assembly.axis.direction[2] > 0
    first = strike_corner(asked.assembly, Pose(angle=0.0), 40.0)
    opened = strike_corner(asked.assembly, Pose(angle=0.5), 40.0)
    assert opened.wide_arris[1] > first.wide_arris[1] + 5
    assert [part.name for part in asked.ghosts] == ["slab"]
    assert moment_words(asked).startswith("The inactive slab drawn at first contact")
    asked = subject("upper_hall")
    (other,) = found("upper_hall").others
    assert asked.turned is not None
    assert any(foul.low <= asked.turned <= foul.high for foul in other.together.fouls)
    words = moment_words(asked)
    assert "study's slab" in words and words.endswith(" open")
