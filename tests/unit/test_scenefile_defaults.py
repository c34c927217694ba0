"""A scene file is read as it is written, and what it leaves out is usual and listed."""

from __future__ import annotations

import io
from math import atan, radians, tan
from pathlib import Path

import pytest

from swingcheck.assembly.legs import hinge_leg_plan, strike_leg_plan
from swingcheck.errors import SceneError
from swingcheck.model import EdgeShape
from swingcheck.scenefile import read_scene
from tests.scene_files import OPENING, assert_holds, assumed, read

LINEN_CLOSET = """
title     = "Linen closet"
unit      = "in"
hinges_on = "right"
[opening]
width  = "30 1/8"
height = "80 1/2"
rabbet = "1 7/16"
depth  = "4 9/16"
[opening.hinge_leg]
plumb  = ["0", "0", "0"]
cross  = ["0", "1/16", "1/8"]
twist  = 0.5
[stop]
projection = "7/16"
width      = "1 1/4"
[slab]
width       = "29 7/8"
height      = "79 3/4"
thickness   = "1 3/8"
hinge_edge  = { bevel = 2 }
strike_edge = { bevel = "1/8 in 2" }
head_margin = "1/8"
material    = "red oak"
construction = "solid"
[hinge]
count          = 3
leaf_length    = "3 1/2"
open_width     = "3 1/2"
leaf_thickness = 0.097
closed_gap     = "1/16"
barrel         = 0.44
corner_radius  = "5/8"
jamb = { tops = ["7", "37 3/4", "68 1/2"], setback = "5/16", depth = 0.097 }
slab = { tops = ["6 7/8", "37 5/8", "68 3/8"], setback = ["1/4", "5/16", "1/4"], depth = 0.097 }
"""


LINEN_CLOSET_HOLDS = """
title Linen_closet; unit in; hinges_on right; opening.width 30.125; opening.height 80.5 80.5;
opening.rabbet.hinge 1.4375; opening.rabbet.strike 1.4375; opening.rabbet.head 1.4375;
opening.depth 4.5625; opening.hinge_leg.plumb 0 0 0; opening.hinge_leg.cross 0 1/16 1/8;
opening.hinge_leg.twist 0.5deg; opening.strike_leg.plumb 0; opening.strike_leg.cross 0;
opening.strike_leg.twist 0; stop.projection 7/16; stop.width 1.25; slab.width 29.875;
slab.height 79.75 79.75; slab.thickness 1.375; slab.hinge_edge.shape bevel;
slab.strike_edge.shape bevel; slab.hinge_edge.bevel 2deg; slab.head_margin 1/8;
slab.material red_oak; slab.construction solid; hinge.count 3; hinge.leaf_length 3.5;
hinge.open_width 3.5; hinge.leaf_thickness 0.097; hinge.closed_gap 1/16; hinge.barrel 0.44;
hinge.corner_radius 5/8; hinge.jamb.tops 7 37.75 68.5; hinge.jamb.setbacks 5/16 5/16 5/16;
hinge.slab.tops 6.875 37.625 68.375; hinge.slab.setbacks 1/4 5/16 1/4;
hinge.slab.depths 0.097 0.097 0.097; hinge.jamb.depths 0.097 0.097 0.097"""


def test_every_measurement_lands_where_it_belongs_and_every_default_is_listed_once() -> None:
    scene = read(LINEN_CLOSET)
    assert_holds(scene, LINEN_CLOSET_HOLDS)
    assert scene.slab.strike_edge.bevel == pytest.approx(atan(1 / 16), abs=1e-15)
    listed = assumed(scene)
    given = ("title", "unit", "hinges_on", "slab.width", "hinge.jamb.setback", "stop.width")
    assert not set(given) & set(listed)
    assert listed["opening.thickness"] == "3/4 in"
    assert listed["opening.strike_leg"] == "plumb, straight and square"
    assert "opening.hinge_leg" not in listed
    scene = read(OPENING)
    assert assumed(scene) == DEFAULTS
    assert [each.key for each in scene.assumed] == list(DEFAULTS)
    assert all(each.why for each in scene.assumed)


