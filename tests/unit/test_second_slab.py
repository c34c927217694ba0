"""Further slabs: where they stand, how they swing alone, against this one and together with it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import atan2, hypot, pi, radians

import numpy as np
import pytest

from swingcheck.assembly import Assembly, Other, PartKind, assemble
from swingcheck.assembly.hulls import slab_hulls
from swingcheck.geometry.booleans import shared_volume
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.two_turns import overlap
from swingcheck.model import (
    Astragal,
    Face,
    Inactive,
    Leg,
    Lip,
    Lower,
    MeetingRebate,
    Neighbour,
    Relation,
    Scene,
    Shelf,
    inactive_scene,
    seen_from_strike,
    station_value,
)
from swingcheck.swing.check import check
from swingcheck.swing.found import Found, Order, OtherFound, Verdict
from swingcheck.swing.kept_parts import Variants
from tests.factory import changed, plain_scene, square_scene
from tests.peers import Peer, TurningScene
from tests.unusual import assembled, random_kind

WIDTH, T = 29.875, 1.375


def pair_scene(gap: float = 0.1875, **changes: object) -> Scene:
    """Return a pair of slabs alike; at gap 1/16 + 1/16 at the hinges is between the legs too."""
    scene = square_scene(opening__width=(2 * WIDTH + 0.125 + gap,))
    return changed(scene, inactive=Inactive(slab=scene.slab, hinge=scene.hinge), **changes)


def dutch_scene(gap: float = 0.125, **changes: object) -> Scene:
    upper = plain_scene(
        slab__height=(39.0, 39.0),
        hinge__jamb__tops=(5.0, 30.0),
        hinge__slab__tops=(4.875, 29.875),
        hinge__jamb__setbacks=(0.3125,) * 2,
        hinge__slab__setbacks=(0.25,) * 2,
        hinge__jamb__depths=(0.097,) * 2,
        hinge__slab__depths=(0.097,) * 2,
    )
    shelf = Shelf(thickness=0.75, pull=1.0, push=0.5, ends=0.75)
    down = 0.125 + 39.0 + gap + 0.75
    slab = replace(upper.slab, height=(39.5, 39.5), head_margin=down)
    jamb = replace(upper.hinge.jamb, tops=tuple(top + down for top in upper.hinge.slab.tops))
    lower = Lower(slab=slab, hinge=replace(upper.hinge, jamb=jamb), gap=gap, shelf=shelf)
    return changed(upper, lower=lower, **changes)


def neighbour_scene(across: float, out: float, turn: float, hand: str = "left") -> Scene:
    other = square_scene(title="Bath", hinges_on=hand)
    place = {"across": across, "out": out, "turn": radians(turn)}
    return square_scene(neighbours=(Neighbour(name="bath", scene=other, **place),))


def other_of(scene: Scene) -> Other:
    return assemble(scene).others[0]


def turning_past(other: Assembly, fixed: tuple[Solid, ...]) -> TurningScene:
    """Return another slab's turn past solids that stand still."""
    return TurningScene(
        label=other.scene.title,
        moving=tuple(part.solid for part in other.moving),
        fixed=fixed,
        point=other.axis.point,
        direction=other.axis.direction,
        start=0.0,
        stop=pi,
        rise=other.axis.rise,
    )


def found_of(result: Found) -> OtherFound:
    assert len(result.others) == 1
    return result.others[0]


@cache
def checked(gap: float) -> Found:
    return check(pair_scene(gap))


@pytest.mark.parametrize("angle", [0.0, 0.3, 2.5])
def test_both_slabs_open_to_the_pull_side(angle: float) -> None:
    """The inactive slab turned is the mirror image of the active one turned."""
    assembly = assemble(pair_scene())
    other = assembly.others[0].assembly
    mirror = 2 * WIDTH + 0.125 + 0.1875
    mine = assembly.axis.turned(assembly.moving[0].solid, angle).bounds
    its = other.axis.turned(other.moving[0].solid, angle).bounds
    assert its[:, 1:] == pytest.approx(mine[:, 1:], abs=1e-9)
    assert its[:, 0] == pytest.approx(mirror - mine[::-1, 0], abs=1e-9)


