"""A whole job: checks kept exactly, work shared out, orders and set-ups, and what is printed."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from math import degrees, radians

import pytest

from swingcheck.advice.answer import Answer, answered
from swingcheck.bench.door import BenchNumbers, bench_numbers
from swingcheck.errors import GeometryError
from swingcheck.job.answer import or_error
from swingcheck.job.house import (
    Bare,
    Door,
    Job,
    Refused,
    bore_set_ups,
    jig_set_ups,
    order,
    saw_set_ups,
)
from swingcheck.job.kept import check_of, check_record, scene_digest
from swingcheck.job.openings import Listed, read_openings
from swingcheck.report.cards.content import door_card
from swingcheck.report.cards.html import cards_html, figure_html
from swingcheck.report.cards.pdf import FOOT, MARGIN, cards_pdf, laid_out
from swingcheck.report.cards.pen import A4, LETTER, Paper, figure_width, width_of, wrapped
from swingcheck.report.cards.templates import fits, templates, templates_pdf
from swingcheck.report.cards.txt import cards_text
from swingcheck.report.house import count_words, house_card
from swingcheck.report.shapes import data_of
from swingcheck.report.text import text
from swingcheck.scenefile import read_scene
from swingcheck.swing.check import check
from swingcheck.swing.found import FitWord, Verdict
from swingcheck.units import fraction_text, parsed_length
from tests.factory import LOCK, bevel, plain_scene, rounded
from tests.scene_files import SCENES

FORTY = SCENES / "house_of_forty.csv"


@cache
def forty() -> tuple[Listed, ...]:
    return read_openings(FORTY)


@cache
def plain_answer() -> Answer:
    """Return one check to stand in for every door's, where the verdict does not matter."""
    return answered(plain_scene(slab__construction="stile and rail"))


def stood_in(name: str, where: str, bench: BenchNumbers) -> Door:
    """Return a door that is said to swing."""
    answer = replace(plain_answer(), found=replace(plain_answer().found, scene=bench.finished))
    return Door(name=name, where=where, bench=bench, answer=answer)


@cache
def house() -> tuple[Door, ...]:
    """Return the doors of the invented house with their own bench numbers, all said to swing."""
    return tuple(stood_in(each.name, each.where, bench_numbers(each.scene)) for each in forty())


def door(name: str = "Closet", **changes: object) -> Door:
    """Return a door of the plain scene, changed by name, that is said to swing."""
    return stood_in(name, "row 2", bench_numbers(plain_scene(**changes)))


@cache
def pinched() -> Door:
    """Return a door that really pinches, with what cures it."""
    bench = bench_numbers(plain_scene(**PINCHED))
    return Door(name="Pantry", where="row 2", bench=bench, answer=answered(bench.finished))


PINCHED = {"hinge__jamb__setbacks": (0.25,) * 3, "hinge__slab__setbacks": (0.3125,) * 3}


# Checks kept and taken up again


# A plain one, both ways, a pair, a Dutch door, a neighbour, pivots, a lip, an arch, blocked.
KEPT = ["linen_closet", "servery", "dining_room", "back_kitchen", "upper_hall", "garden_door"]
KEPT += ["flat_bedroom", "garden_room", "boiler_room"]


@pytest.mark.parametrize("name", KEPT)
def test_a_check_comes_back_from_its_record_the_very_same(name: str) -> None:
    scene = read_scene(SCENES / f"{name}.toml")
    found = Answer(found=check(scene, step=radians(45)))
    kept = json.loads(json.dumps(check_record(found), allow_nan=False))
    assert check_of(kept, scene) == found


def test_a_record_of_something_else_is_refused_and_what_cannot_be_built_an_error() -> None:
    record = check_record(plain_answer())
    for broken in (
        {"decided": {"verdict": "flies"}},
        {"margins": {"hinge": [1.0]}},
        {"blocked_by": [3]},
    ):
        with pytest.raises((KeyError, TypeError, ValueError)):
            check_of(record | {"found": record["found"] | broken}, plain_scene())
    with pytest.raises(KeyError):
        check_of({}, plain_scene())
    scenes = [plain_scene(), plain_scene(hinge__barrel=4.0)]
    found = [or_error(answered, scene) for scene in scenes]
    assert isinstance(found[0], Answer) and isinstance(found[1], GeometryError)


