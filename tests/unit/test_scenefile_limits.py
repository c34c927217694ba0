"""What cannot be built is refused, with the measurement and the limit; what is only bad is not."""

from __future__ import annotations

import re

import pytest

from swingcheck.assembly import assemble
from swingcheck.errors import SceneError
from swingcheck.scenefile import NAMES, Key, Kind, Table, read_scene
from swingcheck.units import parsed_length
from tests.scene_files import OPENING, faults, read

LOCK = OPENING + "[lock]\n[lock.deadbolt]\n"
GLASS = OPENING + "[slab.glass]\nwidth = 10\nheight = 20\n"
CASING = OPENING + "[casing]\n"
PIVOT = OPENING + "[pivot]\n"
PAIR = OPENING.replace("30 1/8", "60 1/4") + "[slab]\nwidth = 30\n[inactive]\n"
DUTCH = OPENING + "[slab]\nheight = 40\n[lower]\ngap = '1/8'\nshelf = { thickness = '1/8' }\n"
ARCH = OPENING + "arch = 3\n"
ASTRAGAL = OPENING + "[slab.astragal]\n"
APPLIED = OPENING + "[[slab.applied]]\ncorner = [20, 5]\nsize = [5, 5, 1]\n"
FLAT = OPENING + "[hinge]\ncorner_radius = 0\nopen_width = 3\n"
LEVER = OPENING + "[slab]\nwidth = 20\n[lock.handle]\nkind = 'lever'\n"
STEEL = OPENING + "[opening.steel]\n"


# What every number of a scene file keeps within by itself: inches, degrees, degrees Fahrenheit,
# percents and counts; ">" where the least itself is refused.
LIMITS = {
    "opening": "width >0..480, height >0..480, arch 0..240, rabbet >0..480, depth >0..48,"
    " thickness >0..12",
    "opening.rabbet": "hinge >0..480, strike >0..480, head >0..480",
    "opening.hinge_leg": "plumb -12..12, cross -6..6, twist -10..10",
    "opening.strike_leg": "plumb -12..12, cross -6..6, twist -10..10",
    "opening.steel": "face >0..12, backbend 0..6",
    "stop": "projection >0..12, width >0..48",
    "slab": "width >0..480, height >0..480, arch 0..240, thickness >0..12, head_margin 0..12",
    "slab.hinge_edge": "bevel -20..20, radius >0..480",
    "slab.strike_edge": "bevel -20..20, radius >0..480",
    "slab.head_edge": "bevel -20..20",
    "slab.lip": "width >0..6, depth >0..12, hinge 0..6, strike 0..6, head 0..6",
    "slab.warp": "bow -3..3, cup -3..3, twist -3..3",
    "slab.glass": "width >0..480, height >0..480, thickness >0..2, across 0..480, up 0..480",
    "slab.glass.bead": "width >0..12, proud >0..3",
    "slab.astragal": "width >0..12, thickness >0..3, overlap 0..12, stem 0..3",
    "slab.applied": "corner 0..480, size >0..480",
    "slab.delivered": "width >0..480, height >0..480, edge_strip 0..48, end_strip 0..48,"
    " hinge_off 0..48",
    "hinge": "count 2..12, leaf_length >0..48, open_width >0..48, leaf_thickness >0..1,"
    " closed_gap 0..1, barrel >0..6, corner_radius 0..12, screw_proud 0..0.5, leaf_width >0..24,"
    " rise -6..6",
    "hinge.leaf_width": "jamb >0..24, slab >0..24",
    "hinge.offset": "across -12..12, out -12..12",
    "hinge.jamb": "tops 0..480, setback 0..12, depth 0..3",
    "hinge.slab": "tops 0..480, setback 0..12, depth 0..3",
    "pivot": "pin >0..3",
    "pivot.slab": "edge -12..480, face -12..12",
    "pivot.jamb": "leg -12..480, out -48..12",
    "inactive.rebate": "width >0..6, depth >0..12",
    "lower": "gap 0..12",
    "lower.shelf": "thickness >0..6, pull 0..24, push 0..24, ends 0..24",
    "lock": "height >0..480, backset >0..48, bore >0..12, edge_bore >0..12, face_length >0..48,"
    " face_width >0..12, face_depth 0..3, throw 0..6",
    "lock.deadbolt": "above >0..48, backset >0..48, bore >0..12, edge_bore >0..12,"
    " face_length >0..48, face_width >0..12, face_depth 0..3, throw 0..6",
    "lock.handle": "projection >0..12, diameter >0..12, length >0..24, rose >0..12",
    "floor": "covering 0..6, across -10..10, out -10..10, profile -12..12",
    "carpet": "thickness >0..3, edge -480..480, reach >0..480",
    "threshold": "width >0..48, height >0..6, slope 1..90, edge -48..48",
    "casing": "thickness >0..12, width >0..48, reveal 0..12",
    "baseboard": "thickness >0..3, height >0..24",
    "wall_return": "hinge 0..480, strike 0..480, reach >0..480",
    "obstacle": "corner -480..480, size >0..480",
    "neighbour": "across -480..480, out -480..480, turn -360..360",
    "swing": "start >0..180, wanted >0..180, limit >0..270, seat 0..2",
    "shop": "jig_setback 0..12, bit >0..12, bushing >0..12, template_corner 0..6",
    "shop.tolerance": "setback 0..1, depth 0..1, bevel 0..10, rip 0..1, measuring 0..1, pins 0..1",
    "wanted": "strike 0..6, bottom 0..12, least_margin 0..1, hinge_stop 0..1, flush 0..12",
    "season": "temperatures -40..120, humidities 1..99, moisture 1..30, month 1..12, least 0..1",
    "finish": "slab 0..20, jamb 0..20, film >0..0.1",
}
LIMIT = re.compile(r"(?P<name>\w+) (?P<above>>?)(?P<low>[-\d.]+?)\.\.(?P<high>[-\d.]+)")
OUT_OF_LIMITS = re.compile(r"must be (at most .* either way|(from|above) .* up to .*)")
EACH = "[[obstacle]]\n[[neighbour]]\n[[slab.applied]]\n"


