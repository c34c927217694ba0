"""Every fault of a scene file comes in one message, under the key as it was typed."""

from __future__ import annotations

from pathlib import Path

import pytest

from swingcheck.errors import Problem, SceneError
from swingcheck.scenefile import read_scene
from tests.scene_files import OPENING, faults


def file_fault(path: Path) -> Problem:
    """Return the one fault of a file."""
    with pytest.raises(SceneError) as caught:
        read_scene(path)
    assert caught.value.path == str(path)
    (found,) = caught.value.problems
    return found


# A line behind the opening's size, and what is said of it: key, value, expected, hint.
LINES = [
    ("rabet = 1", "opening.rabet", "1", "no key", "opening.rabbet"),
    ("hight = 1", "opening.hight", "1", "no key", "opening.height"),
    ("Depth = 4", "opening.Depth", "4", "no key", "opening.depth"),
    ("material = 'oak'", "opening.material", '"oak"', "no key", "slab.material"),
    ("stop = 'none'", "opening.stop", '"none"', "no key", "above the first [table]"),
    ("xyzzy = 1", "opening.xyzzy", "1", "no key", ""),
    ("'a b' = 1", 'opening."a b"', "1", "no key", ""),
    ("depth = '4,5'", "opening.depth", '"4,5"', "a length", "point"),
    ("depth = '6-8'", "opening.depth", '"6-8"', "a length", "feet and inches"),
    ("depth = 'deep'", "opening.depth", '"deep"', "a length", ""),
    ("depth = true", "opening.depth", "true", "a length", ""),
    ("depth = nan", "opening.depth", "nan", "a length", ""),
    ("depth = -inf", "opening.depth", "-inf", "a length", ""),
    ("depth = 1979-05-27", "opening.depth", "1979-05-27", "a length", ""),
    ("depth = [4, 4]", "opening.depth", "[4, 4]", "one value", ""),
    ("depth = { deep = 4 }", "opening.depth", "{ deep = ... }", "a length", ""),
    ("depth = 765", "opening.depth", "765", "up to 48 in", 'unit = "mm"'),
    ("rabbet = []", "opening.rabbet", "[]", "1 to 25 values", ""),
    ("rabbet = [1, 'x']", "opening.rabbet[1]", '"x"', "a length", ""),
    ("rabbet = [[1], 1]", "opening.rabbet[0]", "[1]", "a length", ""),
    ("rabbet = { hinge = [1, -1] }", "opening.rabbet.hinge[1]", "-1", "above 0", ""),
    ("rabbet = { hinges = 1 }", "opening.rabbet.hinges", "1", "no key", "opening.rabbet.hinge"),
    ("hinge_leg = 3", "opening.hinge_leg", "3", "a table", ""),
    ("hinge_leg.twist = [0, 'x', 0]", "opening.hinge_leg.twist[1]", '"x"', "an angle", ""),
    ("[slab]\nhinge_edge = 2", "slab.hinge_edge", "2", "bevel", "{ bevel = 2 }"),
    ("[slab]\nhinge_edge = 'rounded'", "slab.hinge_edge", '"rounded"', '"bullnose"', ""),
    ("[slab]\nhinge_edge = {bevel=1,radius=1}", "slab.hinge_edge", "{ bevel", "not several", ""),
    ("[slab]\nhinge_edge = {bevle=1}", "slab.hinge_edge.bevle", "1", "no key", "bevel"),
    ("[slab]\nheight = [1, 2, 3]", "slab.height", "[1, 2, 3]", "1 to 2 values", ""),
    ("[slab]\nmaterial = 3", "slab.material", "3", "words", ""),
    ("[slab]\nmaterial = ''", "slab.material", '""', "words", ""),
    ('[slab]\nmaterial = "oak\\nash"', "slab.material", '"oak?ash"', "one line", ""),
    ("[slab]\ngrain = 'rift'", "slab.grain", '"rift"', '"quarter"', ""),
    ("[hinge]\ncount = 2.5", "hinge.count", "2.5", "a whole number", ""),
    ("[hinge]\ncount = '3'", "hinge.count", '"3"', "a whole number", ""),
    ("[hinge]\ncount = 4\njamb.tops = [7, 60]", "hinge.jamb.tops", "[7, 60]", "4 values", ""),
    ("[hinge.jamb]\ntops = 7", "hinge.jamb.tops", "7", "a list", ""),
    ("[hinge.jamb]\ntops = [7]", "hinge.jamb.tops", "[7]", "2 to 12 values", ""),
    ("[hinge.jamb]\nsetback = [1, 1]\ndepth = [0, 0, 0]", "hinge.jamb.depth", "[0", "2 values", ""),
    ("[hinge.slab]\nset_back = 1", "hinge.slab.set_back", "1", "no key", "hinge.slab.setback"),
    ("[floor]\nacross = 'steep'", "floor.across", '"steep"', "a slope", ""),
    ("[site]\nexit = 'yes'", "site.exit", '"yes"', "true or false", ""),
    ("[site]\nexit = 1", "site.exit", "1", "true or false", ""),
    ("[site]\ncloser = true", "site.closer", "true", '"back-check"', ""),
    ("[swing]\nwanted = 'wide'", "swing.wanted", '"wide"', "an angle", ""),
    ("[season]\nmonth = 13", "season.month", "13", "from 1 up to 12", ""),
    ("[season]\nhumidities = [30]", "season.humidities", "[30]", "12 values", ""),
    ("[lock.deadblot]\nabove = 5", "lock.deadblot", "{ above", "no key", "lock.deadbolt"),
    ("[obstacle]\nname = 'x'", "obstacle", "{ name", "[[obstacle]]", ""),
    ("[[obstacle]]\nsize = [1, 1, 1]", "obstacle[0].corner", "", "missing", ""),
    ("[[obstacle]]\ncorner=[0,1]\nsize=[1,1,1]", "obstacle[0].corner", "[0, 1]", "3 values", ""),
    ("[[obstacle]]\ncorner=[0,1,'x']\nsize=[1,1,1]", "obstacle[0].corner[2]", '"x"', "length", ""),
    ("[[obstacle]]\ncorner=[0,1,2]\nsise=[1,1,1]", "obstacle[0].sise", "[1, 1", "no key", "size"),
    ("[hinges]\ncount = 3", "hinges", "{ count = ... }", "no key", "hinge"),
    ("[slab.glass]\nwidth = 3", "slab.glass.height", "", "missing", ""),
]