def test_an_inactive_slab_rises_and_fails_as_a_single_one_does() -> None:
    scene = changed(pair_scene(), inactive__hinge__rise=0.5)
    other = other_of(scene).assembly
    closed = other.moving[0].solid
    lifted = other.axis.turned(closed, pi / 2).bounds[:, 2] - closed.bounds[:, 2]
    assert lifted == pytest.approx([0.5, 0.5], abs=1e-12)
    # A fault of the inactive slab alone is that of a single slab with it.
    fault = (0.22, 0.22, 0.22)
    pair = changed(pair_scene(), inactive__hinge__jamb__setbacks=fault)
    own, _ = inactive_scene(pair)
    single = check(own)
    other = found_of(check(pair))
    assert single.closing is not None
    assert other.closing is not None
    assert other.closing.angle == pytest.approx(single.closing.angle, abs=1e-9)
    assert other.verdict is single.verdict


def test_an_opening_seen_from_its_strike_leg_and_back() -> None:
    scene = plain_scene(
        opening__width=(60.0, 60.125, 60.0),
        opening__height=(80.5, 80.5),
        opening__hinge_leg=Leg(plumb=(0.0, 0.125), cross=(0.0, 0.0625), twist=(0.01,)),
    )
    seen, mirror = seen_from_strike(scene.opening)
    for share in (0.0, 0.25, 0.5, 0.8, 1.0):
        hinge = station_value(scene.opening.hinge_leg.plumb, share)
        strike = hinge + station_value(scene.opening.width, share)
        assert mirror - station_value(seen.hinge_leg.plumb, share) == pytest.approx(strike)
        strike_seen = seen.width[0] - station_value(seen.strike_leg.plumb, share)
        assert mirror - strike_seen == pytest.approx(hinge)
    again, _ = seen_from_strike(seen)
    assert again.rabbet == scene.opening.rabbet
    assert again.hinge_leg.twist == scene.opening.hinge_leg.twist


@pytest.mark.parametrize("gap", [0.0625, 0.125, 0.1875])
def test_the_margin_of_a_pair_is_between_its_slabs(gap: float) -> None:
    margins = checked(gap).margins
    assert margins.strike == pytest.approx((gap,) * 3, abs=1e-9)
    assert margins.strike_stop is None


@pytest.mark.parametrize("gap", [0.02, 0.04, 0.06])
def test_the_active_slab_strikes_the_inactive_one_as_it_would_a_leg(gap: float) -> None:
    """Its wide-face arris stands where a strike leg's would, flush: the contact is the same."""
    pair = checked(gap)
    single = check(square_scene(opening__width=(WIDTH + 0.0625 + gap,)))
    assert single.verdict is pair.verdict is Verdict.STRIKES
    assert single.closing is not None
    assert pair.closing is not None
    assert pair.closing.against_kind is PartKind.INACTIVE
    assert pair.closing.angle == pytest.approx(single.closing.angle, abs=1e-9)


def test_slabs_alike_do_alike_and_come_nearest_at_their_arrises_widest() -> None:
    result = checked(0.1875)
    other = found_of(result)
    assert other.verdict is result.verdict is Verdict.SWINGS
    assert other.order is Order.EITHER
    assert other.held is None
    # Each arris sweeps ``hypot(L, T + a)``, ``L`` from its pin; the pins are 1/32 in off.
    together = found_of(checked(0.1875)).together
    along, deep = WIDTH + 1 / 32, T + 0.625
    between = 2 * WIDTH + 0.125 + 0.1875 - 2 * (1 / 32)
    assert together.least == pytest.approx(between - 2 * hypot(along, deep), abs=1e-3)
    assert together.certain <= between - 2 * hypot(along, deep) + 1e-9
    assert together.angles == pytest.approx((atan2(deep, along),) * 2, abs=0.02)


def test_a_pair_too_close_says_at_which_angles() -> None:
    """Every span of angles that is told overlaps in its middle and is clear beyond its ends."""
    scene = pair_scene(0.08)
    assembly = assemble(scene)
    together = found_of(checked(0.08)).together
    assert together.least == 0.0
    assert together.fouls
    own = assembly.others[0].assembly
    for foul in together.fouls[1:-1]:
        mine = assembly.axis.turned(assembly.moving[0].solid, foul.angle)
        for angle, overlaps in (
            ((foul.low + foul.high) / 2, True),
            (foul.low - 1e-3, False),
            (foul.high + 1e-3, False),
        ):
            its = own.axis.turned(own.moving[0].solid, angle)
            assert (shared_volume(mine, its) > 1e-9) is overlaps, (foul, angle)


def lapped_scene() -> Scene:
    lip = Lip(hinge=0.0, strike=0.5, head=0.0, depth=0.6875)
    rebate = MeetingRebate(width=0.625, depth=0.75)
    return changed(pair_scene(0.1875), slab__lip=lip, inactive__rebate=rebate)