def is_out_of_limits(path: str, value: float) -> bool:
    """Return whether a value is refused by its key's own limits."""
    spec = NAMES.keys[path]
    own = spec if isinstance(spec, Key) else spec.plain
    assert own is not None
    typed = f"{value:g}"
    if own.few > 1:
        typed = f"[{', '.join([typed] * own.few)}]"
    key = re.sub(r"^(obstacle|neighbour|slab\.applied)\.", r"\1[0].", path)
    try:
        read_scene(OPENING + EACH, settings=[(key, typed)], alone=True)
    except SceneError as error:
        found = [each for each in error.problems if each.key.startswith(f"--set {key}")]
        return any(OUT_OF_LIMITS.fullmatch(each.expected.split(" (")[0]) for each in found)
    raise AssertionError("the boxes are not whole")


@pytest.mark.parametrize("table", LIMITS)
def test_a_number_is_held_to_its_own_limits(table: str) -> None:
    for name, above, low, high in LIMIT.findall(LIMITS[table]):
        key = f"{table}.{name}"
        spec = NAMES.keys[key]
        step = 1 if isinstance(spec, Key) and spec.kind is Kind.COUNT else 0.01
        assert not is_out_of_limits(key, float(high)), key
        assert is_out_of_limits(key, float(high) + step), key
        assert is_out_of_limits(key, float(low) - (0 if above else step)), key
        assert not is_out_of_limits(key, float(low) + (0.001 if above else 0)), key


def test_no_number_is_without_a_limit_and_a_further_slab_has_those_of_the_first() -> None:
    listed = {f"{table}.{each[0]}" for table in LIMITS for each in LIMIT.findall(LIMITS[table])}
    copies = re.compile(r"(inactive|lower)\.(slab|hinge|pivot)\..*")
    numbers = {
        key
        for key, spec in NAMES.keys.items()
        if (spec.plain if isinstance(spec, Table) else spec.kind not in (Kind.TEXT, Kind.FLAG))
    }
    assert {key for key in numbers if not copies.fullmatch(key)} == listed
    for key, spec in NAMES.keys.items():
        if found := re.fullmatch(r"(inactive|lower)\.((slab|hinge|pivot)\..*)", key):
            assert spec is NAMES.keys[found[2]]