# Common practice, no source, but where one is named.
DEFAULTS = {
    "unit": "in",
    "hinges_on": "left",
    "opening.rabbet": "1 7/16 in",  # the slab and 1/16 in
    "opening.depth": "4 9/16 in",
    "opening.thickness": "3/4 in",
    "opening.hinge_leg": "plumb, straight and square",
    "opening.strike_leg": "plumb, straight and square",
    "stop.projection": "7/16 in",
    "stop.width": "1 1/4 in",
    "slab.width": "29 15/16 in",  # 3/16 in less: The Building Trades Pocketbook, 1899
    "slab.height": "79 7/8 in",
    "slab.thickness": "1 3/8 in",  # interior: NAVEDTRA 14069
    "slab.hinge_edge": "square",
    "slab.strike_edge": "square",
    "slab.head_margin": "1/8 in",
    "slab.material": "ponderosa pine",
    "slab.construction": "solid",
    "slab.grain": "flat",
    "hinge.count": "3",  # NFPA 80: two to 60 in, one more for each 30 in or part
    "hinge.leaf_length": "3 1/2 in",
    "hinge.open_width": "3 1/2 in",
    "hinge.leaf_thickness": "3/32 in (0.097)",
    "hinge.closed_gap": "1/16 in",
    "hinge.barrel": "7/16 in (0.440)",
    "hinge.corner_radius": "5/8 in",
    "hinge.screw_proud": "0 in",
    "hinge.jamb.tops": "7 1/8 in, 36 5/16 in, 65 1/2 in",
    "hinge.jamb.setback": "5/16 in",
    "hinge.jamb.depth": "3/32 in (0.097)",
    "hinge.slab.tops": "7 in, 36 3/16 in, 65 3/8 in",
    "hinge.slab.setback": "1/4 in",  # The Building Trades Pocketbook, 1899
    "hinge.slab.depth": "3/32 in (0.097)",
    "floor": "level, with nothing laid on it",
    "swing.start": "90 deg",
    "swing.wanted": "90 deg",
    "swing.limit": "180 deg",
    "swing.seat": "1/32 in",
    "shop.tolerance": "setback 1/64 in, depth 1/64 in, bevel 0.5 deg, rip 1/64 in,"
    " measuring 1/32 in, pins 1/32 in",
    "site": "no fire rating, no exit, no old paint, no glass, no access, no closer",
}


