"""Schedules: what a person and a spreadsheet make of one, and every fault by row and column."""

from __future__ import annotations

import csv
import json
from io import StringIO
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swingcheck.errors import FileError, SceneError, UnfitError
from swingcheck.job.columns import blank_sheet, column, column_names, refuse_slip
from swingcheck.job.kept import kept_lines
from swingcheck.job.openings import Listed, read_openings, schedule_openings
from swingcheck.model import Scene
from swingcheck.scenefile import NAMES, Key, read_scene

ROW = {
    "door": "Linen closet",
    "hinges on": "left",
    "opening width": "30 1/8, 30, 30 1/8",
    "opening height": "80 1/2",
    "rabbet": "1 7/16",
    "slab width": "29 3/4",
    "thickness": "1 3/8",
    "hinge edge": "2",
    "strike edge": "1/8 in 2",
    "hinges": "3",
    "jamb setback": "5/16",
    "slab setback": "1/4",
    "lock": "yes",
    "backset": "2 3/8",
    "fire rated": "no",
}
SAME_IN_TOML = """
title = "Linen closet"
hinges_on = "left"
[opening]
width = ["30 1/8", "30", "30 1/8"]
height = "80 1/2"
rabbet = "1 7/16"
[slab]
width = "29 3/4"
thickness = "1 3/8"
hinge_edge = { bevel = 2 }
strike_edge = { bevel = "1/8 in 2" }
[hinge]
count = 3
jamb = { setback = "5/16" }
slab = { setback = "1/4" }
[lock]
backset = "2 3/8"
[site]
fire_rated = false
"""


def written(rows: list[dict[str, str]], delimiter: str = ",", line_end: str = "\r\n") -> str:
    """Return rows as the csv module writes them, under the columns of the first."""
    out = StringIO()
    writer = csv.DictWriter(out, list(rows[0]), delimiter=delimiter, lineterminator=line_end)
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def opened(data: bytes | str) -> tuple[Listed, ...]:
    return schedule_openings(data.encode() if isinstance(data, str) else data, "job.csv")


def scene_of(**changes: str) -> Scene:
    """Return the scene of the plain row with columns changed or added."""
    return opened(written([ROW | {k.replace("_", " "): v for k, v in changes.items()}]))[0].scene


def faults(data: bytes | str) -> list[str]:
    with pytest.raises(SceneError) as refused:
        opened(data)
    assert refused.value.path == "job.csv"
    return [str(problem) for problem in refused.value.problems]


def test_a_row_is_the_scene_that_a_scene_file_is_and_a_length_is_no_date() -> None:
    listed = opened(written([ROW]))
    assert listed[0].scene == read_scene(SAME_IN_TOML)
    assert (listed[0].name, listed[0].where) == ("Linen closet", "row 2")
    for cell in ("29 13/16", "1-3/8", "3 mm", "0.097", "6' 8 1/2\"", "762", "36525", "73051"):
        refuse_slip(cell, is_length=True)
    refuse_slip("44263", is_length=False)
    with pytest.raises(UnfitError):
        refuse_slip("36526", is_length=True)


COLUMNS = {
    "Hinge side": "hinges_on",
    "jamb depth": "opening.depth",
    "strike leg plumb": "opening.strike_leg.plumb",
    "thickness": "slab.thickness",
    "slab thickness": "slab.thickness",
    "head_margin": "slab.head_margin",
    "strike margin": "wanted.strike",
    "slab setback": "hinge.slab.setback",
    "slab mortise depth": "hinge.slab.depth",
    "backset": "lock.backset",
    "glass": "site.glass",
    "lower.hinge.slab.setback": "lower.hinge.slab.setback",
    "hinge.slab.setback[1]": "hinge.slab.setback[1]",
}


@pytest.mark.parametrize(("name", "key"), COLUMNS.items())
def test_a_column_is_a_key_in_the_trades_words_or_its_own(name: str, key: str) -> None:
    found = column(0, name)
    assert found is not None and found.key == key


@pytest.mark.parametrize("name", ["height", "length", "face length", "start", "width (ft)"])
def test_a_name_that_could_be_several_keys_is_no_column(name: str) -> None:
    assert column(0, name) is None