def test_the_slab_that_laps_the_other_opens_first() -> None:
    result = check(lapped_scene())
    assert result.verdict is Verdict.SWINGS
    other = found_of(result)
    assert other.order is Order.THIS
    assert other.held is not None
    assert other.held.angle < radians(1.0)
    assert other.verdict is Verdict.SWINGS
    strip = Astragal(face=Face.PULL, width=1.75, thickness=0.5, overlap=0.875)
    result = check(changed(pair_scene(0.1875), inactive__slab__astragal=strip))
    other = found_of(result)
    assert other.order is Order.OTHER
    assert result.verdict is not Verdict.SWINGS


def test_a_meeting_rebate_takes_its_section_off_the_inactive_slab() -> None:
    """In the solid and in its convex pieces: 5/8 in from its strike edge, 3/4 in deep."""
    scene = lapped_scene()
    assert scene.inactive is not None
    plain, own = (other_of(each).assembly for each in (pair_scene(0.1875), scene))
    cut = own.moving[0].solid
    assert plain.moving[0].solid.volume - cut.volume == pytest.approx(0.625 * 0.75 * 79.75)
    edge = 1 / 16 + WIDTH + 0.1875
    pieces = slab_hulls(own, scene.inactive.rebate)
    for solids in ((cut,), pieces.body.pieces):
        vertices = np.concatenate([solid.vertices for solid in solids])
        assert vertices[:, 0].min() == pytest.approx(edge, abs=1e-9)
        before = vertices[vertices[:, 1] > -0.75 + 1e-6]
        assert before[:, 0].min() == pytest.approx(edge + 0.625, abs=1e-9)
        assert vertices[vertices[:, 0] < edge + 0.6][:, 1].max() == pytest.approx(-0.75, abs=1e-9)
    assert sum(piece.volume for piece in pieces.body.pieces) == pytest.approx(
        T * WIDTH * 79.75 - 0.625 * 0.75 * 79.75
    )


def test_an_upper_slab_keeps_its_gap_to_the_lowers_shelf_or_drags_on_it() -> None:
    result = check(dutch_scene(0.125))
    other = found_of(result)
    assert result.verdict is other.verdict is Verdict.SWINGS
    assert result.margins.bottom == pytest.approx((0.125, 0.125), abs=1e-9)
    assert other.order is Order.EITHER
    assert other.together.least == pytest.approx(0.125, abs=1e-9)
    assert other.together.certain == pytest.approx(0.125, abs=1e-3)
    other = other_of(dutch_scene())
    shelf = next(part.solid for part in other.assembly.moving if part.kind is PartKind.SHELF)
    slab = other.assembly.moving[0].solid
    low, high = shelf.bounds
    assert high - low == pytest.approx([29.875 - 1.5, T + 1.5, 0.75], abs=1e-9)
    assert low[2] == pytest.approx(slab.bounds[1, 2], abs=1e-9)
    # Hinges that let it down as it opens: the gap is gone at ``gap / (fall / 90 deg)``.
    scene = changed(dutch_scene(0.0625), hinge__rise=-0.5)
    result = check(scene)
    assert result.verdict in (Verdict.BLOCKED, Verdict.DRAGS, Verdict.FOULS)
    other = found_of(result)
    assert other.together.least == 0.0
    low = other.together.fouls[0].angle
    assert low == pytest.approx(0.0625 / (0.5 / (pi / 2)), abs=radians(0.06))


@pytest.mark.parametrize("turn, way", [(0.0, (1, 0)), (90.0, (0, 1)), (180.0, (-1, 0))])
def test_where_a_neighbour_stands(turn: float, way: tuple[int, int]) -> None:
    """Its hinge leg at the place, its strike leg on the way; both hands open the way they do."""
    for hand, side in (("left", 1.0), ("right", -1.0)):
        other = other_of(neighbour_scene(50.0, 20.0, turn, hand))
        own = other.assembly
        slab = own.moving[0].solid
        far = slab.vertices[np.argmax((slab.vertices[:, :2] - [50, 20]) @ way)]
        assert (far[:2] - [50, 20]) @ way == pytest.approx(29.9375, abs=0.01)
        opened = own.axis.turned(slab, pi / 2)
        pull = side * np.array([-way[1], way[0]])
        reach = ((opened.vertices[:, :2] - [50, 20]) @ pull).max()
        assert reach == pytest.approx(30.5, abs=0.2)


