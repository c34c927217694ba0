"""What cannot be built is refused, with the measurement and the limit; what is only bad is not."""

from __future__ import annotations

import pytest

from swingcheck.errors import Problem, SceneError
from swingcheck.scenefile import read_scene

OPENING = '[opening]\nwidth = "30 1/8"\nheight = "80 1/2"\n'
LOCK = OPENING + "[lock]\n[lock.deadbolt]\n"
GLASS = OPENING + "[slab.glass]\nwidth = 10\nheight = 20\n"
CASING = OPENING + "[casing]\n"
OBSTACLE = OPENING + "[[obstacle]]\ncorner = [0, 40, 0]\nsize = [1, 1, 1]\n"


def problems(text: str, *settings: tuple[str, str]) -> tuple[Problem, ...]:
    """Return the faults of a scene; fail where it has none."""
    with pytest.raises(SceneError) as caught:
        read_scene(text, settings=settings)
    return caught.value.problems


# Each: a scene, a key, a value that is refused, what the message must say of the limit,
# and the nearest value that is taken.
REFUSED = [
    # sizes that are nothing, or past 40 ft
    (OPENING, "opening.width", "0", "above 0", "18"),
    (OPENING, "opening.width", "-30", "above 0", "18"),
    (OPENING, "opening.height", "41 ft", "480 in", "480"),
    (OPENING, "slab.thickness", "0", "above 0", "1/2"),
    (OPENING, "slab.thickness", "13", "12 in", "4"),
    (OPENING, "opening.depth", "0", "above 0", "2"),
    (OPENING, "opening.thickness", "-1", "above 0", "1/2"),
    (OPENING, "opening.rabbet", "0", "above 0", "1/2"),
    (OPENING, "stop.projection", "0", "above 0", "1/8"),
    (OPENING, "stop.width", "-1", "above 0", "1/2"),
    (OPENING, "slab.head_margin", "-1/8", "from 0", "0"),
    (OPENING, "hinge.leaf_length", "0", "above 0", "1 1/2"),
    (OPENING, "hinge.open_width", "0", "above 0", "1"),
    (OPENING, "hinge.leaf_thickness", "0", "above 0", "0.05"),
    (OPENING, "hinge.closed_gap", "-1/16", "from 0", "0"),
    (OPENING, "hinge.barrel", "0", "above 0", "0.25"),
    (OPENING, "hinge.corner_radius", "-1", "from 0", "0"),
    (OPENING, "hinge.screw_proud", "-0.01", "from 0", "0.02"),
    (OPENING, "hinge.slab.setback", "-1/4", "from 0", "0"),
    (OPENING, "hinge.jamb.depth", "-0.01", "from 0", "0"),
    (OPENING, "hinge.count", "1", "from 2", "2"),
    (OPENING, "hinge.count", "13", "to 12", "6"),
    (OPENING, "hinge.jamb.tops", "[-1, 40]", "from 0", "[1, 40]"),
    (OPENING, "opening.hinge_leg.twist", "10.5", "10 deg", "10"),
    (OPENING, "opening.strike_leg.twist", "-10.5", "10 deg", "-10"),
    (OPENING, "opening.hinge_leg.plumb", "13", "12 in", "0.1"),
    (OPENING, "opening.hinge_leg.cross", "[0, 7]", "6 in", "[0, 6]"),
    (OPENING, "slab.hinge_edge.bevel", "20.5", "20 deg", "20"),
    (OPENING, "slab.strike_edge.bevel", "1 in 2", "20 deg", "1/2 in 2"),
    (OPENING, "floor.across", "11", "10 deg", "10"),
    (OPENING, "floor.covering", "-1", "from 0", "0"),
    (OPENING, "swing.start", "0", "above 0", "1"),
    (OPENING, "swing.wanted", "181", "180 deg", "180"),
    (OPENING, "swing.limit", "271", "270 deg", "270"),
    (OPENING, "swing.seat", "-1", "from 0", "0"),
    (OPENING, "shop.tolerance.rip", "-1/64", "from 0", "0"),
    (OBSTACLE, "obstacle[0].size[2]", "0", "above 0", "1/2"),
    # the slab in its opening
    (OPENING, "slab.width", "30 1/4", "the opening there, 30 1/8 in", "30 1/8"),
    (OPENING, "slab.width", "[29, 31]", "the opening there, 30 1/8 in", "[29, 30]"),
    (OPENING, "slab.height", "80 5/8", "the opening, 80 1/2 in", "80 1/2"),
    (OPENING, "slab.height", "[79, 80 5/8]", "the opening, 80 1/2 in", "[79, 80]"),
    (OPENING, "opening.rabbet", "4 9/16", "the depth of the jamb, 4 9/16 in", "4 1/2"),
    (CASING, "casing.reveal", "3/4", "the thickness of the jamb, 3/4 in", "5/8"),
    # edges
    (OPENING, "slab.hinge_edge.radius", "5/8", "half the slab's thickness, 11/16 in", "11/16"),
    # hinges
    (OPENING, "hinge.open_width", "0.44", "the barrel's diameter", "1 1/4"),
    (OPENING, "hinge.barrel", "0.19", "two leaves thick", "0.2"),
    (OPENING, "hinge.corner_radius", "1 13/16", "1 3/4 in", "1 3/4"),
    (OPENING, "hinge.slab.setback", "1 3/8", "the thickness of the slab, 1 3/8 in", "1 1/4"),
    (OPENING, "hinge.slab.setback[1]", "1 3/8", "the thickness of the slab", "1 1/4"),
    (OPENING, "hinge.jamb.setback", "1 7/16", "the rabbet, 1 7/16 in", "1 3/8"),
    (OPENING, "hinge.jamb.depth", "3/4", "the jamb's thickness, 3/4 in", "5/8"),
    (OPENING, "hinge.slab.tops", "[7, 10, 60]", "10 1/2 in", "[7, 10.5, 60]"),
    (OPENING, "hinge.slab.tops", "[60, 30, 7]", "top hinge first", "[7, 30, 60]"),
    (OPENING, "hinge.slab.tops", "[7, 77]", "bottom of the slab", "[7, 76]"),
    (OPENING, "hinge.jamb.tops", "[7, 77.5]", "floor", "[7, 76.5]"),
    # the lock and the pane
    (LOCK, "lock.backset", "1", "half the bore, 1 1/16 in", "1 1/4"),
    (LOCK, "lock.backset", "29", "within the slab", "28"),
    (LOCK, "lock.edge_bore", "1 3/8", "the slab's thickness", "1 1/4"),
    (LOCK, "lock.face_width", "1 1/2", "the slab's thickness", "1 1/4"),
    (LOCK, "lock.face_depth", "2", "the wood before the bore", "1"),
    (LOCK, "lock.height", "1", "between 1 5/8 in and", "1 3/4"),
    (LOCK, "lock.height", "80", "within the slab", "70"),
    (LOCK, "lock.deadbolt.above", "44", "over the lock", "40"),
    (LOCK, "lock.deadbolt.above", "2", "clear of the lock", "2 3/8"),
    (LOCK, "lock.deadbolt.backset", "1", "half the bore", "1 1/4"),
    (GLASS, "slab.glass.width", "30", "within the slab", "20"),
    (GLASS, "slab.glass.height", "80", "within the slab", "79"),
    (GLASS, "slab.glass.thickness", "1 3/8", "the slab's thickness", "1"),
    # the swing and the shop
    (OPENING + "[swing]\nlimit = 60\n", "swing.start", "61", "the limit, 60 deg", "60"),
    (OPENING + "[swing]\nlimit = 60\n", "swing.wanted", "61", "the limit, 60 deg", "60"),
    (OPENING + '[shop]\nbit = "1/2"\n', "shop.bushing", "1/2", "wider than the bit", "5/8"),
]


