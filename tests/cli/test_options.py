"""Options that commands share mean the same in each: settings, unit, JSON, file, cluster."""

from __future__ import annotations

from pathlib import Path

import pytest

from swingcheck.cli.output import progress
from tests.commands import PINCHED, data, refused, run

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
WRITTEN = [
    ("mesh", ".glb", ".glb, .stl or .obj"),
    ("film", ".gif", ".gif, .webp or .mp4"),
    ("page", ".html", ".html"),
    ("picture", ".png", ".png, .svg or .pdf"),
    ("card", ".pdf", ".pdf, .html or .txt"),
    ("vary", ".png", ".png, .svg, .pdf, .csv", *OVER),
]


@pytest.mark.parametrize("command", TOLD, ids=" ".join)
def test_settings_are_laid_over_and_a_report_is_in_the_unit_asked_for(
    command: tuple[str, ...], closet: str
) -> None:
    twice = run(*command, closet, "--set", "title=Study", "--set", "title=Pantry")
    assert twice.stdout.startswith("Pantry: ") and "Study" not in twice.stdout
    settings = ("--set", "slab.thickness=1 3/4", "--set", "slab.thickness=x")
    refused(run(*command, closet, *settings), "slab.thickness")
    inches, metric = (run(*command, closet, "--unit", unit) for unit in ("in", "mm"))
    assert inches.exit_code == metric.exit_code in (0, 1)
    assert " in" in inches.stdout and " mm" not in inches.stdout
    assert " mm" in metric.stdout
    assert run(*command, closet).stdout == inches.stdout
    told, again = (run(*command, closet, "--json", *unit) for unit in ((), ("--unit", "mm")))
    assert told.stdout == again.stdout
    assert told.exit_code == inches.exit_code


@pytest.mark.parametrize("command", [("check",), ("bench",), ("risk", "--draws", "100")])
def test_a_scene_is_taken_as_cured_by_the_cure_of_a_number(
    command: tuple[str, ...], closet: str
) -> None:
    """As its settings typed out would have it."""
    remedies = data("check", closet, *PINCHED)["remedies"]
    assert len(remedies) >= 3
    typed = [word for pair in remedies[2]["set"].items() for word in ("--set", "=".join(pair))]
    cured = run(*command, closet, *PINCHED, "--cure", "3")
    assert cured.stdout == run(*command, closet, *PINCHED, *typed).stdout
    assert cured.stdout != run(*command, closet, *PINCHED).stdout
    assert cured.stderr == f"Note: as cured: {remedies[2]['words']}\n"


@pytest.mark.parametrize(
    ("scenes", "more", "said"),
    [
        (1, (*PINCHED, "--cure", "9"), "has only"),
        (1, ("--cure", "1"), "has no cures"),
        (2, (*PINCHED, "--cure", "1"), "takes one scene file"),
        (0, ("-", "--cure", "1"), "takes one scene file"),
    ],
)
def test_a_cure_is_of_one_scene_that_has_it(
    scenes: int, more: tuple[str, ...], said: str, closet: str
) -> None:
    refused(run("check", *[closet] * scenes, *more), said)


@pytest.mark.parametrize("command", WRITTEN, ids=lambda command: command[0])
def test_a_file_that_cannot_be_is_refused_first_and_then_a_setting(
    command: tuple[str, ...], closet: str, tmp_path: Path
) -> None:
    name, ends, kinds, *more = command
    for file, said in (
        ("fit.doc", f"must end in {kinds}"),
        ("fit", f"must end in {kinds}"),
        (f"no/fit{ends}", "there is no folder"),
    ):
        shown = run(name, *more, tmp_path / "none.toml", "-o", tmp_path / file)
        refused(shown, said)
        assert "none.toml" not in shown.output
    for setting, said in (("slab.widht=30", "slab.width"), ("slab.width", "KEY=VALUE")):
        refused(run(name, *more, closet, "-o", tmp_path / f"fit{ends}", "--set", setting), said)
    assert list(tmp_path.iterdir()) == [Path(closet)]


@pytest.mark.parametrize("command", TOLD[-2:], ids=" ".join)
def test_a_cluster_is_asked_where_one_is_named(command: tuple[str, ...], closet: str) -> None:
    pytest.importorskip("distributed")
    shown = run(*command, closet, "--cluster", "http://192.0.2.7:8786")
    refused(shown, "an address is tcp://HOST:PORT")
    refused(run(*command, closet, "--cluster", ""), "an address is tcp://HOST:PORT")


@pytest.mark.parametrize(
    ("is_terminal", "patience", "drawn"), [(False, 0.0, ""), (True, 9.0, ""), (True, 0.0, "Draw")]
)
def test_progress_is_drawn_on_a_terminals_error_stream_once_it_takes_a_while(
    is_terminal: bool,
    patience: float,
    drawn: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr("swingcheck.cli.output.PATIENCE_S", patience)
    monkeypatch.setattr("sys.stderr.isatty", lambda: is_terminal)
    with progress() as watch:
        watch("drawing", 0.5)
    out, err = capsys.readouterr()
    assert out == "" and (drawn in err if drawn else err == "")


def test_leeway_exits_1_where_a_key_has_no_value_and_risk_by_the_low_end_of_its_interval(
    closet: str,
) -> None:
    keys = ("hinge.slab.setback", "slab.strike_edge.bevel")
    asked = ((keys[0],), (keys[1],), keys)
    codes = [run("leeway", *each, closet, *PINCHED).exit_code for each in asked]
    assert codes == [0, 1, 1]
    # Wilson's interval of 100 of 100 begins at 1 / (1 + 1.96**2 / 100) = 0.963.
    for least, code in (("96.2", 0), ("96.4", 1)):
        shown = run("risk", "--draws", "100", "--at-least", least, closet)
        assert "100 of 100" in shown.stdout and shown.exit_code == code


def test_a_map_shows_what_it_is_asked_to(closet: str, tmp_path: Path) -> None:
    file, drawn = tmp_path / "map.svg", set()
    for shown in ((), ("--show", "verdict"), ("--show", "margin")):
        assert run("vary", *OVER, closet, "-o", file, *shown).exit_code == 0
        drawn.add(file.read_bytes())
    assert len(drawn) == 2