def test_every_key_is_a_column_and_the_blank_sheet_takes_its_own_examples() -> None:
    known = NAMES.keys
    values = [key for key, spec in known.items() if isinstance(spec, Key)]
    found = [column(0, key) for key in values]
    assert [each and each.key for each in found] == values
    assert set(column_names().values()) <= set(known)
    names = next(csv.reader(blank_sheet().splitlines()[2:]))
    assert {each.key for name in names if (each := column(0, name))} <= set(known)
    lines = blank_sheet().splitlines()
    assert lines[0].lstrip('"').startswith("note") and "\r\n" in blank_sheet()
    names, _, examples = csv.reader(lines[2:])
    example = dict(zip(names, examples, strict=True))
    example[names[0]] = examples[0].removeprefix("note: for example ")
    filled = blank_sheet() + written([example]).split("\r\n", 1)[1]
    (listed,) = opened(filled)
    assert listed.name == "Linen closet" and listed.where == "row 6"
    assert listed.scene.opening.hinge_leg.plumb == (0.0, 1 / 32, 1 / 16)
    assert listed.scene.slab.delivered is not None and listed.scene.slab.delivered.width == 30.0


@pytest.mark.parametrize(
    ("typed", "hand"), [("L", "left"), ("r", "right"), ("left", "left"), ("right", "right")]
)
def test_hinges_are_on_the_hand_that_was_written(typed: str, hand: str) -> None:
    assert scene_of(hinges_on=typed).hinges_on == hand


PLAIN = written([ROW])


SAVED = {
    "mark of UTF-8": b"\xef\xbb\xbf" + PLAIN.encode(),
    "UTF-16": PLAIN.encode("utf-16"),
    "line feeds": written([ROW], line_end="\n").encode(),
    "tabs": written([ROW], delimiter="\t").encode(),
    "semicolons, said": ("sep=;\r\n" + written([ROW], delimiter=";")).encode(),
    "semicolons": written([ROW], delimiter=";").encode(),
    "blank rows": ("\r\n,,,,,\r\n" + PLAIN + ",,,,\r\n\r\n").encode(),
    "a note first": ("note: invented, all of it\r\n" + PLAIN).encode(),
    "a quoted note first": ('"note: a, b"\r\n' + PLAIN).encode(),
    "a formula of text": PLAIN.replace("29 3/4", '="29 3/4"').encode(),
    "an apostrophe": PLAIN.replace("29 3/4", "'29 3/4").encode(),
    "an old code page": PLAIN.replace("29 3/4", "29¾").encode("cp1252"),
    "an inch mark": PLAIN.replace("29 3/4", '29 3/4"').encode(),
    "odd spaces": PLAIN.replace("29 3/4", "29\u00a0 3/4 ").encode(),
    "a list by semicolons": PLAIN.replace("30, 30", "30; 30").encode(),
    "a list by lines": PLAIN.replace("30, 30", "30\n30").encode(),
    "case": PLAIN.replace("door,", "Door Name,").replace("Name", "").encode(),
    "a key": PLAIN.replace("slab width", "slab.width").encode(),
    "a unit": PLAIN.replace("slab width", "Slab_Width (in)").encode(),
}


@pytest.mark.parametrize("data", SAVED.values(), ids=SAVED)
def test_however_it_was_saved_it_says_the_same(data: bytes) -> None:
    (listed,) = opened(data)
    assert listed.scene == read_scene(SAME_IN_TOML)


def test_commas_same_and_settings_are_read_as_they_are_meant() -> None:
    data = "door;unit;opening width;opening height;slab width\nA;mm;765,5;2045;760\n"
    assert opened(data)[0].scene.opening.width == (765.5 / 25.4,)
    rows = [
        ROW,
        ROW | {"door": "same", "opening width": "same", "slab width": "Ditto"},
        ROW | {"door": "C", "opening width": "same", "slab width": "28"},
    ]
    listed = opened(written(rows))
    assert [each.name for each in listed] == ["Linen closet", "same", "C"]
    assert len({each.scene.opening.width for each in listed}) == 1
    assert [each.scene.slab.width[0] for each in listed] == [29.75, 29.75, 28.0]
    rows = [ROW, ROW | {"door": "B"}]
    data = written(rows).encode()
    listed = schedule_openings(data, "job.csv", [("slab.width", "28")])
    assert [each.scene.slab.width for each in listed] == [(28.0,)] * 2
    with pytest.raises(SceneError) as refused:
        schedule_openings(data, "job.csv", [("slab.width", "wide")])
    assert [problem.key for problem in refused.value.problems] == [
        "row 2 (Linen closet), --set slab.width",
        "row 3 (B), --set slab.width",
    ]


@pytest.mark.parametrize(("cell", "width"), [("755", 755 / 25.4), ("29 3/4 in", 29.75)])
def test_a_columns_unit_holds_for_its_bare_numbers_alone(cell: str, width: float) -> None:
    row = {key: each for key, each in ROW.items() if key != "slab width"}
    assert opened(written([row | {"Slab width (mm)": cell}]))[0].scene.slab.width == (width,)