def test_a_digest_tells_any_two_openings_apart_and_one_from_nothing_else() -> None:
    scene = plain_scene()
    others = [
        plain_scene(slab__width=(29.875000001,)),
        plain_scene(hinge__slab__depths=(0.097, 0.097, 0.0970001)),
        plain_scene(slab__strike_edge=bevel(2.5)),
        plain_scene(hinges_on="right"),
        plain_scene(lock=LOCK),
    ]
    digests = {scene_digest(each) for each in (scene, *others)}
    assert len(digests) == len(others) + 1
    assert scene_digest(plain_scene()) == scene_digest(scene)


# What a job takes


def test_what_to_order_is_counted_in_the_schedules_own_rows() -> None:
    with FORTY.open(encoding="utf-8", newline="") as file:
        assert "invented" in next(file)
        rows = list(csv.DictReader(file))
    assert len(rows) == len(forty()) == 40
    # NFPA 80, read in a quotation: two up to 60 in, one more for each further 30 in or part.
    wanted: Counter[float] = Counter()
    for row in rows:
        height = parsed_length(row["slab height"])
        wanted[parsed_length(row["leaf length"])] += 2 if height <= 60 else 3 if height <= 90 else 4
    found = order(house())
    # As delivered or not.
    assert found["slabs"] == () and order([door("A")])["slabs"][0][0].width == 30.0
    assert {size.leaf_length: count for size, count in found["hinges"]} == dict(wanted)
    locks = Counter(parsed_length(row["backset"]) for row in rows if row["lock"] == "yes")
    assert {size.backset: count for size, count in found["bolts"]} == dict(locks)
    # Three holes in a leaf up to 4 in, four up to 5 in; two leaves a hinge.
    holes = sum(2 * (3 if leaf <= 4 else 4) * count for leaf, count in wanted.items())
    assert sum(count for _, count in found["screws"]) == holes


def test_every_leaf_of_a_job_has_one_set_up() -> None:
    found = jig_set_ups(house())
    served = Counter(
        (jig.set_up.side, each.door, part)
        for jig in found
        for each in jig.doors
        for part in each.parts
    )
    every = {
        (side, each.name, mark.name.removeprefix("the "))
        for each in house()
        for mark in each.bench.leaves.hinges
        for side in ("slab", "jamb")
    }
    assert set(served) == every and set(served.values()) == {1}
    keys = [
        (jig.side, jig.setback, jig.depth, jig.leaf.length, jig.corner_radius, jig.tools)
        for jig in (each.set_up for each in found)
    ]
    assert len(set(keys)) == len(keys)
    hinges = {each.name: each.bench.finished.hinge for each in house()}
    for jig in found:
        own = jig.set_up
        for hinge in (hinges[each.door] for each in jig.doors):
            leaves = hinge.slab if own.side == "slab" else hinge.jamb
            assert set(leaves.setbacks) == {own.setback} and set(leaves.depths) == {own.depth}
            assert (hinge.leaf_length, hinge.corner_radius) == (own.leaf.length, own.corner_radius)


def test_set_ups_part_what_is_let_in_otherwise_and_share_what_is_alike() -> None:
    odd = door("Odd", hinge__slab__setbacks=(0.25, 0.25, 0.3125))
    slab = [jig for jig in jig_set_ups([odd, door("Plain")]) if jig.set_up.side == "slab"]
    assert [[(each.door, each.parts, each.whole) for each in jig.doors] for jig in slab] == [
        [
            ("Odd", ("top hinge", "middle hinge"), False),
            ("Plain", ("top hinge", "middle hinge", "bottom hinge"), True),
        ],
        [("Odd", ("bottom hinge",), False)],
    ]
    thick = door("Thick", slab__thickness=1.75, opening__rabbet__hinge=(1.8125,))
    (slab, *_) = jig_set_ups([door("Plain"), thick])
    assert [each.door for each in slab.doors] == ["Plain", "Thick"]
    assert slab.runs == pytest.approx((1.375 - 0.25, 1.75 - 0.25), abs=2e-3)