def test_neighbours_out_of_reach_or_crossing_beyond_what_is_wanted_are_alone() -> None:
    result = check(neighbour_scene(0.0, 70.0, 180.0))
    other = found_of(result)
    assert result.verdict is Verdict.SWINGS
    assert other.relation is Relation.NEIGHBOUR
    assert other.together.least > 5.0
    assert other.together.within_wanted
    scene = neighbour_scene(40.0, 6.0, 90.0)
    assert check(scene).decided_by == "bath"
    asked = replace(scene.swing, wanted=radians(5.0))
    bath = replace(scene.neighbours[0], scene=replace(scene.neighbours[0].scene, swing=asked))
    near = check(replace(scene, swing=asked, neighbours=(bath,)))
    assert near.verdict is Verdict.SWINGS
    assert near.others[0].together.fouls and near.others[0].together.within_wanted


def test_slabs_across_a_corridor_come_nearest_edge_to_edge() -> None:
    """Facing, hinged across from each other: both reach for the same place.

    The narrow-face arris of each sweeps ``hypot(L, T + a)``, and comes straight across when it
    has turned ``atan((T + a) / L)`` past 90 degrees; the pins are as far apart as the corridor is
    wide, less what each stands out.
    """
    corridor = 62.0
    scene = neighbour_scene(0.0, corridor, 0.0, "right")
    together = found_of(check(scene)).together
    along, deep = WIDTH + 1 / 32, T + 0.625
    pins = corridor - 2 * 0.625
    assert together.least == pytest.approx(pins - 2 * hypot(along, deep), abs=1.1e-3)
    straight = pi / 2 + atan2(deep, along)
    assert together.angles == pytest.approx((straight, straight), abs=0.02)


def test_fouls_are_told_at_the_angles_at_which_they_begin() -> None:
    """Ends of every span against the collision library, turning the other slab from either side."""
    scene = neighbour_scene(40.0, 6.0, 90.0)
    assembly = assemble(scene)
    fouls = found_of(check(scene)).together.fouls
    own = assembly.others[0].assembly
    slabs = [slab_hulls(each).body for each in (assembly, own)]
    last, others = fouls[-1], np.linspace(0.0, pi, 721).tolist()
    assert not any(overlap(*slabs, (last.angle + 1e-4, other)) for other in others)
    assert overlap(*slabs, (last.angle - 1e-4, last.low))
    for foul in fouls[2:-2:3]:
        mine = assembly.axis.turned(assembly.moving[0].solid, foul.angle)
        turning = turning_past(replace(own, moving=own.moving[:1]), (mine,))
        for sense, end in ((1, foul.low), (-1, foul.high)):
            start, stop = (0.0, pi) if sense > 0 else (pi, 0.0)
            bracket = Peer(turning.over(start, stop)).stepped(radians(0.5))
            assert bracket is not None
            met = Peer(turning.over(start, stop)).bisected(bracket).touching
            assert met == pytest.approx(end, abs=1e-6)


@pytest.mark.parametrize("kind", ["pair", "dutch"])
@pytest.mark.parametrize("seed", range(3))
def test_random_pairs_keep_their_certain_distance_on_a_grid(kind: str, seed: int) -> None:
    """No pair of angles is nearer than what is certain, solids as they are, out of line as hung."""
    scene = random_kind(kind, seed)
    assembly = assembled(kind, seed)
    result = check(scene)
    together = found_of(result).together
    if together.least == 0.0:
        return
    own = assembly.others[0].assembly
    angles = np.linspace(0.0, 0.3, 7)
    for mine in angles:
        turned = tuple(assembly.axis.turned(part.solid, mine) for part in assembly.moving)
        peer = Peer(turning_past(own, turned))
        for angle in angles:
            assert peer.distance(float(angle)) >= together.certain - 1e-9


def test_a_pair_is_clear_between_its_slabs_and_keeps_both_slabs_mortises() -> None:
    result = checked(0.1875)
    face = 1 / 32 + 0.625 + T  # the pin, and the narrow face beyond it, square to the opening
    assert result.clear_width == pytest.approx(1 / 16 + WIDTH + 0.1875 - face, abs=1e-9)
    kept, fresh = Variants().swung(pair_scene()).assembly, assemble(pair_scene())
    for mine, own in zip(kept.fixed, fresh.fixed, strict=True):
        assert mine.solid.volume == pytest.approx(own.solid.volume, rel=1e-12), own.name