EDGES = {
    "square": '"square"',
    "bevel 2": "{ bevel = 2 }",
    "2°": "{ bevel = 2 }",
    "1/8 in 2": '{ bevel = "1/8 in 2" }',
    "radius 4": '{ radius = "4" }',
    "R 4 1/2": '{ radius = "4 1/2" }',
    "bullnose": '"bullnose"',
}


@pytest.mark.parametrize(("typed", "edge"), EDGES.items())
def test_an_edge_is_told_in_words(typed: str, edge: str) -> None:
    toml = f'[opening]\nwidth = "30"\nheight = "80"\n[slab]\nstrike_edge = {edge}\n'
    assert scene_of(strike_edge=typed).slab.strike_edge == read_scene(toml).slab.strike_edge


# What spreadsheets show for a fraction typed into a cell of their own format: day and month in
# the order of the country, a month and a year for what is no day, and the day's number once the
# format is changed. 44263 is 8 March 2021 in the count of days from 1899-12-30.
DATES = {
    "8-Mar": "3/8",
    "3-Aug": "3/8",
    "1-Aug": "1/8",
    "Aug-1": "1/8",
    "16-Nov": "11/16",
    "Mar-64": "3/64",
    "1/8/2026": "1/8",
    "03.08.2026": "3/8",
    "2026-03-08": "3/8",
    "2026-03-08 00:00:00": "3/8",
    "8. Mrz": "3/8",
    "8-août": "",
    "30-Jan": "",
    "44263": "3/8",
}


@pytest.mark.parametrize(("cell", "likely"), DATES.items())
def test_a_fraction_turned_to_a_date_is_told_with_what_it_was(cell: str, likely: str) -> None:
    (fault,) = faults(written([ROW | {"slab setback": cell}]))
    made = "a date, which the spreadsheet made of a fraction"
    told = f"{made}, likely {likely} (" if likely else f"{made} ("
    assert fault.startswith(f'row 2 (Linen closet), slab setback = "{cell}": {told}')


SPOILT = {
    "29 4/5": "no tape reads in parts of 5",
    "1/3": "no tape reads in parts of 3",
    "####": "not shown by the spreadsheet",
    "#DIV/0!": "not shown by the spreadsheet",
    "29,875": "must not hold a comma",
}


@pytest.mark.parametrize(("cell", "says"), SPOILT.items())
def test_a_cell_that_a_spreadsheet_spoilt_is_refused(cell: str, says: str) -> None:
    (fault,) = faults(written([ROW | {"slab width": cell}]))
    assert fault.startswith(f'row 2 (Linen closet), slab width = "{cell}": ') and says in fault


def test_every_fault_comes_at_once_by_row_and_column() -> None:
    rows = [
        ROW | {"slab width": "wide", "fire rated": "perhaps"},
        ROW | {"door": "B", "rabbet": "1/8"},
        ROW | {"door": "b", "hinge edge": "45", "hinges on": "up"},
        ROW | {"door": "", "lock": "none"},
        ROW | {"door": "E", "opening width": ""},
    ]
    told = faults(written(rows))
    starts = [fault.partition(": ")[0] for fault in told]
    assert starts == [
        'row 2 (Linen closet), fire rated = "perhaps"',
        'row 2 (Linen closet), slab width = "wide"',
        'row 3 (B), jamb setback = "5/16"',
        'row 4, door = "b"',
        'row 4 (b), hinges on = "up"',
        'row 4 (b), hinge edge = "45"',
        'row 5, lock = "none"',
        "row 5, door",
        "row 6 (E), opening width",
    ]


def test_a_columns_fault_is_told_once_and_not_by_every_row() -> None:
    two = written([ROW, ROW | {"door": "B"}])
    assert faults(two.replace("opening width", "openning widht")) == [
        'row 1, column C = "openning widht": no column of a schedule and no key of a scene'
        " (did you mean opening width?)"
    ]
    row = {key: value for key, value in ROW.items() if key not in ("door", "opening height")}
    assert faults(written([row, row])) == [
        "row 1: no column door",
        "row 1: no column opening height",
    ]
    (fault,) = faults(written([ROW | {"slab thickness": "1 3/8"}]))
    assert fault == 'row 1, column P = "slab thickness": given twice: column G is thickness'


