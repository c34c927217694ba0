"""Pivots, cranked and rising hinges and further slabs in a scene: read, filled up, refused."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest

from swingcheck.errors import SceneError
from swingcheck.model import NO_HINGES
from swingcheck.scenefile import read_scene
from tests.scene_files import OPENING, assert_holds, assumed, faults, read

PAIR = '[opening]\nwidth = "60 1/4"\nheight = "80 1/2"\n[inactive]\n'
UNEVEN = PAIR.replace("[inactive]", "hinge_leg = { plumb = [0, 0.1] }\n[inactive]").replace(
    'width = "60 1/4"\nheight = "80 1/2"', "width = [60, 60]\nheight = [80, 79.5]"
)
OWN = """slab = { thickness = "1 3/4", strike_edge = { bevel = 3 } }
hinge = { count = 4, open_width = "4" }
rebate = { width = "1/2" }"""

# A scene and settings of it, and what it holds.
HOLDS = [
    (OPENING, [], "hinge.is_flat True; hinge.rise 0; hinge.jamb_reach 1.75; hinge.slab_reach 1.75"),
    (
        f'{OPENING}[hinge]\nleaf_width = "2 1/4"',
        [],
        "hinge.jamb_reach 2.25; hinge.slab_reach 2.25; hinge.open_width 4.5",
    ),
    (
        f'{OPENING}[hinge]\nleaf_width = {{ jamb = "3", slab = "2 1/4" }}',
        [],
        "hinge.jamb_reach 3; hinge.slab_reach 2.25; hinge.is_flat False",
    ),
    (
        f'{OPENING}[hinge.offset]\nacross = "1 5/8"',
        [],
        "hinge.offset.across 1.625; hinge.offset.out 0",
    ),
    # Without a stop a centre pivot in the middle of the jamb, both ways; else an offset one.
    (
        f"{OPENING}[pivot]",
        ["stop=none"],
        "pivot.kind centre; pivot.edge 2.625 2.625; pivot.face 0.6875 0.6875;"
        " pivot.leg 2.75 2.75; pivot.out -2.28125 -2.28125; swing.both_ways True",
    ),
    # A centre pivot is told from the jamb or from the slab's edge; the other follows.
    (
        f"{OPENING}[pivot]",
        ["stop=none", "pivot.jamb.leg=1 1/2"],
        "pivot.edge 1.375 1.375; pivot.leg 1.5 1.5",
    ),
    (
        f"{OPENING}[pivot]",
        ["stop=none", "pivot.slab.edge=2 3/4"],
        "pivot.edge 2.75 2.75; pivot.leg 2.875 2.875",
    ),
    (f"{OPENING}[pivot]", [], "pivot.edge 3/4 3/4; pivot.leg 7/8 7/8; swing.both_ways False"),
    (f'{OPENING}[pivot]\nkind = "offset"', ["stop=none"], "swing.both_ways False"),
    (f'{OPENING}[pivot]\njamb = {{ leg = ["7/8", "15/16"] }}', [], "pivot.leg 7/8 15/16"),
    (f"{OPENING}[pivot]", ["pivot.jamb.leg[1]=15/16"], "pivot.leg 7/8 15/16"),
    # A pair shares the opening, less the gap at each hinge and between: 60 1/4 less 1/4 in.
    (PAIR, [], "slab.width 30; inactive.slab.width 30; inactive.hinge.leaf_length 3.5"),
    (PAIR, ["inactive.slab.width=20"], "slab.width 40"),
    (PAIR, ["slab.width=38"], "inactive.slab.width 22"),
    (
        PAIR + OWN,
        [],
        "inactive.slab.thickness 1.75; inactive.slab.strike_edge.bevel 3deg;"
        " inactive.slab.hinge_edge.shape square; slab.strike_edge.shape square;"
        " inactive.hinge.count 4; inactive.hinge.open_width 4; inactive.hinge.leaf_length 3.5;"
        " inactive.rebate.width 1/2; inactive.rebate.depth 0.6875",
    ),
    # The lip and the gap between the slabs; what the lip leaves of the thickness, and 1/16 in.
    (
        f"{PAIR}rebate = {{}}\n[slab.lip]\nwidth = 0.5\ndepth = 0.875",
        [],
        "inactive.rebate.width 0.625; inactive.rebate.depth 0.5625",
    ),
    # A Dutch door shares the height: 1/8 over each slab, a shelf of 3/4, 1/2 under the lower.
    (
        f"{OPENING}[lower]\nshelf = {{ pull = 1 }}",
        [],
        "slab.height 39.5 39.5; lower.slab.height 39.5 39.5; lower.gap 1/8;"
        " lower.shelf.thickness 3/4; lower.slab.head_margin 40.5",
    ),
    (f"{OPENING}[lower]", ["lower.slab.height=36"], "slab.height 43.75 43.75"),
    (f"{OPENING}[lower]", ["slab.height=36"], "lower.slab.height 43.75 43.75"),
]


@pytest.mark.parametrize(("text", "settings", "told"), HOLDS, ids=range(len(HOLDS)))
def test_how_a_slab_hangs_as_it_is_said(text: str, settings: list[str], told: str) -> None:
    assert_holds(read(text, *settings), told)


def test_a_slab_on_pivots_has_no_hinges_and_a_rise_is_so_much_at_90_degrees() -> None:
    scene = read(f"{OPENING}[pivot]", "stop=none")
    assert scene.hinge == NO_HINGES
    assert assumed(scene)["swing.both_ways"] == "yes"
    assert read(OPENING, "hinge.rise=3/8").hinge.rise_rate * pi / 2 == pytest.approx(0.375)


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
    assert told in str(SceneError("hall.toml", faults(text)))


def written(folder: Path, **files: str) -> Path:
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder / "hall.toml"


NEIGHBOUR = '[[neighbour]]\nscene = "bath.toml"\nacross = "40"\nout = "6"\nturn = 90\n'


def test_neighbours_are_read_from_beside_the_scene_end_and_are_at_most_four(tmp_path: Path) -> None:
    other = f'title = "Bath"\nhinges_on = "right"\n{OPENING}'
    scene = read_scene(written(tmp_path, hall=OPENING + NEIGHBOUR, bath=other))
    (neighbour,) = scene.neighbours
    assert (neighbour.name, neighbour.across, neighbour.out) == ("Bath", 40.0, 6.0)
    assert neighbour.turn == pytest.approx(pi / 2)
    assert neighbour.scene.hinges_on == "right"
    text = (tmp_path / "hall.toml").read_text(encoding="utf-8")
    again = read_scene(text, name=str(tmp_path / "hall.toml"))
    assert again.neighbours == scene.neighbours
    back = NEIGHBOUR.replace("bath", "hall")
    scene = read_scene(written(tmp_path, hall=OPENING + NEIGHBOUR, bath=OPENING + back))
    assert scene.neighbours[0].scene.neighbours == ()
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