# The same of what is only there when it is said; where a source is named, the numbers are its.
OPTIONAL = {
    "[opening.hinge_leg]": "opening.hinge_leg.plumb 0 in; opening.hinge_leg.cross 0 in;"
    " opening.hinge_leg.twist 0 deg",
    # 2 in faces, 5/8 in stops, 1 9/16 in for 1 3/8: the Steel Door Institute's, from memory
    "[opening.steel]": "opening.rabbet 1 9/16 in; opening.depth 5 3/4 in;"
    " opening.thickness 1/4 in; opening.steel.face 2 in; opening.steel.backbend 1/2 in;"
    " stop.projection 5/8 in; stop.width 2 5/8 in",
    # 13 x 25.5 mm: DIN 18101
    "[slab]\nlip = {}\n[casing]": "opening.rabbet 1 in (1.004); slab.lip.width 33/64 in (0.512);"
    " slab.lip.depth 1 in (1.004); hinge.offset.across 33/64 in (0.512);"
    " casing.thickness 11/16 in; casing.width 2 1/4 in; casing.reveal 41/64 in (0.637)",
    "[slab]\nwarp = { bow = 0.1 }": "slab.warp.cup 0 in; slab.warp.twist 0 in",
    "[slab]\nglass = { width = 10, height = 20, bead = {} }": "slab.glass.thickness 1/4 in;"
    " slab.glass.across 9 31/32 in; slab.glass.up 29 15/16 in; slab.glass.bead.width 1/2 in;"
    " slab.glass.bead.proud 1/4 in; slab.glass.bead.face both",
    "[slab.astragal]": "slab.astragal.face pull; slab.astragal.width 1 3/4 in;"
    " slab.astragal.thickness 1/2 in; slab.astragal.overlap 7/8 in",
    "[slab.delivered]": "slab.delivered.width 29 15/16 in; slab.delivered.height 79 7/8 in;"
    " slab.delivered.share even",
    "[pivot]": "pivot.kind offset; pivot.slab.edge 3/4 in; pivot.slab.face -3/4 in;"
    " pivot.jamb.leg 7/8 in; pivot.jamb.out 3/4 in; pivot.pin 1/2 in",
    "[inactive]\nrebate = {}": "slab.width 14 15/16 in;"
    " inactive.slab the other slab's thickness, edges and material;"
    " inactive.slab.width 14 15/16 in;"
    " inactive.slab.height 79 7/8 in; inactive.slab.head_margin 1/8 in;"
    " inactive.hinge the other slab's, at the usual heights;"
    " inactive.rebate.width 33/64 in (0.512); inactive.rebate.depth 11/16 in",
    "[slab]\nheight = 40\nhead_margin = '1/8'\n[hinge]\njamb = { tops = [7, 30] }\n"
    "slab = { tops = ['6 7/8', '29 7/8'] }\n[lower]\nshelf = {}": "lower.slab the other slab's"
    " thickness, edges and material; lower.slab.width 29 15/16 in; lower.slab.height 39 in;"
    " lower.hinge the other slab's, at the usual heights; lower.gap 1/8 in;"
    " lower.shelf.thickness 3/4 in; lower.shelf.pull 1 in; lower.shelf.push 1 in;"
    " lower.shelf.ends 11/16 in",
    # the 160 preparation (ALOA dictionary)
    "[lock]\ndeadbolt = {}\nhandle = {}": "lock.height 36 in; lock.backset 2 3/8 in;"
    " lock.bore 2 1/8 in; lock.edge_bore 1 in; lock.face_length 2 1/4 in; lock.face_width 1 in;"
    " lock.face_depth 1/8 in; lock.throw 1/2 in; lock.deadbolt.above 5 1/2 in;"
    " lock.deadbolt.backset 2 3/8 in; lock.deadbolt.bore 2 1/8 in; lock.deadbolt.edge_bore 1 in;"
    " lock.deadbolt.face_length 2 1/4 in; lock.deadbolt.face_width 1 in;"
    " lock.deadbolt.face_depth 1/8 in; lock.deadbolt.throw 1 in; lock.handle.kind knob;"
    " lock.handle.face both; lock.handle.projection 2 1/2 in; lock.handle.diameter 2 1/8 in;"
    " lock.handle.rose 2 1/2 in",
    "[lock]\nheight = 36\nbackset = 2\nbore = 2\nedge_bore = 1\nface_length = 2\nface_width = 1\n"
    "face_depth = 0\nthrow = 0\nhandle = { kind = 'lever' }": "lock.handle.face both;"
    " lock.handle.projection 2 1/2 in; lock.handle.diameter 3/4 in; lock.handle.length 4 1/2 in;"
    " lock.handle.rose 2 1/2 in",
    "[floor]": "floor.covering 0 in; floor.across level; floor.out level",
    "[carpet]": "carpet.thickness 1/2 in; carpet.edge 0 in; carpet.reach 90 3/8 in",
    # 3/32 in over a saddle: The Building Trades Pocketbook, 1899; 1/2 in, 1 in 2: 2010 ADA 404.2.5
    "[threshold]\n[slab]\nheight = '79 7/8'": "threshold.width 4 9/16 in; threshold.height 1/2 in;"
    " threshold.slope 26.57 deg; threshold.edge 0 in",
    "[casing]": "casing.thickness 11/16 in; casing.width 2 1/4 in; casing.reveal 1/4 in",
    "[baseboard]": "baseboard.thickness 9/16 in; baseboard.height 3 1/2 in",
    "[wall_return]\nhinge = 4": "wall_return.reach 29 15/16 in",
    "[shop]\ntolerance = { rip = 0 }": "shop.tolerance.setback 1/64 in;"
    " shop.tolerance.depth 1/64 in; shop.tolerance.bevel 0.5 deg;"
    " shop.tolerance.measuring 1/32 in; shop.tolerance.pins 1/32 in",
    "[site]\nexit = true": "site.fire_rated no; site.old_paint no; site.glass no;"
    " site.access none; site.closer none",
    "[finish]": "finish.slab 2; finish.jamb 2; finish.film 0 in (0.002)",
}


@pytest.mark.parametrize(("text", "expected"), OPTIONAL.items())
def test_what_is_usual_of_a_thing_that_is_there(text: str, expected: str) -> None:
    found = assumed(read(OPENING + text))
    told = {key: value for key, value in found.items() if value != DEFAULTS.get(key)}
    assert told == dict(each.split(" ", 1) for each in expected.split("; "))


