"""``swingcheck card`` from the outside: the files it writes, and what it refuses."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import Result

from tests.commands import refused, run


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "card.pdf"


def drawn(*args: object, code: int = 0) -> Result:
    """Write cards without their pictures."""
    shown = run("card", *args, "--no-pictures")
    assert shown.exit_code == code, shown.output
    return shown


def pages(pdf: bytes) -> int:
    """Return the pages of a PDF."""
    return len(re.findall(rb"/Type /Page\b", pdf))


def test_a_scenes_card_has_its_corners_in_plan_and_its_templates(closet: str, out: Path) -> None:
    shown = run("card", closet, "-o", out)
    assert shown.exit_code == 0, shown.output
    assert shown.stdout == f"{out}: 1 door\n"
    pdf = out.read_bytes()
    assert pdf.startswith(b"%PDF-") and pages(pdf) == 1
    assert b"/Subtype /Image" in pdf
    assert run("card", closet, "--template", "-o", out).exit_code == 0
    assert pages(out.read_bytes()) == 2


@pytest.mark.parametrize(("paper", "box"), [("letter", b"612 792"), ("a4", b"595.2756 841.8898")])
def test_a_card_without_pictures_on_the_paper_that_was_asked_for(
    closet: str, out: Path, paper: str, box: bytes
) -> None:
    drawn(closet, "-o", out, "--paper", paper)
    pdf = out.read_bytes()
    assert b"/MediaBox [ 0 0 " + box in pdf and b"/Subtype /Image" not in pdf


def test_cards_as_html_as_text_of_what_the_house_has_kept_and_in_millimetres(
    job: Path, tmp_path: Path, closet: str
) -> None:
    html = tmp_path / "cards.html"
    assert run("card", job, "-o", html).exit_code == 1
    page = html.read_text(encoding="utf-8")
    assert page.count("<article") == 2 and page.count("data:image/png;base64,") == 2
    kept, txt = tmp_path / "kept", tmp_path / "cards.txt"
    run("house", job, "-o", kept)
    shown = drawn(job, "-o", txt, "--house", kept, code=1)
    assert shown.stderr == "2 of 2 doors were checked before\n"
    words = txt.read_text(encoding="utf-8")
    assert words.count("\f") == 1 and "CLOSET" in words and "PANTRY" in words
    out = tmp_path / "card.txt"
    drawn(closet, "-o", out, "--unit", "mm", "--set", "slab.width=29 3/4")
    words = out.read_text(encoding="utf-8")
    assert "bare figures are millimetres" in words
    assert f"{29.75 * 25.4:.1f}" in words


@pytest.mark.parametrize(
    ("flags", "name", "says"),
    [
        (("--template",), "card.html", "must end in .pdf"),
        (("--paper", "a3"), "card.pdf", "a3"),
        (("--template", "--set", "hinge.leaf_length=14"), "card.pdf", "at true scale"),
    ],
)
def test_what_cannot_be_written_is_refused(
    closet: str, tmp_path: Path, flags: tuple[str, ...], name: str, says: str
) -> None:
    refused(run("card", closet, *flags, "-o", tmp_path / name), says)
    assert [path.name for path in tmp_path.iterdir()] == ["closet.toml"]


def test_an_opening_without_bench_numbers_has_no_card_and_says_why(
    out: Path, tmp_path: Path
) -> None:
    servery = tmp_path / "servery.toml"
    servery.write_text('stop = "none"\n[opening]\nwidth = 30\nheight = 80\n[pivot]\n', "utf-8")
    refused(run("card", servery, "-o", out), "hangs on pivots")
    assert not out.exists()
