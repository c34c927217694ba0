"""``swingcheck vary``: ranges as a carpenter writes them, files, and what it refuses."""

from __future__ import annotations

import csv
import json
import sys
from io import StringIO
from pathlib import Path

import pytest

from tests.cli.test_risk import CROSS
from tests.commands import CLOSET, data, flat, refused, run

SETBACKS = "hinge.slab.setback=1/8:3/8:1/64"
BEVELS = "slab.strike_edge.bevel=0:4:0.25"


def test_one_dimension_is_read_as_runs_of_a_verdict_in_the_unit_asked_for(closet: str) -> None:
    shown = run("vary", closet, "--over", SETBACKS)
    assert shown.exit_code == 0, shown.output
    lines = [" ".join(line.split()) for line in shown.output.splitlines()]
    assert lines[0] == "Linen closet: 13 of 17 variants swing"
    assert "From to verdict short of closed" in lines
    assert "1/8 in 5/16 in swings" in lines
    assert any(line.startswith("21/64 in 3/8 in pinches ") for line in lines)
    words = flat(run("vary", closet, "--over", "hinge.slab.setback=3mm:9mm:0.5mm", "--unit", "mm"))
    assert "3.0 mm to 9.0 mm; now 6.3 mm" in words and " of 13 variants swing" in words
    words = flat(run("vary", closet, "--over", "slab.strike_edge.bevel=0:1/8 in 2:1/32 in 2"))
    assert "5 of 5 variants swing" in words and "3.58 deg" in words


@pytest.mark.parametrize(
    ("suffix", "begins"), [("png", b"\x89PNG"), ("svg", b"<?xm"), ("pdf", b"%PDF")]
)
def test_two_dimensions_are_counted_and_drawn(
    closet: str, tmp_path: Path, suffix: str, begins: bytes
) -> None:
    file = tmp_path / f"map.{suffix}"
    shown = run("vary", closet, "--over", SETBACKS, "--over", BEVELS, "-o", file, "--show", "short")
    assert shown.exit_code == 0, shown.output
    assert shown.output.startswith("Linen closet: ") and " of 289 variants swing" in shown.output
    assert "pinches" in shown.output
    assert shown.output.splitlines()[-1] == f"Wrote {file}"
    assert file.read_bytes().startswith(begins)


def test_tables_hold_the_same_in_every_form(closet: str, tmp_path: Path) -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    ranges = ("--over", SETBACKS, "--over", BEVELS)
    for suffix in ("csv", "json", "parquet"):
        assert run("vary", closet, *ranges, "-o", tmp_path / f"map.{suffix}").exit_code == 0
    rows = list(csv.DictReader(StringIO((tmp_path / "map.csv").read_text(encoding="utf-8"))))
    held = json.loads((tmp_path / "map.json").read_text(encoding="utf-8"))
    table = parquet.read_table(tmp_path / "map.parquet")
    assert len(rows) == table.num_rows == 289
    verdicts = [row["verdict"] for row in rows]
    assert held["columns"]["verdict"] == table.column("verdict").to_pylist() == verdicts
    assert held == data("vary", closet, *ranges)


ANSWERED = ("in_plan", "how", "together", "one_at_a_time")


def test_in_full_it_is_the_same_as_in_plan_and_many_are_answered_together(closet: str) -> None:
    fine = ("--over", "hinge.slab.setback=1/4:3/8:1/512", "--full")
    assert data("vary", closet, *fine)["together"] > 0.9
    coarse = ("--over", "hinge.slab.setback=1/4:3/8:1/16")
    plan, full = (data("vary", closet, *coarse, *flag) for flag in ([], ["--full"]))
    told = [{key: each.pop(key) for key in ANSWERED} for each in (plan, full)]
    assert told[0] == {"in_plan": True, "how": "in plan", "together": 1, "one_at_a_time": 0}
    assert told[1] == {"in_plan": False, "how": "in full", "together": 0, "one_at_a_time": 1}
    assert plan["columns"].pop("angle_deg") == pytest.approx(full["columns"].pop("angle_deg"))
    for name in ("opening_at_strike_in", "hinge_margin_in", "strike_margin_in", "hinge_stop_in"):
        assert plan["columns"].pop(name) == pytest.approx(full["columns"].pop(name), abs=1e-9)
    assert plan == full


@pytest.mark.parametrize(
    ("ranges", "said"),
    [
        (["hinge.slab.setback=1/8:3/8"], "is not KEY=FROM:TO:STEP, such as hinge.slab.setback"),
        (["hinge.slab.setback=1/8:x:1/64"], "x: a length"),
        (["hinge.slab.setback=3/8:1/8:1/64"], "FROM must be less than TO"),
        (["hinge.slab.setback=1/8:3/8:0"], "STEP above 0"),
        (["hinge.slab.setback=1/8:3/8:-1/64"], "STEP above 0"),
        (["hinge.slab.setback=3:9:1mm"], "its unit, or none of them"),
        (["hinge.slab.setback=nan:3/8:1/64"], "a length"),
        (["slab.setback=1/8:3/8:1/64"], "did you mean hinge.slab.setback?"),
        (["title=1:2:1"], "no measurement of this scene that can be varied"),
        (["slab.strike_edge.bevel=0:45:1"], "at most 20 deg either way"),
        (["hinge.slab.setback=1/8:2:1/64"], "must be under the thickness of the slab"),
        ([SETBACKS, SETBACKS], "another measurement than hinge.slab.setback"),
        ([SETBACKS, BEVELS, "slab.width=29:30:1/2"], "once or twice"),
        (["hinge.slab.setback=1/8:3/8:1/6400000"], "a wider STEP"),
        (["hinge.slab.setback=1/8:3/8:0.0001", "slab.width=29:30:0.001"], "at most 250,000"),
    ],
)
def test_a_range_that_will_not_do_is_told(closet: str, ranges: list[str], said: str) -> None:
    refused(run("vary", closet, *(word for each in ranges for word in ("--over", each))), said)


def test_too_many_are_refused_and_a_table_shows_no_picture_before_anything_is_swung(
    closet: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown = run("vary", "-", "--over", "hinge.slab.setback=1/8:3/8:0.000002", text=CLOSET + CROSS)
    refused(shown, "at most 100,000 at a time")
    monkeypatch.setattr("swingcheck.chance.vary.vary", None)
    asked = ("--over", SETBACKS, "-o", tmp_path / "map.csv", "--show", "angle")
    refused(run("vary", closet, *asked), "--show is for a picture")


def test_without_pyarrow_nothing_is_written_and_the_extra_is_named(
    closet: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    shown = run("vary", closet, "--over", SETBACKS, "-o", tmp_path / "map.parquet")
    refused(shown, "pip install 'swingcheck[table]'")
    assert [path.name for path in tmp_path.iterdir()] == ["closet.toml"]