def test_saw_tilts_and_bores_gather_what_is_alike() -> None:
    doors = [
        door("A"),
        door("B", slab__strike_edge=bevel(3.0)),
        door("C", slab__hinge_edge=rounded(3.0), slab__strike_edge=bevel(3.0)),
    ]
    found = {
        round(degrees(saw.tilt), 6): [(each.door, each.parts) for each in saw.doors]
        for saw in saw_set_ups(doors)
    }
    assert found == {
        2.0: [("A", ("hinge edge", "strike edge")), ("B", ("hinge edge",))],
        3.0: [("B", ("strike edge",)), ("C", ("strike edge",))],
    }
    doors = [door("A", lock=LOCK), door("B", lock=replace(LOCK, height=40.0)), door("C")]
    doors.append(door("D", lock=replace(LOCK, backset=2.75)))
    assert [[each.door for each in bore.doors] for bore in bore_set_ups(doors)] == [
        ["A", "B"],
        ["D"],
    ]


# What is said of a job


def words_of(*doors: Door, **more: object) -> str:
    """Return what is said of a job, on one line."""
    return " ".join(text(house_card(Job(title="job", doors=doors, **more))).split())


def test_the_summary_says_which_swing_which_not_and_the_first_cure() -> None:
    bad = pinched()
    words = words_of(door("Closet"), bad)
    assert words.startswith("job: 2 doors: 1 good, 1 bad")
    assert "Bad Pantry (row 2): " in words and "Good Closet" in words
    assert bad.answer.cures and bad.answer.cures[0].words in words
    assert "Pantry*" in words and "* not fit to be hung so" in words


def test_the_cut_list_is_a_table_on_a_page_and_a_taper_takes_a_second_row() -> None:
    lines = text(house_card(Job(title="house", doors=house()))).splitlines()
    assert max(map(len, lines)) <= 78
    start = next(k for k, line in enumerate(lines) if line.startswith("Cut list, in"))
    first = lines[start + 1].split()
    assert first == ["G01", "Front", "hall", "36", "x", "84", "0", "0", "36", "83", "5/8"]
    rows = [line for line in lines[start + 1 :] if re.match(r"  [GFS]\d\d ", line)]
    assert len(rows) == 40
    tapered = door("Bath", slab__width=(29.875, 29.75), slab__height=(79.75, 79.5))
    lines = text(house_card(Job(title="job", doors=(tapered,)))).splitlines()
    row = next(k for k, line in enumerate(lines) if line.startswith("  Bath"))
    assert lines[row].split()[-4:] == ["29", "7/8", "79", "3/4"]
    assert lines[row + 1].split()[:3] == ["bottom,", "strike", "edge"]
    assert lines[row + 1].split()[-4:] == ["29", "3/4", "79", "1/2"]


def test_the_data_of_a_house_are_json_with_every_door() -> None:
    refused = (Refused(name="Attic", where="row 9", reason="slab: nothing is left of it"),)
    found = json.loads(
        json.dumps(data_of(Job(title="house", doors=house(), refused=refused)), allow_nan=False)
    )
    assert found["schema"] == "swingcheck.house/1"
    assert [each["name"] for each in found["doors"]] == [each.name for each in house()]
    assert found["refused"][0]["name"] == "Attic"
    first = found["doors"][0]
    assert first["bench"]["cuts"]["finished_in"]["width"] == [36.0]
    assert first["check"]["verdict"] == "swings"
    assert sum(size["count"] for size in found["order"]["hinges"]) == 120


