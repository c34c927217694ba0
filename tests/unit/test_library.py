"""The library as another program uses it: what it takes, what it gives, what it refuses."""

from __future__ import annotations

from dataclasses import replace
from math import radians
from pathlib import Path

import pytest
from matplotlib.figure import Figure
from matplotlib.text import Text

import swingcheck as sc
from swingcheck.errors import RenderError
from swingcheck.library.pictures import Pictures

PINCHED = """
title = "Linen closet"
[opening]
width = "30 1/8"
height = "80 1/2"
[slab]
width = "29 7/8"
[hinge]
jamb = { setback = "1/4" }
slab = { setback = "5/16" }
"""


@pytest.fixture
def scene(tmp_path: Path) -> sc.Scene:
    path = tmp_path / "closet.toml"
    path.write_text(PINCHED, encoding="utf-8")
    return sc.read(str(path))


def test_a_starter_reads_back_and_words_and_data_are_the_found_ones(
    tmp_path: Path, scene: sc.Scene
) -> None:
    file = tmp_path / "new.toml"
    file.write_text(sc.new({"opening.width": "765 mm", "opening.height": "6' 8\""}))
    starter = sc.read(file, {"slab.thickness": "1 3/4"})
    assert starter.opening.width == (pytest.approx(765 / 25.4),)
    assert starter.opening.height == (80.0, 80.0)
    assert starter.slab.thickness == 1.75
    with pytest.raises(sc.SceneError, match=r"opening\.width"):
        sc.new({"opening.height": "80"})
    found = sc.check(scene)
    assert sc.text(found).startswith("Linen closet: PINCHES")
    assert " mm" in sc.text(found, unit="mm")
    assert max(map(len, sc.text(found, width=40).splitlines())) <= 40
    data = sc.plain(found)
    assert data["verdict"] == found.verdict.value and data["remedies"] == []
    remedies = sc.plain(sc.answered(scene))["remedies"]
    assert remedies and all(0.0 < remedy["chance"] <= 1.0 for remedy in remedies)
    season = sc.season(found)
    assert "January" in sc.text(found, season=season)
    assert "season" in sc.plain(found, season=season)


def test_cures_cure_and_none_is_named_where_none_is_needed(scene: sc.Scene) -> None:
    assert sc.check(scene).verdict is sc.Verdict.PINCHES
    cures = sc.cures(scene)
    assert cures
    for cure in cures:
        cured = scene.with_(dict(cure.settings))
        assert sc.check(cured).verdict is sc.Verdict.SWINGS
        assert sc.cures(cured) == ()
    assert sc.answered(scene).cures == cures
    with pytest.raises(sc.SwingcheckError, match="made by hand"):
        replace(scene).with_({})


def test_bevels_are_the_asked_ones_or_usual_ones(scene: sc.Scene) -> None:
    asked = sc.bevel(scene, widths=[30.0], thicknesses=[1.375, 1.75], bevels=[0.0, radians(3)])
    assert [table.thickness for table in asked.tables] == [1.375, 1.75]
    assert [row.width for row in asked.tables[0].rows] == [30.0]
    square, bevelled = asked.tables[0].rows[0].margins
    assert square > bevelled
    usual = sc.bevel(replace(scene, unit="mm"), thicknesses=[1.375])
    widths = [row.width * 25.4 for row in usual.tables[0].rows]
    assert widths == pytest.approx([450, 600, 750, 900])
    assert usual.tables[0].bevels[:2] == (0.0, radians(1))


@pytest.fixture
def lettered(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a picture be its kind, its size and its words, which are found without drawing it."""

    def words(figure: Figure, kind: str, size: int) -> str:
        return " ".join([kind, str(size), *(text.get_text() for text in figure.findobj(Text))])

    monkeypatch.setattr("swingcheck.library.pictures.figure_bytes", words)


@pytest.mark.usefixtures("lettered")
def test_pictures_are_turned_sized_and_compared_in_the_first_ones_unit(scene: sc.Scene) -> None:
    shown = [sc.draw(scene, kind="svg", angle=angle) for angle in (None, 0.0, radians(30))]
    assert len(set(shown)) == 3 and "30 deg open" in shown[2]
    letter, a4 = (sc.draw(scene, "corners", paper=paper, size=600) for paper in ("letter", "a4"))
    assert letter.startswith("png 600 ") and letter != a4
    assert [Pictures(replace(scene, unit=unit)).paper for unit in ("in", "mm")] == ["letter", "a4"]
    with pytest.raises(RenderError, match="PNG"):
        sc.draw(scene, "solid", "svg")
    other = scene.with_({"slab.thickness": "1 3/4"})
    drawn = sc.compare(scene, other, kind="svg", rows=("corners",))
    assert drawn == sc.compare(scene, replace(other, unit="mm"), kind="svg", rows=("corners",))
    turned = sc.compare(replace(scene, unit="mm"), other, rows=("corners",), angle=radians(20))
    assert " mm" not in drawn and " mm" in turned
    assert "20 deg open" not in drawn and "20 deg open" in turned


def test_tables_and_jobs_are_of_the_kind_that_is_asked(scene: sc.Scene, tmp_path: Path) -> None:
    varied = sc.vary(scene, {"slab.width": ("29", "30", "1/2")})
    for suffix, begins in ((".csv", "slab.width"), (".JSON", "{")):
        file = tmp_path / f"map{suffix}"
        sc.write_table(varied, file)
        assert file.read_text().startswith(begins)
    with pytest.raises(ValueError, match="ends in"):
        sc.write_table(varied, tmp_path / "map.txt")
    job = sc.house(tmp_path)
    assert [door.check.verdict for door in job.doors] == [sc.Verdict.PINCHES]
    assert sc.cards(job, "txt").decode().startswith("LINEN CLOSET\n")
    assert sc.cards(job, drawn=False) != sc.cards(job, drawn=True)
    assert sc.templates(job).startswith(b"%PDF")
    wide = sc.house(tmp_path, {"hinge.jamb.setback": "5/16", "hinge.slab.setback": "1/4"})
    assert [door.check.verdict for door in wide.doors] == [sc.Verdict.SWINGS]