TOPS = '["7", "37 3/4", "68 1/2"]'
BOTH_TOPS = '[hinge]\njamb = {tops = [7, 60]}\nslab = {tops = ["6 13/16", "59 15/16"]}\n'
BENT = "[opening.hinge_leg]\nplumb = [0, '1/4', 0]\n[opening.strike_leg]\nplumb = [0, '-1/4', 0]"
FLOOR = '[floor]\ncovering = "1/4"\nacross = "1/8 in 12"\nout = 0.5\nprofile = [0, "1/16", 0]\n'
BOX = '[[obstacle]]\nname = "side wall"\ncorner = [-6, "40", 0]\nsize = [6, "1/2", 96]\n'
SAID = """
[swing]
wanted = 110
[shop]
jig_setback = "1/4"
bit = "1/2"
bushing = "5/8"
template_corner = 0
[shop.tolerance]
setback = "1/32"
bevel = 1
[site]
fire_rated = true
closer = "back-check"
[wanted]
strike = "3/32"
[season]
temperatures = ["21 C", 70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70]
humidities = [30, 30, 35, 40, 45, 50, "55 %", 55, 50, 45, 40, 35]
moisture = 7.5
month = 2
[finish]
jamb = 1
[slab.delivered]
width = 30
edge_strip = "3/4"
share = "hinge"
[slab.glass]
width = 10
height = 20
up = 40
"""

# What stands behind the plain opening, or is one of its own, and what a scene then holds.
HOLDS = {
    "": "slab.width 29.9375; slab.height 79.875 79.875; slab.glass None; slab.delivered None;"
    " hinge.slab.tops 7 36.1875 65.375; hinge.jamb.tops 7.125 36.3125 65.5; lock None;"
    " hinge.jamb.depths 0.097 0.097 0.097; hinge.slab.depths 0.097 0.097 0.097; casing None;"
    " slab.lip None; slab.warp None; threshold None; carpet None;"
    " swing.start 90deg; swing.wanted 90deg; swing.limit 180deg; swing.seat 1/32; wanted None;"
    " season None; finish None; obstacles",
    # tops on one side place the other's, and on both tell the head margin, in the mean
    f"[hinge.jamb]\ntops = {TOPS}\n[slab]\nhead_margin = 0.25": "hinge.slab.tops 6.75 37.5 68.25",
    f"[hinge.slab]\ntops = {TOPS}\n[slab]\nhead_margin = 0.25": "hinge.jamb.tops 7.25 38 68.75",
    BOTH_TOPS: "slab.head_margin 1/8; slab.height 79.875 79.875",
    # a slab is fitted under its head and between its legs where they are nearest
    "[opening]\nwidth = 30\nheight = ['80 1/2', '80 1/4']": "slab.height 79.875 79.625",
    "[opening]\nwidth = [30, 29.5, 30]\nheight = 80": "slab.width 29.3125",
    BENT: "slab.width 29.9375",
    "[floor]\ncovering = '3/8'": "slab.height 79.5 79.5",
    "[slab]\nthickness = '1 3/4'": "opening.rabbet.hinge 1.8125",
    "[swing]\nlimit = 80": "swing.start 80deg; swing.wanted 80deg; swing.limit 80deg",
    FLOOR: "floor.covering 1/4; floor.across 1/96; floor.profile 0 1/16 0",
    "[floor]\nprofile = []": "floor.profile",
    # a lip is 13 by 25 1/2 mm, and its knuckles stand beside it
    "[slab]\nthickness = '40 mm'\n[slab.lip]": "slab.lip.hinge 130/254; slab.lip.strike 130/254;"
    " slab.lip.head 130/254; slab.lip.depth 255/254; opening.rabbet.hinge 255/254;"
    " hinge.offset.across 130/254",
    # it may be on one edge alone, and casing keeps clear of it
    "[slab.lip]\nwidth = '1/2'\nhinge = 0\nhead = 0\ndepth = '7/8'\n[casing]": "slab.lip.hinge 0;"
    " slab.lip.strike 1/2; slab.lip.head 0; slab.lip.depth 7/8; hinge.offset.across 0;"
    " hinge.offset.out 0; casing.reveal 0.625",
    # a shallow saddle is wide enough for its two sides: 2 1/2 times 1/2 in over tan 5 deg
    "[threshold]\nslope = 5": f"threshold.width {1.25 / tan(radians(5))}",
    # a lever reaches half way from the bore to the hinge edge of a narrow slab
    "[slab]\nwidth = 10\n[lock.handle]\nkind = 'lever'": "lock.handle.length 3.8125",
    # from memory of the Steel Door Institute's details: 1 15/16 in for 1 3/4, on both sides
    "[opening.steel]\n[slab]\nthickness = '1 3/4'": "opening.rabbet.hinge 1.9375; stop.width 1.875",
    # readings of a warp that are all nothing are a flat slab
    "[slab]\nwarp = { bow = 0 }": "slab.warp None",
    "[slab]\nwarp = { bow = '-1/8', twist = '1/16' }": "slab.warp.bow -1/8; slab.warp.cup 0;"
    " slab.warp.twist 1/16",
    SAID: "swing.wanted 110deg; shop.jig_setback 1/4; shop.bit 1/2; shop.bushing 5/8;"
    " shop.template_corner 0; shop.setback_tolerance 1/32; shop.depth_tolerance 1/64;"
    " shop.bevel_tolerance 1deg; site.fire_rated True; site.exit False; site.closer back-check;"
    " wanted.strike 3/32; wanted.bottom None; season.moisture 7.5; season.month 2;"
    " season.temperatures 69.8 70 70 70 70 70 70 70 70 70 70 70; season.least None;"
    " season.humidities 30 30 35 40 45 50 55 55 50 45 40 35; finish.slab 2; finish.jamb 1;"
    " finish.film 0.0015; slab.delivered.width 30; slab.delivered.height 79.875;"
    " slab.delivered.edge_strip 3/4; slab.delivered.share hinge; slab.glass.across 9.96875;"
    " slab.glass.up 40; slab.grain flat",
}