def test_an_opening_without_bench_numbers_is_counted_and_told_why() -> None:
    bare = tuple(
        Bare(name=name, where="row 3", answer=answer, reason="slab: on pivots")
        for name, answer in (("Servery", plain_answer()), ("Lobby", pinched().answer))
    )
    words = words_of(door("Closet"), bare=bare)
    assert words.startswith("job: 3 doors: 2 good, 1 bad")
    assert "Uncut Servery (row 3): slab: on pivots" in words
    found = data_of(Job(title="job", doors=(door("Closet"),), bare=bare))
    assert (found["swing"], found["do_not"]) == (["Closet", "Servery"], ["Lobby"])
    assert (found["good"], found["tight"], found["bad"]) == (["Closet", "Servery"], [], ["Lobby"])
    verdicts = [each["check"]["verdict"] for each in found["uncut"]]
    assert verdicts == [Verdict.SWINGS.value, Verdict.PINCHES.value]
    assert count_words(40, 0, 0) == "40 doors: 40 good"
    assert count_words(1, 1, 0, 1) == "3 doors: 1 good, 1 tight, 1 cannot be worked out"


# Cards


def titles(each: Door) -> list[str]:
    return [step.title for step in door_card(each).steps]


def test_a_card_goes_in_cutting_order_with_the_running_marks_and_the_template() -> None:
    # Common practice, no source: 1/8 in off evenly is W - 1/16, then W - 1/8, on the wide face;
    # a 5/8 corner takes a 1 1/4 bit, and with a 1 3/8 bushing a template 1/8 in longer.
    assert titles(door(lock=LOCK)) == [
        "Rip the hinge edge",
        "Rip the strike edge",
        "Trim the bottom",
        "Mark the leaves on the slab, from its top",
        "Mark the leaves on the jamb, from the head",
        "Rout the slab's leaves",
        "Rout the jamb's leaves",
        "Pre-drill for the screws",
        "Bore for the latch",
        "Hang it: the margins to see",
    ]
    values = {step.title: step.figures for step in door_card(door()).steps}
    assert values["Rip the hinge edge"]["from"] == "30"
    assert values["Rip the hinge edge"]["then wide face"] == "29 15/16"
    assert values["Rip the strike edge"]["then wide face"] == "29 7/8"
    assert values["Rip the strike edge"]["saw tilt"] == "2 deg"
    assert values["Trim the bottom"] == {"off": "1/4", "then high": "79 3/4"}
    router = values["Rout the jamb's leaves"]
    assert (router["bit"], router["bushing"]) == ("1 1/4", "1 3/8")
    assert router["template opening"].startswith("3 5/8 x ")
    margins = door().bench.cuts.margins
    seen = values["Hang it: the margins to see"]
    for name in ("hinge", "strike", "head", "bottom"):
        assert seen[name] == fraction_text(getattr(margins, name)[0])
    assert seen["hinge"] != seen["strike"]
    metric = door_card(door(), "mm").steps[0].figures
    assert (metric["from"], metric["then wide face"]) == ("762", "760.4")
    leaves = values["Mark the leaves on the slab, from its top"]
    assert leaves["top hinge"] == "6 7/8" and leaves["setback from the stop-side face"] == "1/4"


def test_a_card_names_the_leaf_that_differs_and_first_that_a_slab_does_not_swing() -> None:
    odd = door_card(door(hinge__slab__setbacks=(0.25, 0.25, 0.3125)))
    (step,) = [each for each in odd.steps if each.title.startswith("Mark the leaves on the slab")]
    setbacks = {label: value for label, value in step.figures.items() if "setback" in label}
    assert setbacks == {
        "setback from the stop-side face": "1/4",
        "setback from the stop-side face, bottom hinge": "5/16",
    }
    card = door_card(pinched())
    assert card.fit is FitWord.BAD and card.remedy
    page = cards_text([card])
    assert page.index("Do not cut yet") < page.index("PINCHES") < page.index("1. Rip")
    assert "Do not cut yet" in cards_html([card], {}, LETTER)
    assert "Do not cut yet" not in cards_text([door_card(door())])