@pytest.mark.parametrize(("text", "key", "value", "limit", "taken"), REFUSED)
def test_it_is_refused_with_its_limit_and_taken_within_it(
    text: str, key: str, value: str, limit: str, taken: str
) -> None:
    found = problems(text, (key, value))
    assert all(problem.key.startswith(f"--set {key.split('[')[0]}") for problem in found)
    assert all(problem.value for problem in found)
    assert any(limit in problem.expected for problem in found)
    read_scene(text, settings=[(key, taken)])


def test_a_slab_wider_than_its_opening_at_one_height_is_refused_there() -> None:
    text = '[slab]\nwidth = "29 7/8"\n[opening]\nwidth = "30 1/8"\nheight = "80 1/2"\n'
    read_scene(text)
    legs = "[opening.hinge_leg]\nplumb = [0, '1/8', 0]\n[opening.strike_leg]\nplumb = [0, {}, 0]\n"
    read_scene(text + legs.format("'1/8'"))
    (found,) = problems(text + legs.format("'1/4'"))
    assert found.key == "slab.width"
    assert found.value == '"29 7/8"'
    assert "29 3/4 in" in found.expected


def test_a_slab_wider_than_a_narrow_place_of_the_opening_is_refused() -> None:
    slab = [("slab.width", "29 7/8")]
    read_scene(OPENING, settings=[*slab, ("opening.width", '[30, "29 7/8", 30]')])
    (found,) = problems(OPENING, *slab, ("opening.width", '[30, "29 3/4", 30]'))
    assert found.key == "--set slab.width"
    assert "29 3/4 in" in found.expected