@pytest.mark.parametrize(("text", "told"), HOLDS.items(), ids=range(len(HOLDS)))
def test_what_is_said_and_what_follows_from_it(text: str, told: str) -> None:
    assert_holds(read(text if text.startswith("[opening]") else OPENING + text), told)


def test_slopes_head_margins_and_millimetres_are_told_as_they_were_said() -> None:
    assert read(OPENING + FLOOR).floor.out == pytest.approx(tan(radians(0.5)), abs=1e-15)
    told = {each.key: each.why for each in read(OPENING + BOTH_TOPS).assumed}
    assert "tops" in told["slab.head_margin"]
    scene = read('unit = "mm"\n[opening]\nwidth = 765\nheight = "2040 mm"\n')
    assert scene.opening.width == (765 / 25.4,)
    assert assumed(scene)["slab.thickness"] == "34.9 mm"
    assert assumed(scene)["slab.width"] == "760.2 mm"


@pytest.mark.parametrize(
    ("height", "count"),
    # NFPA 80: two hinges to 60 in of height, one more for each further 30 in or part of it
    [("60", 2), ("60 1/8", 3), ("90", 3), ("90 1/8", 4), ("120", 4), ("121", 5)],
)
def test_hinges_are_counted_by_the_slabs_height(height: str, count: int) -> None:
    hinge = read(OPENING, "opening.height=130", f"slab.height={height}").hinge
    assert hinge.count == count
    assert len(hinge.slab.tops) == len(hinge.jamb.depths) == count


@pytest.mark.parametrize(
    ("thickness", "width", "length", "gauge"),
    # leaf lengths as the hardware trade recommends them; gauges from memory, ANSI/BHMA A156.7
    [
        ("1 3/8", "32", 3.5, 0.097),
        ("1 3/8", "32 1/8", 4.0, 0.130),
        ("1 3/4", "36", 4.5, 0.134),
        ("1 3/4", "36 1/8", 5.0, 0.146),
        ("1 3/4", "48 1/8", 6.0, 0.160),
        ("2 1/4", "42", 5.0, 0.190),
        ("2 1/4", "42 1/8", 6.0, 0.203),
    ],
)
def test_hinges_are_sized_by_the_slab(
    thickness: str, width: str, length: float, gauge: float
) -> None:
    sizes = (f"slab.width={width}", f"slab.thickness={thickness}")
    hinge = read(OPENING, "opening.width=60", *sizes).hinge
    assert (hinge.leaf_length, hinge.open_width) == (length, length)
    assert hinge.leaf_thickness == gauge
    assert hinge.barrel >= 2 * gauge
    assert hinge.corner_radius == (0.625 if length <= 4 else 0.25)


def test_short_slabs_marked_files_and_standard_input_are_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hinge = read(OPENING, "opening.height=24", "slab.height=23").hinge
    (first, second), length = hinge.slab.tops, hinge.leaf_length
    assert 0 < first < first + length < second < second + length < 23
    path = tmp_path / "hall_closet.toml"
    path.write_bytes(b"\xef\xbb\xbf" + OPENING.replace("\n", "\r\n").encode())
    assert_holds(read_scene(path), "title hall_closet; opening.width 30.125")
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(OPENING.encode())))
    assert read_scene(Path("-")).title == "Untitled"