def test_shifted_rows_and_open_quotes_are_told() -> None:
    told = faults(PLAIN.replace('"30 1/8, 30, 30 1/8"', "30 1/8, 30, 30 1/8"))
    assert told[0] == (
        "row 2: 17 cells, and 15 column names in row 1"
        " (a list of measurements in one cell stands in quotes)"
    )
    plain = ROW | {"opening width": "30 1/8"}
    rows = [plain | {"door": f"Door {k}"} for k in range(40)]
    (fault,) = faults(written(rows).replace("Door 3,", '"Door 3,'))
    assert "a quote that opens here is not closed" in fault and "row 5" in fault


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "no row of column names"),
        (b"PK\x03\x04rest", "a spreadsheet's own file (save it as CSV)"),
        (b"door\x00", "not a text"),
        (b"\xff\xfed", "not whole"),
        (blank_sheet().encode(), "no opening under the column names"),
        (written([ROW | {"obstacle[0].name": "sofa"}]).encode(), "there is no obstacle[0]"),
    ],
)
def test_what_is_no_schedule_of_openings_is_refused(data: bytes, says: str) -> None:
    (fault,) = faults(data)
    assert says in fault


@settings(max_examples=15)
@given(st.text(max_size=300), st.sampled_from(list(ROW)), st.text(max_size=40))
def test_no_text_and_no_cell_breaks_the_reader(text: str, name: str, cell: str) -> None:
    row = ROW | {name: cell.encode("utf-8", errors="replace").decode()}
    for data in (text.encode("utf-8", errors="surrogatepass"), written([row]).encode()):
        try:
            opened(data)
        except SceneError as error:
            assert error.problems
            assert all(each.key.startswith("row ") or not each.key for each in error.problems)


def test_a_folder_is_read_in_the_order_a_person_counts_if_it_holds_scenes(tmp_path: Path) -> None:
    for number in (10, 2, 1):
        text = SAME_IN_TOML.replace("Linen closet", f"Closet {number}")
        (tmp_path / f"door_{number}.toml").write_text(text, encoding="utf-8")
    (tmp_path / "readme.txt").write_text("not a scene", encoding="utf-8")
    assert [each.name for each in read_openings(tmp_path)] == ["Closet 1", "Closet 2", "Closet 10"]
    empty = tmp_path / "empty"
    empty.mkdir()
    for path, says in ((empty, "no scene files"), (tmp_path / "no.csv", "no such file")):
        with pytest.raises(SceneError, match=says):
            read_openings(path)


def test_openings_of_one_name_in_a_folder_are_told_apart_by_their_files(tmp_path: Path) -> None:
    for name in ("east", "west"):
        (tmp_path / f"{name}.toml").write_text(SAME_IN_TOML, encoding="utf-8")
    names = [each.name for each in read_openings(tmp_path)]
    assert names == ["Linen closet (east)", "Linen closet (west)"]
    (tmp_path / "east.toml").write_text(SAME_IN_TOML.replace('"29 3/4"', '"wide"'))
    (tmp_path / "west.toml").write_text(SAME_IN_TOML.replace("rabbet", "rabet"))
    with pytest.raises(SceneError) as refused:
        read_openings(tmp_path)
    keys = [problem.key for problem in refused.value.problems]
    assert keys == ["east.toml, slab.width", "west.toml, opening.rabet"]


def test_a_line_cut_off_anywhere_is_taken_away_and_the_rest_kept(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "lines.jsonl"
    with kept_lines(path) as kept:
        kept.add("a", {"value": 0.1 + 0.2})
    whole, more = path.read_bytes(), b'{"key":"b","value":2}'
    for length in range(1, len(more) + 1):
        path.write_bytes(whole + more[:length])
        with kept_lines(path) as kept:
            assert kept.lines == {"a": {"value": 0.1 + 0.2}} and kept.damaged == 0
            kept.add("c", {"value": 3})
        lines = path.read_text(encoding="utf-8").splitlines()
        assert [json.loads(line)["key"] for line in lines] == ["a", "c"]


def test_damaged_lines_are_passed_over_and_another_runs_file_is_told(tmp_path: Path) -> None:
    path = tmp_path / "lines.jsonl"
    damaged = (b"\x00" * 30, b"[1, 2]", b'{"value": 1}', b"{", b'"a"')
    path.write_bytes(b"\n".join([*damaged, b'{"key":"a","value":1}']) + b"\n")
    with kept_lines(path) as kept:
        assert kept.lines == {"a": {"value": 1}} and kept.damaged == len(damaged)
    with kept_lines(path), pytest.raises(FileError, match="another run"), kept_lines(path):
        pass
    with kept_lines(path) as again:
        again.add("a", {})
    with pytest.raises(FileError, match=r"lines\.jsonl"), kept_lines(path / "lines.jsonl"):
        pass