@pytest.mark.parametrize(("line", "key", "value", "expected", "hint"), LINES)
def test_one_fault_is_told_with_key_value_and_what_was_expected(
    line: str, key: str, value: str, expected: str, hint: str
) -> None:
    (found,) = faults(OPENING + line + "\n")
    assert found.key == key
    assert found.value.startswith(value)
    assert bool(found.value) == bool(value)
    assert expected in found.expected
    assert hint in found.hint
    assert bool(found.hint) == bool(hint)


TOPS = [
    ("unit = 'inches'", "unit", '"in", "mm"'),
    ("unit = 3", "unit", '"in", "mm"'),
    ("hinges_on = 'top'", "hinges_on", '"left", "right"'),
    ("title = 3", "title", "words"),
    ("stop = 'half'", "stop", '"none" or a table'),
    ("stop = 3", "stop", '"none" or a table'),
    ("lock = 'yes'", "lock", '"none" or a table'),
    ("slab = 'oak'", "slab", "a table [slab]"),
    ("hinge = []", "hinge", "a table [hinge]"),
    ("obstacle = [1, 2]", "obstacle", "[[obstacle]]"),
]


@pytest.mark.parametrize(("line", "key", "expected"), TOPS)
def test_the_lines_above_the_tables(line: str, key: str, expected: str) -> None:
    (found,) = faults(line + "\n" + OPENING)
    assert found.key == key
    assert expected in found.expected


def test_what_is_missing_is_named_once_beside_all_other_faults() -> None:
    assert [each.key for each in faults("")] == ["opening.width", "opening.height"]
    assert [each.key for each in faults("opening = 3")] == ["opening"]
    assert [each.key for each in faults("[openning]\nwidth = 3\nheight = 3")] == ["openning"]
    assert [each.key for each in faults("[opening]\nwdith = 30\nheight = 80")] == ["opening.wdith"]
    (missing,) = faults("[opening]\nwidth = 30")
    assert str(missing) == "opening.height: missing: floor to head"
    text = """
    titel = "Closet"
    unit = "in"
    [opening]
    width = "30 1/8"
    height = "eighty"
    [slabb]
    widht = 29
    hinge_edge = { bevle = 2 }
    [hinge]
    count = true
    barrel = -1
    slab.setback = ["1/4", "x", "1/4"]
    [stop]
    projection = [1, 2]
    [[obstacle]]
    corner = [0, 0]
    """
    found = faults(text)
    assert {each.key for each in found} == {
        "titel",
        "opening.height",
        "slabb",
        "slabb.widht",
        "slabb.hinge_edge.bevle",
        "hinge.count",
        "hinge.barrel",
        "hinge.slab.setback[1]",
        "stop.projection",
        "obstacle[0].corner",
        "obstacle[0].size",
    }
    message = str(SceneError("closet.toml", found))
    assert message.startswith("closet.toml: 11 faults\n")
    assert '  hinge.slab.setback[1] = "x": must be a length' in message
    text = OPENING + '[slab]\nwidth = 31\nthickness = "thin"\n[hinge.slab]\nsetback = "1 3/8"\n'
    # the setback is only too much for a slab of the usual thickness: nothing is known of this one
    assert [each.key for each in faults(text)] == ["slab.thickness", "slab.width"]


# A line that is not TOML, and what its message says.
SLIPS = [
    ("width = 30 1/8", 'width = "30 1/8"'),
    ("width = 30-1/8", 'width = "30-1/8"'),
    ("width = 1/8", 'width = "1/8"'),
    ('width = 30"', "width = '30\"'"),
    ("width = 6' 8\"", "width = '''6' 8\"'''"),
    ('width = "30 1/8""', "leave the inch mark out"),
    ("width = '6' 8'", "'''6' 8'''"),
    ("width = \u201c30 1/8\u201d", "straight quotes"),
    ('width = ["30", 30 1/8]', "in quotes"),
    ("width = oak", 'width = "oak"'),
    ("width =", "no value"),
    ('width = "30', "closing quote is missing"),
    ("width = 07", 'width = "07"'),
]