RABBETS = {
    'rabbet = "1 1/2"': ((1.5,), (1.5,), (1.5,)),
    'rabbet = ["1 1/2", "1 5/8"]': ((1.5, 1.625), (1.5, 1.625), (1.5,)),
    'rabbet = { hinge = "1 1/2" }': ((1.5,), (1.5,), (1.5,)),
    'rabbet = { strike = "1 1/2" }': ((1.5,), (1.5,), (1.5,)),
    'rabbet = { hinge = ["1 1/2", 2], strike = "1 5/8" }': ((1.5, 2.0), (1.625,), (1.5, 1.625)),
    'rabbet = { hinge = "1 1/2", strike = 2, head = ["1 5/8", 2] }': ((1.5,), (2.0,), (1.625, 2.0)),
}


@pytest.mark.parametrize(("line", "expected"), RABBETS.items())
def test_a_rabbet_is_one_value_a_list_or_a_table(
    line: str, expected: tuple[tuple[float, ...], ...]
) -> None:
    rabbet = read(OPENING + line).opening.rabbet
    assert (rabbet.hinge, rabbet.strike, rabbet.head) == expected


EDGES = {
    '"square"': (EdgeShape.SQUARE, 0.0, 0.0),
    '"Square"': (EdgeShape.SQUARE, 0.0, 0.0),
    "{ bevel = 0 }": (EdgeShape.SQUARE, 0.0, 0.0),
    "{ bevel = 3.5 }": (EdgeShape.BEVEL, radians(3.5), 0.0),
    "{ bevel = -2 }": (EdgeShape.BEVEL, radians(-2), 0.0),
    '{ bevel = "1/8 in 2" }': (EdgeShape.BEVEL, atan(1 / 16), 0.0),
    '"bullnose"': (EdgeShape.RADIUS, 0.0, 0.6875),
    '{ radius = "2 1/8" }': (EdgeShape.RADIUS, 0.0, 2.125),
}


@pytest.mark.parametrize(("text", "expected"), EDGES.items())
@pytest.mark.parametrize("side", ["hinge_edge", "strike_edge"])
def test_an_edge_is_square_bevelled_or_round(
    side: str, text: str, expected: tuple[EdgeShape, float, float]
) -> None:
    edge = getattr(read(f"{OPENING}[slab]\n{side} = {text}\n").slab, side)
    assert edge.shape is expected[0]
    assert (edge.bevel, edge.radius) == pytest.approx(expected[1:], abs=1e-15)


ABSENT = ("lock", "casing", "threshold", "stop")


def test_what_is_said_not_to_be_there_is_not_and_obstacles_have_names() -> None:
    none = read("".join(f'{key} = "none"\n' for key in ABSENT) + OPENING)
    assert_holds(none, ";".join(f"{key} None" for key in ABSENT))
    assert not any(key.startswith("stop") for key in assumed(none))
    text = BOX + BOX.replace('name = "side wall"\n', "")
    first, second = read(OPENING + text).obstacles
    assert (first.name, first.corner, first.size) == ("side wall", (-6, 40, 0), (6, 0.5, 96))
    assert second.name == "obstacle 2"


def test_one_width_is_the_width_at_every_station_and_the_other_leg_follows() -> None:
    lean = "plumb = [0, '1/8', '1/4']"
    for leg in ("hinge", "strike"):
        opening = read(OPENING + f"[opening.{leg}_leg]\n{lean}\n").opening
        gaps = [
            float(strike_leg_plan(opening, z).edge[0] - hinge_leg_plan(opening, z).edge[0])
            for z in (0.0, 20.125, 40.25, 80.5)
        ]
        assert gaps == pytest.approx([30.125] * 4, abs=1e-12)
    widths = "[opening]\nheight = 80\nwidth = [30, '29 7/8', '29 3/4']\n"
    told = read(widths + f"[opening.strike_leg]\n{lean}\n").opening
    assert told.hinge_leg.plumb == pytest.approx((0.0, 0.0, 0.0), abs=1e-12)
    both = f"[opening.hinge_leg]\n{lean}\n[opening.strike_leg]\nplumb = [0, 0, 0.01]\n"
    with pytest.raises(SceneError, match="29 7/8 in"):
        read(OPENING.replace("30 1/8", "30") + both)