def test_text_cards_fit_a_page_wide_and_begin_each_on_a_new_one() -> None:
    pages = cards_text([door_card(each) for each in house()]).split("\f")
    assert len(pages) == 40
    for page, each in zip(pages, house(), strict=True):
        assert page.startswith(each.name.upper())
        assert max(map(len, page.splitlines())) <= 76
        assert page.count("[ ]") == len(titles(each))


class Outline(HTMLParser):
    """Counts tags, and sees that each that opens is closed in order."""

    VOID = frozenset({"meta", "input", "img"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.count: Counter[str] = Counter()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.count[tag] += 1
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_html_cards_are_one_file_with_a_box_a_step_and_no_address() -> None:
    hostile = door('<script>alert("x")</script>')
    cards = [door_card(each) for each in (*house()[:4], hostile)]
    page = cards_html(cards, {cards[0].name: b"\x89PNG" + bytes(20)}, A4)
    outline = Outline()
    outline.feed(page)
    assert not outline.open
    assert outline.count["article"] == 5 and outline.count["img"] == 1
    assert outline.count["input"] == sum(len(card.steps) for card in cards)
    assert "size: A4" in page and "://" not in page and "<script" not in page
    told = ("7/8", "3 of 80", "2 deg", "0.5 & 1")
    shown = ("<sup>7</sup>\u2044<sub>8</sub>", "3 of 80", "2°", "0.5 &amp; 1")
    assert tuple(map(figure_html, told)) == shown


@pytest.mark.parametrize("paper", [LETTER, A4], ids=["letter", "a4"])
def test_every_door_of_the_house_has_one_page(paper: Paper) -> None:
    cards = [door_card(each) for each in house()]
    room = paper.height - 2 * MARGIN - FOOT
    for card in cards:
        assert sum(block.height for block in laid_out(card, paper, b"")) <= room + 1e-6
    pdf = cards_pdf(cards[:3], {}, paper)
    assert pdf == cards_pdf(cards[:3], {}, paper)
    assert len(re.findall(rb"/Type /Page\b", pdf)) == 3
    assert pdf.count(b"/FontFile2") >= 2  # the fonts are in the file
    long = cards_pdf([replace(cards[0], steps=cards[0].steps * 6)], {}, paper)
    assert len(re.findall(rb"/Type /Page\b", long)) > 1


def test_lines_fit_their_width_and_part_no_number_from_its_fraction() -> None:
    for words in ("W" * 200, "a house of forty doors and one more " * 8):
        lines = wrapped(words, 300.0, 24.0, bold=True)
        assert max(width_of(line, 24.0, bold=True) for line in lines) <= 300.0 + 1e-6
        assert "".join("".join(lines).split()) == "".join(words.split())
    lines = wrapped("leave 29 13/16 in of it " * 6, 120.0, 9.0)
    assert not any(re.search(r"\d$", line) for line in lines)
    assert figure_width("29 13/16", 20.0) < width_of("29 13/16", 20.0, bold=True)


def test_templates_are_one_for_each_leaf_let_in_otherwise() -> None:
    doors = [door("A"), door("B"), door("C", hinge__slab__setbacks=(0.25, 0.25, 0.3125))]
    pages = templates(doors)
    assert [(page.set_up.side, page.set_up.setback, page.doors) for page in pages] == [
        ("slab", 0.25, ["A", "B", "C"]),
        ("jamb", 0.3125, ["A", "B", "C"]),
        ("slab", 0.3125, ["C"]),
    ]
    pdf = templates_pdf(pages, LETTER)
    assert len(re.findall(rb"/Type /Page\b", pdf)) == 3
    assert pdf == templates_pdf(templates(doors), LETTER)
    # a leaf too long for the paper is not drawn
    tops = (7.0, 30.0, 55.0)
    long = door(
        hinge__leaf_length=12.0,
        hinge__jamb__tops=tuple(top + 0.125 for top in tops),
        hinge__slab__tops=tops,
    )
    assert not any(fits(page, LETTER) for page in templates([long]))
    assert all(fits(page, LETTER) for page in templates([door()]))