# Each: a scene, a key, a value that is refused, what the message must say of the limit,
# and the nearest value that is taken.
REFUSED = [
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
    # Half of 3 1/2 in, less half a barrel of 0.44 in.
    (OPENING, "hinge.corner_radius", "1 9/16", "1 17/32 in", "1.53"),
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
    # pivots, leaves of their own width, further slabs
    (PIVOT, "pivot.slab.edge", "29 15/16", "the slab's width, 29 15/16 in", "29 7/8"),
    (PIVOT + "kind = 'centre'\n", "pivot.slab.face", "1 3/8", "thickness, 1 3/8 in", "1 1/4"),
    (PIVOT + "kind = 'centre'\n", "pivot.slab.face", "0", "within the slab", "1/16"),
    (PIVOT, "pivot.slab.face", "1/16", "proud of the wide face", "0"),
    (FLAT, "hinge.leaf_width", "0.22", "reach past the barrel, 7/32 in (0.220)", "1 1/4"),
    (FLAT, "hinge.offset.out", "-1.29", "reach past the barrel", "-1.27"),
    (PAIR, "inactive.slab.width", "40", "the active slab leaves, 30 1/4 in", "30"),
    (PAIR, "inactive.rebate.depth", "1 3/8", "thickness, 1 3/8 in", "1 1/4"),
    (PAIR, "inactive.hinge.slab.setback", "1 3/8", "the thickness of the slab", "1 1/4"),
    (PAIR, "inactive.slab.hinge_edge.radius", "5/8", "half the slab's thickness", "11/16"),
    (DUTCH, "lower.slab.height", "40 1/4", "the upper slab leaves, 40 1/8 in", "40 1/8"),
    (DUTCH, "lower.shelf.ends", "15", "half the slab's width, 14 31/32 in", "14"),
    (DUTCH, "lower.hinge.barrel", "0.19", "two leaves thick", "0.2"),
    # what is worked on the slab or fitted to it
    (OPENING, "slab.lip.depth", "1 3/8", "the slab's thickness, 1 3/8 in", "1 1/4"),
    (ARCH, "opening.arch", "15 1/8", "a half circle over its lower end, 15 1/16 in", "15"),
    (ASTRAGAL, "slab.astragal.overlap", "1 3/4", "under its width", "1 1/2"),
    (ASTRAGAL, "slab.astragal.stem", "7/8", "under its overlap", "3/4"),
    (APPLIED, "slab.applied[0].size[0]", "10", "at most 9 15/16 in", "9 15/16"),
    (GLASS + "bead = {}\n", "slab.glass.bead.width", "10", "beside the pane, 9 31/32 in", "9"),
    (LEVER, "lock.handle.length", "17 5/8", "to the hinge edge, 17 5/8 in", "17 1/2"),
    # what stands about the opening
    (STEEL, "opening.steel.backbend", "2 7/8", "half the jamb's depth, 2 7/8 in", "2 3/4"),
    (STEEL, "opening.steel.face", "1/4", "opening.thickness, 1/4 in", "3/8"),
    (OPENING + "[threshold]\n", "threshold.width", "2", "its two sides take, 2 in", "2 1/4"),
    # the swing and the shop
    (OPENING + "[swing]\nlimit = 60\n", "swing.start", "61", "the limit, 60 deg", "60"),
    (OPENING + "[swing]\nlimit = 60\n", "swing.wanted", "61", "the limit, 60 deg", "60"),
    (OPENING + '[shop]\nbit = "1/2"\n', "shop.bushing", "1/2", "wider than the bit", "5/8"),
]


@pytest.mark.parametrize(("text", "key", "value", "limit", "taken"), REFUSED)
def test_it_is_refused_with_its_limit_and_taken_within_it(
    text: str, key: str, value: str, limit: str, taken: str
) -> None:
    found = faults(text, f"{key}={value}")
    assert all(problem.key.startswith(f"--set {key.split('[')[0]}") for problem in found)
    assert all(problem.value for problem in found)
    assert any(limit in problem.expected for problem in found)
    read(text, f"{key}={taken}")


BENT = "[opening.hinge_leg]\nplumb = [0, '1/8', 0]\n[opening.strike_leg]\nplumb = [0, @, 0]\n"
THICK = "[opening]\nwidth = 3\nheight = 80\ndepth = 12\n[slab]\nthickness = @\n"
BEVELS = "hinge_edge = { bevel = 15 }\nstrike_edge = { bevel = 15 }\n"
ROUNDS = 'hinge_edge = "bullnose"\nstrike_edge = "bullnose"\n'
STATIONS = "[opening]\nwidth = [30, 30.1]\nheight = 80\nhinge_leg = { plumb = [0, 0] }\n"
STATIONS += "[opening.strike_leg]\nplumb = [0, @]\n"
TOPS = OPENING + "[hinge]\njamb = { tops = [7, 60] }\nslab = { tops = @ }\n"
WIDE = "[slab]\nwidth = '29 7/8'\n"