@pytest.mark.parametrize(("line", "hint"), SLIPS)
def test_a_line_that_is_not_toml_is_told_with_its_number_and_a_way_out(
    line: str, hint: str
) -> None:
    (found,) = faults("[opening]\nheight = 80\n" + line + "\n[slab]\n")
    assert "line 3" in found.expected
    assert hint in str(found)


def test_several_lines_that_are_not_toml_or_one_open_list_are_told() -> None:
    text = '[opening]\nwidth = 30 1/8\nheight = 80 1/2\n[slab]\nwidht = 3\nheight = 1/2"\n'
    found = faults(text)
    assert [each.key for each in found] == ["", "", "", "slab.widht"]
    for line, each in zip((2, 3, 6), found, strict=False):
        assert f"line {line}," in each.expected
    found = faults('[hinge.jamb]\ntops = ["7", "37"\nsetback = 1\nwrong = 30 1/8\n')
    assert len(found) == 1
    assert "line 3" in found[0].expected
    (found_end,) = faults('[opening]\nwidth = """30\nheight = 3')
    assert "end of the file" in found_end.expected


@pytest.mark.parametrize(
    "text", ["[opening]\nwidth = 30\nheight = 80\nwidth = 31\n", OPENING + "[opening]\n"]
)
def test_a_key_given_twice_is_told_at_its_second_line(text: str) -> None:
    (found,) = faults(text)
    assert "line 4" in found.expected and "given twice" in found.expected


def test_faults_and_nesting_without_end_are_counted_not_listed() -> None:
    assert len(faults("".join(f"k{k} = 1 {k}/8\n" for k in range(200)))) == 20
    found = faults("".join(f"key_{k} = {k}\n" for k in range(30_000)))
    assert len(found) == 201
    assert found[-1].expected == "and 29802 more faults"
    boxes = "".join(f"[[obstacle]]\nname = {k}\n" for k in range(10_000))
    (one,) = faults(OPENING + boxes)
    assert one.expected == "must be at most 100"
    hundred = boxes[: boxes.index("[[obstacle]]\nname = 100\n")]
    assert len(faults(OPENING + hundred)) == 201
    for text in ("x = " + "[" * 1_500, "[\n" * 100_000, "x = [\n" + "[\n" * 100_000):
        (found,) = faults(text)
        assert "nested too deep" in found.expected or "line 1" in found.expected
    (found,) = faults("x = [\n" + "[\n" * 100_000)
    assert "nested too deep" in found.expected


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("depth = " + "9" * 1_900, "opening.depth"),
        ("depth = 0x" + "f" * 1_900, "opening.depth"),
        ("[hinge]\ncount = " + "9" * 1_900, "to 12"),
        ("depth = " + "9" * 5_000, "line 4"),
    ],
    ids=["digits", "hex", "count", "past reading"],
)
def test_numbers_without_end_are_refused(line: str, told: str) -> None:
    (found,) = faults(f"{OPENING}{line}\n")
    assert told in str(found)
    assert len(found.value) < 60


def test_a_missing_file_and_what_is_no_text_are_told(tmp_path: Path) -> None:
    (tmp_path / "linen.toml").write_text(OPENING)
    found = file_fault(tmp_path / "linnen.toml")
    assert found.expected == "no such file"
    assert "linen.toml" in found.hint
    assert file_fault(tmp_path / "zzz.toml").hint == ""
    assert file_fault(tmp_path / "no" / "such.toml").hint == ""
    assert "folder" in file_fault(tmp_path).expected
    path = tmp_path / "scene.toml"
    path.write_bytes(b"\x00\x01\x02\x7fELF" * 50)
    assert "not a text" in file_fault(path).expected
    path.write_bytes(OPENING.encode("utf-16"))
    assert "UTF-16" in file_fault(path).expected
    path.write_bytes(b"[opening]\n# f\xe9es\nwidth = 3\n")
    assert "line 2" in file_fault(path).expected
    path.write_bytes(b"# " + b"x" * 78 + b"\n")
    path.write_bytes((b"# " + b"x" * 78 + b"\n") * 130_000)
    assert path.stat().st_size > 10_000_000
    assert "1 MB" in file_fault(path).expected
    assert "cannot be read" in file_fault(Path("a\0b")).expected
    assert "cannot be read" in file_fault(Path("x" * 5000)).expected


@pytest.mark.parametrize(
    ("error", "told"),
    [
        (PermissionError(13, "Permission denied"), "no permission"),
        (OSError(5, "Input/output error"), "Input/output error"),
    ],
)
def test_a_file_that_cannot_be_opened_is_told(
    error: OSError, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr(Path, "open", refuse)
    assert told in file_fault(tmp_path / "scene.toml").expected
