"""Pivots, cranked and rising hinges and further slabs in a scene: read, filled up, refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from swingcheck.errors import SceneError
from swingcheck.model import NO_HINGES, Offset, PivotKind, Scene
from swingcheck.scenefile import read_scene

OPENING = '[opening]\nwidth = "30 1/8"\nheight = "80 1/2"\n'
PAIR = '[opening]\nwidth = "60 1/4"\nheight = "80 1/2"\n[inactive]\n'
UNEVEN = PAIR.replace("[inactive]", "hinge_leg = { plumb = [0, 0.1] }\n[inactive]").replace(
    'width = "60 1/4"\nheight = "80 1/2"', "width = [60, 60]\nheight = [80, 79.5]"
)


def read(text: str, *settings: tuple[str, str]) -> Scene:
    return read_scene(text, settings=settings)


def assumed(scene: Scene, key: str) -> str:
    return next(item.value for item in scene.assumed if item.key == key)


def faults(text: str, *settings: tuple[str, str]) -> str:
    with pytest.raises(SceneError) as caught:
        read(text, *settings)
    return str(caught.value)


def test_plain_hinges_are_flat_and_do_not_rise() -> None:
    hinge = read(OPENING).hinge
    assert hinge.is_flat
    assert hinge.rise == 0.0
    assert hinge.jamb_reach == hinge.slab_reach == hinge.open_width / 2


def test_one_leaf_width_is_both_and_the_open_width_follows() -> None:
    scene = read(f'{OPENING}[hinge]\nleaf_width = "2 1/4"')
    assert scene.hinge.jamb_reach == scene.hinge.slab_reach == 2.25
    assert scene.hinge.open_width == 4.5
    assert assumed(scene, "hinge.open_width") == "4 1/2 in"


def test_leaf_widths_apart() -> None:
    scene = read(f'{OPENING}[hinge]\nleaf_width = {{ jamb = "3", slab = "2 1/4" }}')
    assert (scene.hinge.jamb_reach, scene.hinge.slab_reach) == (3.0, 2.25)
    assert not scene.hinge.is_flat


def test_an_offset_says_what_it_leaves_out() -> None:
    scene = read(f'{OPENING}[hinge.offset]\nacross = "1 5/8"')
    assert scene.hinge.offset == Offset(across=1.625, out=0.0)
    assert assumed(scene, "hinge.offset.out") == "0 in"


def test_a_rise_is_so_much_at_90_degrees() -> None:
    hinge = read(OPENING, ("hinge.rise", "3/8")).hinge
    assert hinge.rise_rate * 3.141592653589793 / 2 == pytest.approx(0.375)


def test_pivots_by_themselves() -> None:
    """Without a stop a centre pivot in the middle of the jamb, both ways; else an offset one."""
    scene = read(f"{OPENING}[pivot]", ("stop", "none"))
    assert scene.pivot is not None
    assert scene.hinge == NO_HINGES
    assert scene.pivot.kind is PivotKind.CENTRE
    assert scene.pivot.edge == (2.75, 2.75)
    assert scene.pivot.face == (0.6875, 0.6875)
    assert scene.pivot.leg == (2.875, 2.875)
    assert scene.pivot.out == pytest.approx((-4.5625 / 2,) * 2)
    assert scene.swing.both_ways
    assert assumed(scene, "swing.both_ways") == "yes"
    offset = read(f"{OPENING}[pivot]")
    assert offset.pivot is not None
    assert offset.pivot.kind is PivotKind.OFFSET
    assert not offset.swing.both_ways
    unstopped = read(f'{OPENING}[pivot]\nkind = "offset"', ("stop", "none"))
    assert not unstopped.swing.both_ways


def test_pivots_apart_top_and_bottom() -> None:
    scene = read(f'{OPENING}[pivot]\njamb = {{ leg = ["7/8", "15/16"] }}')
    assert scene.pivot is not None
    assert scene.pivot.leg == (0.875, 0.9375)
    bottom = read(f"{OPENING}[pivot]", ("pivot.jamb.leg[1]", "15/16"))
    assert bottom.pivot is not None
    assert bottom.pivot.leg == (0.875, 0.9375)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (f"{OPENING}[pivot]\n[hinge]\ncount = 3", "hinge: must be left out: the slab hangs on"),
        (f'{OPENING}[pivot]\nkind = "middle"', 'one of "centre", "offset"'),
        (f'{OPENING}[pivot]\njam = {{ leg = "1" }}', "did you mean pivot.jamb?"),
        (f"{PAIR}slab = {{ widht = 20 }}", "did you mean inactive.slab.width?"),
        (f"{PAIR}[lower]", "inactive = a table: must be left out: a Dutch door is no pair"),
        (PAIR.replace("[inactive]", "arch = 5\n[inactive]"), "a pair under an arched head"),
        (UNEVEN, "opening.hinge_leg.plumb = [0, 0.1]: must be one value: on a pair"),
    ],
)
def test_what_cannot_hang_is_told(text: str, told: str) -> None:
    assert told in faults(text)


def test_a_pair_shares_the_opening() -> None:
    scene = read(PAIR)
    assert scene.inactive is not None
    share = (60.25 - 2 / 16 - 1 / 8) / 2
    assert scene.slab.width == (share,)
    assert scene.inactive.slab.width == (share,)
    assert scene.inactive.hinge.leaf_length == scene.hinge.leaf_length
    assert "other slab's" in assumed(scene, "inactive.hinge")


def test_each_slab_of_a_pair_takes_what_the_other_leaves() -> None:
    one = read(PAIR, ("inactive.slab.width", "20"))
    assert one.slab.width == pytest.approx((60.25 - 0.25 - 20,))
    other = read(PAIR, ("slab.width", "38"))
    assert other.inactive is not None
    assert other.inactive.slab.width == pytest.approx((60.25 - 0.25 - 38,))


def test_an_inactive_slab_of_its_own() -> None:
    scene = read(
        f'{PAIR}slab = {{ thickness = "1 3/4", strike_edge = {{ bevel = 3 }} }}\n'
        'hinge = { count = 4, open_width = "4" }\nrebate = { width = "1/2" }'
    )
    own = scene.inactive
    assert own is not None
    assert own.slab.thickness == 1.75
    assert own.slab.strike_edge != scene.slab.strike_edge
    assert own.slab.hinge_edge == scene.slab.hinge_edge
    assert (own.hinge.count, own.hinge.open_width) == (4, 4.0)
    assert own.rebate is not None
    assert (own.rebate.width, own.rebate.depth) == (0.5, 0.6875)
    assert assumed(scene, "inactive.hinge.leaf_length") == "3 1/2 in"


def test_a_rebate_takes_the_active_slabs_lip_with_room_about_it() -> None:
    inactive = read(f"{PAIR}rebate = {{}}\n[slab.lip]\nwidth = 0.5\ndepth = 0.875").inactive
    assert inactive is not None and inactive.rebate is not None
    # The lip and the gap between the slabs; what the lip leaves of the thickness, and 1/16 in.
    assert (inactive.rebate.width, inactive.rebate.depth) == (0.625, 0.5625)


def test_a_dutch_door_shares_the_height() -> None:
    scene = read(f"{OPENING}[lower]\nshelf = {{ pull = 1 }}")
    lower = scene.lower
    assert lower is not None
    above = scene.slab.head_margin + scene.slab.height[0] + lower.gap
    assert lower.shelf is not None
    assert lower.slab.head_margin == pytest.approx(above + lower.shelf.thickness)
    assert lower.slab.height == scene.slab.height
    assert 80.5 - lower.slab.head_margin - lower.slab.height[0] == pytest.approx(0.5)
    cut = read(f"{OPENING}[lower]", ("lower.slab.height", "36"))
    assert cut.slab.height == pytest.approx((80.5 - 0.125 - 0.5 - 36 - 0.125,) * 2)
    given = read(f"{OPENING}[lower]", ("slab.height", "36"))
    assert given.lower is not None
    assert given.lower.slab.height == pytest.approx((80.5 - 0.125 - 36 - 0.125 - 0.5,) * 2)


def written(folder: Path, **files: str) -> Path:
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder / "hall.toml"


NEIGHBOUR = '[[neighbour]]\nscene = "bath.toml"\nacross = "40"\nout = "6"\nturn = 90\n'


def test_a_neighbour_is_read_from_beside_the_scene(tmp_path: Path) -> None:
    other = f'title = "Bath"\nhinges_on = "right"\n{OPENING}'
    (scene,) = (read_scene(written(tmp_path, hall=OPENING + NEIGHBOUR, bath=other)),)
    (neighbour,) = scene.neighbours
    assert (neighbour.name, neighbour.across, neighbour.out) == ("Bath", 40.0, 6.0)
    assert neighbour.turn == pytest.approx(1.5707963267948966)
    assert neighbour.scene.hinges_on == "right"
    text = (tmp_path / "hall.toml").read_text(encoding="utf-8")
    again = read_scene(text, name=str(tmp_path / "hall.toml"))
    assert again.neighbours == scene.neighbours


def test_neighbours_that_name_each_other_end(tmp_path: Path) -> None:
    back = NEIGHBOUR.replace("bath", "hall")
    scene = read_scene(written(tmp_path, hall=OPENING + NEIGHBOUR, bath=OPENING + back))
    assert scene.neighbours[0].scene.neighbours == ()


def test_there_are_at_most_four_neighbours(tmp_path: Path) -> None:
    four = written(tmp_path, hall=OPENING + NEIGHBOUR * 4, bath=OPENING)
    assert len(read_scene(four).neighbours) == 4
    with pytest.raises(SceneError, match="5 of them: must be at most 4"):
        read_scene(written(tmp_path, hall=OPENING + NEIGHBOUR * 5))


def test_a_bad_neighbour_is_told_under_its_key(tmp_path: Path) -> None:
    file = written(tmp_path, hall=OPENING + NEIGHBOUR, bath='[opening]\nwidth = "no"\n')
    with pytest.raises(SceneError) as caught:
        read_scene(file)
    assert "neighbour[0].scene" in str(caught.value)
    assert "opening.width" in str(caught.value)
    missing = written(tmp_path, hall=OPENING + NEIGHBOUR.replace("bath", "none"))
    with pytest.raises(SceneError, match=r"neighbour\[0\]\.scene"):
        read_scene(missing)
    nowhere = written(tmp_path, hall=f'{OPENING}[[neighbour]]\nscene = "bath.toml"\n')
    with pytest.raises(SceneError, match="from this hinge leg to its hinge leg"):
        read_scene(nowhere)