def test_stops_that_meet_are_refused() -> None:
    text = "[opening]\nwidth = {}\nheight = 80\n[stop]\nprojection = 12\n"
    read_scene(text.format("24.5"))
    (found,) = problems(text.format("24"))
    assert found.key == "stop.projection"
    assert "12 in" in found.expected


def test_a_pane_put_too_high_is_refused() -> None:
    read_scene(GLASS, settings=[("slab.glass.up", "59")])
    (found,) = problems(GLASS, ("slab.glass.up", "60"))
    assert (found.key, found.value) == ("slab.glass.height", "20")
    assert "19 7/8 in" in found.expected


def test_leaves_taken_from_the_jamb_must_begin_below_the_slabs_top() -> None:
    (found,) = problems(OPENING, ("hinge.jamb.tops", "[0, 40]"))
    assert found.key == "hinge.slab.tops"
    assert found.value == "-1/8 in, taken as usual"


def test_legs_that_meet_are_refused() -> None:
    text = "[opening]\nwidth = 10\nheight = 80\n"
    legs = "[opening.hinge_leg]\nplumb = [0, 6]\n[opening.strike_leg]\nplumb = [0, 6]\n"
    assert any("legs meet" in problem.expected for problem in problems(text + legs))


def test_widths_at_stations_leave_no_plumb_to_the_strike_leg() -> None:
    text = "[opening]\nwidth = [30, 30.1]\nheight = 80\n[opening.strike_leg]\nplumb = [0, {}]\n"
    read_scene(text.format(0))
    (found,) = problems(text.format('"1/8"'))
    assert found.key == "opening.strike_leg.plumb"
    assert "already says" in found.expected


def test_edges_that_eat_the_narrow_face_are_refused() -> None:
    text = "[opening]\nwidth = 3\nheight = 80\ndepth = 12\n[slab]\nthickness = {}\n"
    edges = "hinge_edge = { bevel = 15 }\nstrike_edge = { bevel = 15 }\n"
    read_scene(text.format(4) + edges)
    (found,) = problems(text.format(6) + edges)
    assert found.key == "slab.width"
    assert "narrow face" in found.expected
    rounds = 'hinge_edge = "bullnose"\nstrike_edge = "bullnose"\n'
    assert any("narrow face" in each.expected for each in problems(text.format(4) + rounds))


