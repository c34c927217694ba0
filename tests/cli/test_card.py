"""``swingcheck card`` from the outside: the files it writes, and what it refuses."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from swingcheck.cli import main

SCENE = """
title = "Linen closet"
[opening]
width = "30 1/8"
height = "80 1/2"
rabbet = "1 7/16"
[slab]
width = "29 7/8"
height = "79 3/4"
hinge_edge = { bevel = 2 }
strike_edge = { bevel = 2 }
"""

HEADER = "door,opening width,opening height,slab width,jamb setback,slab setback\n"
JOB = HEADER + "Closet,30 1/8,80 1/2,29 7/8,5/16,1/4\nPantry,30 1/8,80 1/2,29 7/8,1/4,5/16\n"


def run(*args: str) -> Result:
    return CliRunner().invoke(main, ["card", *args])


@pytest.fixture
def scene(tmp_path: Path) -> str:
    path = tmp_path / "closet.toml"
    path.write_text(SCENE, encoding="utf-8")
    return str(path)


@pytest.fixture
def job(tmp_path: Path) -> str:
    path = tmp_path / "job.csv"
    path.write_text(JOB, encoding="utf-8")
    return str(path)


def pages(pdf: bytes) -> int:
    """Return the pages of a PDF."""
    return len(re.findall(rb"/Type /Page\b", pdf))


def test_a_scenes_card_with_its_corners_in_plan(scene: str, tmp_path: Path) -> None:
    out = tmp_path / "card.pdf"
    shown = run(scene, "-o", str(out))
    assert shown.exit_code == 0, shown.output
    assert shown.stdout == f"{out}: 1 door\n"
    pdf = out.read_bytes()
    assert pdf.startswith(b"%PDF-") and pages(pdf) == 1
    assert b"/Subtype /Image" in pdf
    run(scene, "-o", str(tmp_path / "again.pdf"))
    assert (tmp_path / "again.pdf").read_bytes() == pdf


def test_a_card_without_pictures(scene: str, tmp_path: Path) -> None:
    out = tmp_path / "card.pdf"
    assert run(scene, "-o", str(out), "--no-pictures").exit_code == 0
    assert b"/Subtype /Image" not in out.read_bytes()


@pytest.mark.parametrize(("paper", "box"), [("letter", b"612 792"), ("a4", b"595.2756 841.8898")])
def test_the_paper_that_was_asked_for(scene: str, tmp_path: Path, paper: str, box: bytes) -> None:
    out = tmp_path / "card.pdf"
    run(scene, "-o", str(out), "--no-pictures", "--paper", paper)
    assert b"/MediaBox [ 0 0 " + box in out.read_bytes()


def test_cards_as_html_and_as_text(job: str, tmp_path: Path) -> None:
    html, txt = tmp_path / "cards.html", tmp_path / "cards.txt"
    assert run(job, "-o", str(html)).exit_code == 0
    page = html.read_text(encoding="utf-8")
    assert page.count("<article") == 2 and page.count("data:image/png;base64,") == 2
    assert run(job, "-o", str(txt)).exit_code == 0
    words = txt.read_text(encoding="utf-8")
    assert words.count("\f") == 1 and "CLOSET" in words and "PANTRY" in words


def test_a_card_in_millimetres_and_with_a_setting(scene: str, tmp_path: Path) -> None:
    out = tmp_path / "card.txt"
    run(scene, "-o", str(out), "--unit", "mm", "--set", "slab.width=29 3/4")
    words = out.read_text(encoding="utf-8")
    assert "bare figures are millimetres" in words
    assert f"{29.75 * 25.4:.1f}" in words


def test_cards_take_up_what_the_house_has_kept(job: str, tmp_path: Path) -> None:
    kept = tmp_path / "kept"
    CliRunner().invoke(main, ["house", job, "-o", str(kept)])
    shown = run(job, "-o", str(tmp_path / "cards.txt"), "--house", str(kept))
    assert shown.exit_code == 0
    assert shown.stderr == "2 of 2 doors were checked before\n"


def test_templates_are_a_page_for_each_side(scene: str, tmp_path: Path) -> None:
    out = tmp_path / "template.pdf"
    assert run(scene, "--template", "-o", str(out)).exit_code == 0
    assert pages(out.read_bytes()) == 2


@pytest.mark.parametrize(
    ("flags", "name", "says"),
    [
        ((), "card.docx", "must end in .pdf, .html or .txt"),
        ((), "card", "must end in"),
        (("--template",), "card.html", "must end in .pdf"),
        (("--paper", "a3"), "card.pdf", "a3"),
        (("--set", "slab.widht=30"), "card.pdf", "slab.width"),
        (("--set", "hinge.leaf_length=14"), "card.pdf", "at true scale"),
    ],
)
def test_what_cannot_be_written_is_refused(
    scene: str, tmp_path: Path, flags: tuple[str, ...], name: str, says: str
) -> None:
    if "leaf_length" in " ".join(flags):
        flags = (*flags, "--template")
    shown = run(scene, *flags, "-o", str(tmp_path / name))
    assert shown.exit_code == 2 and says in " ".join(shown.output.split())
    assert not (tmp_path / name).exists()


def test_an_opening_without_bench_numbers_has_no_card_and_says_why(tmp_path: Path) -> None:
    path = tmp_path / "servery.toml"
    path.write_text(SCENE.replace("[opening]", 'stop = "none"\n[pivot]\n[opening]', 1), "utf-8")
    shown = run(str(path), "-o", str(tmp_path / "card.txt"))
    assert shown.exit_code == 2 and "hangs on pivots" in shown.stderr
    assert not (tmp_path / "card.txt").exists()


def test_a_folder_that_is_not_there_is_told(scene: str, tmp_path: Path) -> None:
    shown = run(scene, "-o", str(tmp_path / "no" / "card.txt"))
    assert shown.exit_code == 2 and "Traceback" not in shown.output


def test_a_card_that_fails_leaves_the_one_before_as_it_was(
    scene: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "card.txt"
    run(scene, "-o", str(out))
    before = out.read_bytes()

    def full(self: Path, data: bytes) -> int:
        with self.open("wb") as file:
            file.write(data[:10])
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    shown = run(scene, "-o", str(out), "--unit", "mm")
    assert shown.exit_code == 2 and "No space left" in shown.output
    assert out.read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["card.txt", "closet.toml"]
