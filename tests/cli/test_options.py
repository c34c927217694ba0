"""Options that commands share mean the same in each: settings, unit, JSON, file, cluster."""

from __future__ import annotations

import json
import os
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from swingcheck.cli import main
from swingcheck.cli.output import Progress, whole_file

CLOSET = """
title = "Linen closet"
[opening]
width = "30 1/8"
height = "80 1/2"
[slab]
width = "29 7/8"
"""

OVER = ("--over", "slab.width=29:30:1/2")
TOLD = [
    ("check",),
    ("bench",),
    ("setback",),
    ("setback", "--on", "jamb"),
    ("bevel", "--widths", "30", "--bevels", "0"),
    ("leeway", "slab.width"),
    ("leeway",),
    ("risk", "--draws", "100"),
    ("vary", *OVER),
]
WRITTEN = [("mesh",), ("film",), ("page",), ("picture",), ("card",), ("vary", *OVER)]


@pytest.fixture
def closet(tmp_path: Path) -> str:
    path = tmp_path / "closet.toml"
    path.write_text(CLOSET, encoding="utf-8")
    return str(path)


def run(command: tuple[str, ...], scene: str, *more: str) -> Result:
    name, *words = command
    return CliRunner().invoke(main, [name, *words, scene, *more])


@pytest.mark.parametrize("command", TOLD, ids=" ".join)
def test_a_report_is_in_the_unit_asked_for_and_its_data_in_none(
    command: tuple[str, ...], closet: str
) -> None:
    inches, metric = (run(command, closet, "--unit", unit) for unit in ("in", "mm"))
    assert inches.exit_code == metric.exit_code in (0, 1)
    assert " in" in inches.stdout and " mm" not in inches.stdout
    assert " mm" in metric.stdout
    assert run(command, closet).stdout == inches.stdout
    data = [run(command, closet, "--json", *unit) for unit in ((), ("--unit", "mm"))]
    assert data[0].stdout == data[1].stdout
    assert json.loads(data[0].stdout)
    assert data[0].exit_code == inches.exit_code


@pytest.mark.parametrize("command", TOLD, ids=" ".join)
def test_settings_are_laid_over_in_their_order(command: tuple[str, ...], closet: str) -> None:
    twice = run(command, closet, "--set", "title=Study", "--set", "title=Pantry")
    assert twice.stdout.startswith("Pantry: ") and "Study" not in twice.stdout
    bad = run(command, closet, "--set", "slab.thickness=1 3/4", "--set", "slab.thickness=x")
    assert bad.exit_code == 2
    assert bad.stdout == "" and "slab.thickness" in bad.stderr


@pytest.mark.parametrize("command", WRITTEN, ids=" ".join)
@pytest.mark.parametrize(
    ("file", "said"), [("fit.doc", "must end in"), ("no/fit{}", "there is no folder")]
)
def test_a_file_that_cannot_be_is_refused_first(
    command: tuple[str, ...], file: str, said: str, tmp_path: Path
) -> None:
    ends = {"mesh": ".glb", "film": ".gif", "page": ".html", "card": ".pdf"}.get(command[0], ".png")
    shown = run(command, str(tmp_path / "none.toml"), "-o", str(tmp_path / file.format(ends)))
    assert shown.exit_code == 2
    assert said in shown.output and "none.toml" not in shown.output
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("command", [("risk", "--draws", "100"), ("vary", *OVER)], ids=" ".join)
def test_a_cluster_is_asked_where_one_is_named(command: tuple[str, ...], closet: str) -> None:
    pytest.importorskip("distributed")
    shown = run(command, closet, "--cluster", "http://192.0.2.7:8786")
    assert shown.exit_code == 2
    assert "an address is tcp://HOST:PORT" in shown.stderr


def test_a_file_is_whole_or_as_it_was(tmp_path: Path) -> None:
    file = tmp_path / "fit.txt"
    file.write_text("before")
    with pytest.raises(KeyboardInterrupt), whole_file(file) as scratch:
        scratch.write_text("half")
        raise KeyboardInterrupt
    assert file.read_text() == "before" and list(tmp_path.iterdir()) == [file]
    before = os.umask(0o027)
    try:
        with whole_file(file) as scratch:
            scratch.write_text("after")
    finally:
        os.umask(before)
    assert file.read_text() == "after" and list(tmp_path.iterdir()) == [file]
    assert file.stat().st_mode & 0o777 == 0o640
    with pytest.raises(click.BadParameter, match="cannot write"), whole_file(file / "x") as scratch:
        pass


def test_progress_is_drawn_on_a_terminals_error_stream_once_it_takes_a_while(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for is_terminal, patience, drawn in ((False, 0.0, ""), (True, 9.0, ""), (True, 0.0, "Drawing")):
        monkeypatch.setattr("swingcheck.cli.output.PATIENCE_S", patience)
        monkeypatch.setattr("sys.stderr.isatty", lambda is_terminal=is_terminal: is_terminal)
        with Progress() as watch:
            watch("drawing", 0.5)
        out, err = capsys.readouterr()
        assert out == "" and (drawn in err if drawn else err == "")


def test_leeway_exits_1_where_one_of_its_keys_has_no_value(closet: str) -> None:
    pinched = ("--set", "hinge.jamb.setback=1/4", "--set", "hinge.slab.setback=5/16")
    keys = ("hinge.slab.setback", "slab.strike_edge.bevel")
    codes = [run(("leeway", key), closet, *pinched).exit_code for key in keys]
    assert codes == [0, 1]
    assert run(("leeway", *keys), closet, *pinched).exit_code == 1


def test_risk_is_judged_by_the_low_end_of_its_interval(closet: str) -> None:
    # Wilson's interval of 100 of 100 begins at 1 / (1 + 1.96**2 / 100) = 0.963.
    for least, code in (("96.2", 0), ("96.4", 1)):
        shown = run(("risk", "--draws", "100", "--at-least", least), closet)
        assert "100 of 100" in shown.stdout and shown.exit_code == code


def test_a_map_shows_what_it_is_asked_to(closet: str, tmp_path: Path) -> None:
    file, drawn = tmp_path / "map.svg", set()
    for shown in ((), ("--show", "verdict"), ("--show", "margin")):
        assert run(("vary", *OVER), closet, "-o", str(file), *shown).exit_code == 0
        drawn.add(file.read_bytes())
    assert len(drawn) == 2