def test_tops_on_the_jamb_above_those_on_the_slab_are_refused() -> None:
    text = OPENING + "[hinge]\njamb = { tops = [7, 60] }\nslab = { tops = [7.25, 60.25] }\n"
    (found,) = problems(text)
    assert found.key == "hinge.jamb.tops"
    assert "-1/4 in" in found.expected


def test_a_limit_that_was_only_assumed_is_said_to_be() -> None:
    (found,) = problems(OPENING, ("opening.rabbet", "5"))
    assert found.hint == "opening.depth was taken as usual: give it"
    (found,) = problems(OPENING + "[slab]\nthickness = '3/4'\n[lock]\nface_width = '1/2'\n")
    assert (found.key, found.value) == ("lock.edge_bore", "1 in, taken as usual")


def test_several_limits_come_in_one_message() -> None:
    found = problems(
        OPENING,
        ("slab.width", "31"),
        ("slab.height", "90"),
        ("hinge.corner_radius", "3"),
        ("hinge.slab.setback", "1 1/2"),
        ("hinge.jamb.tops", "[7, 9, 78]"),
    )
    keys = [problem.key.removeprefix("--set ") for problem in found]
    assert sorted(keys) == [
        "hinge.corner_radius",
        "hinge.jamb.tops[1]",
        "hinge.jamb.tops[2]",
        "hinge.slab.setback",
        "slab.height",
        "slab.width",
    ]


def test_a_limit_is_not_told_again_of_what_was_taken_from_the_same_value() -> None:
    assert [each.key for each in problems(LOCK, ("lock.backset", "1"))] == ["--set lock.backset"]
    keys = {each.key for each in problems(OPENING, ("hinge.leaf_length", "30"))}
    assert keys == {"hinge.slab.tops"}


# Bad, and for a check to find: none of these may be refused.
ONLY_BAD = {
    "a slab as wide as the opening": [("slab.width", "30 1/8")],
    "a negative hinge margin": [("hinge.slab.depth", "3/16"), ("hinge.jamb.depth", "3/16")],
    "leaves proud of the wood": [("hinge.slab.depth", "0"), ("hinge.jamb.depth", "0")],
    "screws proud": [("hinge.screw_proud", "1/16")],
    "more setback on the slab than on the jamb": [("hinge.slab.setback", "3/8")],
    "a pin inside the slab": [("hinge.open_width", "1 1/4")],
    "a slab proud of the rabbet": [("opening.rabbet", "1")],
    "a slab through the floor": [("slab.height", "80 1/2"), ("slab.head_margin", "1/2")],
    "a covering thicker than the margin": [("floor.covering", "1"), ("slab.height", "79 3/4")],
    "hinges that do not line up": [("hinge.jamb.tops", "[7, 37, 68.5]")],
    "pins off the line": [("hinge.slab.setback", "[0.25, 0.5, 0.25]")],
    "twisted legs": [("opening.hinge_leg.twist", "8"), ("opening.strike_leg.twist", "[-8, 8]")],
    "cross-legged": [("opening.hinge_leg.cross", "[0, 1]")],
    "bevelled the wrong way": [("slab.strike_edge.bevel", "-5")],
    "an obstacle in the slab": [("obstacle", "[{corner=[0, -2, 0], size=[30, 2, 80]}]")],
    "a limit past the wall": [("swing.limit", "200")],
    "a setback of nothing": [("hinge.slab.setback", "0")],
    "a delivered slab that is too small": [("slab.delivered.width", "20")],
}


@pytest.mark.parametrize("settings", ONLY_BAD.values(), ids=ONLY_BAD.keys())
def test_what_is_only_bad_is_read(settings: list[tuple[str, str]]) -> None:
    read_scene(OPENING, settings=settings)