# Each: a scene with a place in it, what is taken there and what is refused for what else is
# said, the key that is told of, its value, and what the message must say of the limit.
TOGETHER = [
    (OPENING + BENT, "'-1/8'", "'1/8'", "opening.strike_leg.plumb", "", "29 7/8 in"),
    (
        WIDE + "[opening]\nheight = 80\nwidth = @\n",
        "[30, '29 7/8', 30]",
        "[30, '29 3/4', 30]",
        "slab.width",
        '"29 7/8"',
        "29 3/4 in",
    ),
    (
        "[opening]\nwidth = @\nheight = 80\n[stop]\nprojection = 12\n",
        "24.5",
        "24",
        "stop.projection",
        "12",
        "12 in",
    ),
    (GLASS + "up = @\n", "59", "60", "slab.glass.height", "20", "19 7/8 in"),
    (
        OPENING + "[hinge.jamb]\ntops = @\n",
        "[1, 40]",
        "[0, 40]",
        "hinge.slab.tops",
        "-1/8 in, taken as usual",
        "",
    ),
    (STATIONS, "-0.1", "'1/8'", "opening.strike_leg.plumb", "", "leave one leg's plumb out"),
    (THICK + BEVELS, "4", "6", "slab.width", "", "narrow face"),
    (THICK + ROUNDS, "2", "4", "slab.width", "", "narrow face"),
    (TOPS, "[6.75, 59.75]", "[7.25, 60.25]", "hinge.jamb.tops", "[7, 60]", "-1/4 in"),
    (f"{OPENING}[slab]\nconstruction = @\n", "'LVL'", "'+1'", "slab.construction", "+1", "letters"),
    (f"{OPENING}[slab]\nmaterial = @\n", "'no 2 pine'", "'12'", "slab.material", "12", "letters"),
]


@pytest.mark.parametrize("width", ["1/4", "1/2", "0.9"])
def test_a_leaf_that_is_taken_can_be_built_with_its_usual_corners(width: str) -> None:
    scene = read(OPENING, f"hinge.leaf_width.jamb={width}")
    assert scene.hinge.corner_radius <= float(parsed_length(width)) - scene.hinge.barrel / 2
    assert assemble(scene).fixed


@pytest.mark.parametrize(("text", "taken", "refused", "key", "value", "limit"), TOGETHER)
def test_what_does_not_go_with_what_else_is_said_is_refused(
    text: str, taken: str, refused: str, key: str, value: str, limit: str
) -> None:
    read(text.replace("@", taken))
    found = faults(text.replace("@", refused))
    assert [
        each for each in found if each.key == key and value in each.value and limit in each.expected
    ], found


def test_limits_are_told_once_and_as_assumed_in_one_message() -> None:
    (found,) = faults(OPENING, "opening.rabbet=5")
    assert found.hint == "opening.depth was taken as usual: give it"
    (found,) = faults(OPENING + "[slab]\nthickness = '3/4'\n[lock]\nface_width = '1/2'\n")
    assert (found.key, found.value) == ("lock.edge_bore", "1 in, taken as usual")
    found = faults(
        OPENING,
        "slab.width=31",
        "slab.height=90",
        "hinge.corner_radius=3",
        "hinge.slab.setback=1 1/2",
        "hinge.jamb.tops=[7, 9, 78]",
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
    assert [each.key for each in faults(LOCK, "lock.backset=1")] == ["--set lock.backset"]
    keys = {each.key for each in faults(OPENING, "hinge.leaf_length=30")}
    assert keys == {"hinge.slab.tops"}


# Bad, and for a check to find: none of these may be refused.
ONLY_BAD = {
    "a slab as wide as the opening": ["slab.width=30 1/8"],
    "a negative hinge margin": ["hinge.slab.depth=3/16", "hinge.jamb.depth=3/16"],
    "leaves proud of the wood": ["hinge.slab.depth=0", "hinge.jamb.depth=0"],
    "screws proud": ["hinge.screw_proud=1/16"],
    "more setback on the slab than on the jamb": ["hinge.slab.setback=3/8"],
    "a pin inside the slab": ["hinge.open_width=1 1/4"],
    "a slab proud of the rabbet": ["opening.rabbet=1"],
    "a slab through the floor": ["slab.height=80 1/2", "slab.head_margin=1/2"],
    "a covering thicker than the margin": ["floor.covering=1", "slab.height=79 3/4"],
    "hinges that do not line up": ["hinge.jamb.tops=[7, 37, 68.5]"],
    "pins off the line": ["hinge.slab.setback=[0.25, 0.5, 0.25]"],
    "twisted legs": ["opening.hinge_leg.twist=8", "opening.strike_leg.twist=[-8, 8]"],
    "cross-legged": ["opening.hinge_leg.cross=[0, 1]"],
    "bevelled the wrong way": ["slab.strike_edge.bevel=-5"],
    "an obstacle in the slab": ["obstacle=[{corner=[0, -2, 0], size=[30, 2, 80]}]"],
    "a limit past the wall": ["swing.limit=200"],
    "a setback of nothing": ["hinge.slab.setback=0"],
    "a delivered slab that is too small": ["slab.delivered.width=20"],
}


@pytest.mark.parametrize("settings", ONLY_BAD.values(), ids=ONLY_BAD.keys())
def test_what_is_only_bad_is_read(settings: list[str]) -> None:
    read(OPENING, *settings)
