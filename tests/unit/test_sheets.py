"""What holds of every sheet: words apart, the loud colour on the contact, hands, equal bytes."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from swingcheck import palette
from swingcheck.render.pen.ink import page
from swingcheck.render.pen.page import WIDTH, figure_bytes
from swingcheck.render.pen.subject import Subject
from tests.pictures import (
    PAIRS,
    SHEETS,
    Drawn,
    compared,
    drawn,
    mapped,
    misplaced,
    painted,
    subject,
)

RANDOM = ("opening 1 left in", "opening 2 right mm")
SCENES: dict[str, tuple[str, ...]] = {
    "plan": (
        "swings",
        "pinches, right, mm",
        "strikes",
        "twisted leg",
        "drags",
        "blocked",
        "fouls",
        "no stop",
        "narrow",
        "long title",
        "push side fouls",
        "inactive slab, right",
        "lower slab",
        "attic_stair",
        "opening 3 left mm",
    ),
    "clearance": (
        "rests",
        "pinches",
        "strikes, mm",
        "blocked",
        "no stop",
        "push side blocked",
        "inactive slab",
        RANDOM[0],
    ),
    "margins": ("uneven", "overlaps", "right, mm", "no stop", "arched", RANDOM[1]),
    "hinge": (
        "plain, right, mm",
        "twisted, out of plumb",
        "no stop, square",
        "round hinge edge",
        "thick",
        RANDOM[0],
    ),
    "corners": ("strikes, right", "swings, mm", "no stop", RANDOM[1]),
    "corners a4": ("pinches",),
    "compare": tuple(PAIRS)[:6],
}
"""What each sheet is drawn of: all that lays it out differently."""

TURNED = [("swings", 2.0), ("no stop", 180.0)]
ROWS = [(sheet, name, None) for sheet, names in SCENES.items() for name in names]
ROWS += [("plan", name, degrees) for name, degrees in TURNED]

LEAST_WORDS = {"compare": 30, "corners": 31, "corners a4": 31}
SLAB_PIXELS = {"plan": 3500, "margins": 16_000, "corners": 3500}


@pytest.mark.parametrize(("kind", "name", "degrees"), ROWS)
def test_no_word_covers_another_and_the_loud_colour_is_where_something_touches(
    kind: str, name: str, degrees: float | None
) -> None:
    sheet = drawn(kind, name, degrees)
    assert len(sheet.words) >= LEAST_WORDS.get(kind, 20)
    assert sheet.misplaced == []
    picture = sheet.picture
    assert picture.shape[1] == 1000
    assert tuple(picture[0, 0]) == (255, 255, 255)
    assert 0.02 < (picture.sum(axis=2) < 700).mean() < 0.9
    assert len(painted(picture, palette.SLAB.fill)) >= SLAB_PIXELS.get(kind, 0)
    for part, touching in touched(kind, name, degrees, picture):
        loud = len(painted(part, palette.CONTACT))
        assert loud > 100 if touching else loud == 0
    if kind in ("plan", "clearance"):
        shown = subject(name, degrees)
        assert len(painted(picture, palette.SEAT)) > 150 or not shown.pose.seated
        if kind == "plan" and shown.pose.at is not None and not shown.pose.seated:
            assert_ringed(sheet, shown)


def touched(kind: str, name: str, degrees: float | None, picture: Any) -> list[tuple[Any, bool]]:
    """Return the parts of a sheet without its key, and whether a contact is shown in each."""
    if kind == "compare":
        halves = picture[:-70, :500], picture[:-70, 500:]
        return [(h, touches(side.subject)) for h, side in zip(halves, compared(name), strict=True)]
    if kind == "margins":
        least = min(float(band.line.gaps.min()) for band in mapped(name).bands)
        return [(picture[:, :545], least < 0)]
    return [(picture, kind != "hinge" and touches(subject(name, degrees)))]


def touches(shown: Subject) -> bool:
    return shown.pose.at is not None and not shown.pose.seated


def assert_ringed(sheet: Drawn, shown: Subject) -> None:
    """Assert that the plan has a ring round the contact's place, in the middle of it."""
    hand = 1.0 if shown.assembly.scene.hinges_on == "left" else -1.0
    assert shown.pose.at is not None
    overview = max(sheet.figure.axes, key=lambda axes: float(np.ptp(axes.get_xlim())))
    at = overview.transData.transform(page(shown.pose.at[:2]) * [hand, 1.0])
    column, up = at * 1000 / WIDTH / sheet.figure.dpi
    rows, columns = painted(sheet.picture, palette.CONTACT).T
    near = np.hypot(columns - column, sheet.picture.shape[0] - rows - up) < 25
    assert near.sum() > 50
    if shown.assembly.scene.title == "Linen closet":  # nothing else that is loud is near
        assert abs(columns[near].mean() - column) < 2.0
        assert abs(sheet.picture.shape[0] - rows[near].mean() - up) < 2.0


def test_the_overlap_check_sees_an_overlap() -> None:
    figure = SHEETS["plan"]("swings", None)
    figure.text(0.5, 0.5, "one")
    figure.text(0.5, 0.5, "two")
    figure.text(0.999, 0.2, "off the sheet")
    assert "'two' covers 'one'" in misplaced(figure)
    assert "'off the sheet' leaves the sheet" in misplaced(figure)


@pytest.mark.parametrize(
    ("kind", "first", "second", "colour", "rows"),
    [
        ("plan", "A", "B", palette.CONTACT, (0.05, 0.33)),
        ("margins", "hinge margin,", "strike margin,", "", ()),
        ("hinge", "setback, slab", "setback, jamb", palette.STOP.fill, (0.1, 0.9)),
        ("corners", "setback, jamb", "strike edge", palette.CONTACT, (0.3, 0.8)),
    ],
)
def test_the_hinges_are_on_their_own_hand_and_all_else_is_mirrored(
    kind: str, first: str, second: str, colour: str, rows: tuple[float, ...]
) -> None:
    left, right = drawn(kind, "pinches"), drawn(kind, "pinches, right")
    assert left.boxes[first].x1 < left.boxes[second].x0
    assert right.boxes[second].x1 < right.boxes[first].x0
    if colour:
        middles = []
        for picture in (left.picture, right.picture):
            low, high = (round(share * len(picture)) for share in rows)
            middles.append(painted(picture[low:high], colour)[:, 1].mean())
        assert abs(middles[0] - 500) > 40
        assert middles[0] == pytest.approx(1000 - middles[1], abs=4)


@pytest.mark.parametrize(
    ("kind", "name", "suffix", "starts"),
    [
        ("plan", "pinches", "png", b"\x89PNG"),
        ("clearance", "pinches", "svg", b"<?xml"),
        ("margins", "uneven", "pdf", b"%PDF"),
        ("hinge", "plain", "svg", b"<?xml"),
        ("corners a4", "pinches", "pdf", b"%PDF"),
    ],
)
def test_equal_sheets_give_equal_bytes(kind: str, name: str, suffix: str, starts: bytes) -> None:
    first, again = (figure_bytes(SHEETS[kind](name, None), suffix, 900) for _ in range(2))
    assert first.startswith(starts)
    assert first == again
    if suffix == "svg" and kind != "hinge":
        assert palette.CONTACT.encode() in first
