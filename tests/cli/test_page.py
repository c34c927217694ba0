"""The page: one file that a browser opens with no network, and that says what the library says."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from math import degrees, radians
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner, Result

from swingcheck import palette
from swingcheck.advice.answer import Answer, answered
from swingcheck.assembly import Assembly, PartKind, assemble
from swingcheck.cli import main
from swingcheck.geometry.section import horizontal_section
from swingcheck.model import Obstacle, Scene
from swingcheck.page import file, sheet
from swingcheck.page.decided import decided_view
from swingcheck.report.card import card
from swingcheck.scenefile import read_scene
from swingcheck.swing.swung import opening_at_strike, swung
from swingcheck.units import angle_text, length_text
from tests.browser import DESK, PHONE, Window, looks_like, needs_chromium, opened, windows

SCENES = Path(__file__).parents[2] / "scenes"
ASSETS = Path(file.__file__).parent / "assets"
PINCHES = SCENES / "guest_room.toml"
DRAGS = SCENES / "kitchen_passage.toml"
SWINGS = SCENES / "study.toml"
SEVERAL = (PINCHES, DRAGS, SWINGS)


def written(*args: str) -> Result:
    return CliRunner().invoke(main, ["page", *args])


def changed_scene(name: str, key: str, value: str) -> Scene:
    return read_scene(SCENES / f"{name}.toml").with_({key: value})


def data_of(page: Path) -> dict[str, Any]:
    found = re.search(
        r'<script type="application/json" id="data">(.*?)</script>', page.read_text(), re.S
    )
    assert found is not None
    return dict(json.loads(found[1]))


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a page of one scene and a page of several."""
    folder = tmp_path_factory.mktemp("pages")
    for name, scenes in (("one", (PINCHES,)), ("several", SEVERAL), ("right", (DRAGS,))):
        result = written(*map(str, scenes), "-o", str(folder / f"{name}.html"))
        assert result.exit_code == 0, result.output
    return folder


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with windows() as found:
        yield found


def checked(path: Path) -> tuple[Scene, Answer, Assembly]:
    scene = read_scene(path)
    return scene, answered(scene), assemble(scene)


# --- the file ---------------------------------------------------------------------------------


def test_page_is_one_file_under_a_megabyte_for_every_scene(tmp_path: Path) -> None:
    every = sorted(map(str, SCENES.glob("*.toml")))[:9]
    page = tmp_path / "all.html"
    result = written(*every, "-o", str(page))
    assert result.exit_code == 0
    assert page.stat().st_size < 1_000_000
    assert "9 scenes" in result.output
    assert [path.name for path in tmp_path.iterdir()] == ["all.html"]


def test_page_names_no_address_but_the_drawing_language(pages: Path) -> None:
    text = (pages / "one.html").read_text()
    assert set(re.findall(r"\w+://[^\"'`\s]+", text)) == {"http://www.w3.org/2000/svg"}
    assert not re.search(r"@import|\bsrc=|url\((?!#)", text.replace("url(#", ""))
    assert re.findall(r'href="([^"]*)"', text) == ["data:,"]
    assert "default-src 'none'" in text
    assert "connect-src 'none'" in text


def test_page_holds_the_exact_contact_and_the_same_report(pages: Path) -> None:
    (scene,) = data_of(pages / "one.html")["scenes"]
    _, answer, assembly = checked(PINCHES)
    result = answer.found
    assert result.closing is not None
    (touch,) = (t for t in scene["touches"] if t["way"] == "closing")
    assert touch["angle_deg"] == degrees(result.closing.angle)
    assert result.closing.against in touch["parts"]
    said = card(answer)
    assert (scene["verdict"], scene["finding"]) == (said.verdict, said.finding)
    strike = opening_at_strike(assembly, result.closing.angle)
    arm = 2 * scene["strike_reach_in"] * np.sin(result.closing.angle / 2)
    assert arm == pytest.approx(strike, abs=1e-12)


@pytest.mark.parametrize("path", SEVERAL, ids=lambda path: path.stem)
def test_clearance_table_is_the_librarys_own_search_at_its_angles(pages: Path, path: Path) -> None:
    scene = data_of(pages / "several.html")["scenes"][SEVERAL.index(path)]
    _, _, assembly = checked(path)
    table, swing = scene["clearance"], swung(assembly)
    ends = [touch["angle_deg"] for touch in scene["touches"] if touch["way"] == "closing"]
    free = [k for k, a in enumerate(table["angles_deg"]) if a > (max(ends) if ends else 0.0)]
    for k in free[:: max(len(free) // 9, 1)]:
        angle = radians(table["angles_deg"][k])
        found = {c.against: c.least for c in swing.clearances(angle, angle, frozenset())}
        for name, shown in zip(table["parts"], table["rows_in"][k], strict=True):
            wanted = min(found[name], table["within_in"])
            assert shown == pytest.approx(wanted, abs=1.1e-4), (angle, name)


def test_clearance_between_angles_is_as_near_as_the_page_says(pages: Path) -> None:
    scene = data_of(pages / "one.html")["scenes"][0]
    _, answer, assembly = checked(PINCHES)
    result = answer.found
    assert result.closing is not None
    table, swing = scene["clearance"], swung(assembly)
    angles = np.array(table["angles_deg"])
    rows = np.array(table["rows_in"])
    rng = np.random.default_rng(8)
    low = degrees(result.closing.angle)
    for asked in rng.uniform(low, [low + 3.0] * 6 + [90.0] * 6):
        angle = radians(asked)
        found = {c.against: c.least for c in swing.clearances(angle, angle, frozenset())}
        for k, name in enumerate(table["parts"]):
            between = np.interp(asked, angles, rows[:, k])
            wanted = min(found[name], table["within_in"])
            assert between == pytest.approx(wanted, abs=table["between_in"] + 2e-4), (asked, name)
    assert table["between_in"] < 0.004


def test_every_kind_of_part_has_its_colours_and_hatching() -> None:
    materials = palette.drawing_colours()["materials"]
    assert set(materials) == {kind.value for kind in PartKind}
    assert palette.CONTACT not in {each["fill"] for each in materials.values()}


def test_words_from_a_scene_cannot_become_markup(tmp_path: Path) -> None:
    odd = tmp_path / "odd.toml"
    title = '"</script><img src=x onerror=alert(1)> & <!--script-->"'
    odd.write_text(
        re.sub(r"^title = .*$", f"title = {title}", PINCHES.read_text(), flags=re.M),
    )
    page = tmp_path / "odd.html"
    assert written(str(odd), "-o", str(page)).exit_code == 0
    text = page.read_text()
    assert "<img" not in text
    assert data_of(page)["scenes"][0]["title"].startswith("</script>")


def test_other_kinds_of_file_are_refused_and_nothing_is_written(tmp_path: Path) -> None:
    result = written(str(PINCHES), "-o", str(tmp_path / "fit.png"))
    assert result.exit_code == 2
    assert "must end in .html" in result.output
    result = written(str(PINCHES), "-o", str(tmp_path / "no such folder" / "fit.html"))
    assert result.exit_code == 2
    assert "there is no folder" in result.output
    assert not list(tmp_path.iterdir())


def test_bad_scene_leaves_the_page_that_was_there(tmp_path: Path) -> None:
    page = tmp_path / "fit.html"
    page.write_text("yesterday's")
    result = written(str(PINCHES), "-o", str(page), "--set", "slab.width=banana")
    assert result.exit_code == 2
    assert "slab.width" in result.output
    assert page.read_text() == "yesterday's"
    assert [path.name for path in tmp_path.iterdir()] == ["fit.html"]


STOVE = Obstacle(name="stove", corner=(0.5, -30.0, 0.0), size=(25.0, 5.0, 40.0))


def pushed_into_a_stove() -> Scene:
    scene = read_scene(SCENES / "servery.toml")
    swing = replace(scene.swing, start=radians(30.0))
    return replace(scene, obstacles=(STOVE,), swing=swing)


@pytest.mark.parametrize(
    ("scene", "slab", "kind"),
    [
        (read_scene(SCENES / "upper_hall.toml"), "study", "neighbour"),
        (
            changed_scene("dining_room", "inactive.hinge.slab.setback", "3/8"),
            "inactive",
            "inactive",
        ),
        (changed_scene("back_kitchen", "lower.hinge.slab.setback", "3/8"), "lower", "lower"),
        (pushed_into_a_stove(), "", "slab"),
    ],
    ids=["neighbour", "pair", "lower", "push"],
)
def test_what_another_slab_or_the_push_side_decides_is_drawn_where_it_decides(
    scene: Scene, slab: str, kind: str
) -> None:
    answer, assembly = answered(scene), assemble(scene)
    decided = answer.found.decided
    assert slab in decided.slab and (decided.push or decided.slab)
    view = decided_view(assembly, answer.found)
    assert view is not None
    shown = sheet(answer, assembly).data["plan"]["views"]
    assert shown[0] == view and "contact" not in {each["name"] for each in shown}
    outlines = [np.array(o) for s in view["shapes"] if kind in s["kind"] for o in s["outlines"]]
    mark = np.array(view["mark"])
    assert min(distance_to_outline(mark, outline) for outline in outlines) < 1.0
    if decided.touch is None:  # two slabs that overlap: the mark lies in both
        own = [np.array(o) for s in view["shapes"] if s["kind"] == "slab" for o in s["outlines"]]
        assert all(any(inside(mark, each) for each in found) for found in (own, outlines))
        return
    assert mark == pytest.approx(decided.touch.point[:2])
    assert view["lit"] == [decided.touch.against]
    lit = [np.array(o) for s in view["shapes"] if s["name"] in view["lit"] for o in s["outlines"]]
    for found in (lit, outlines):  # the contact lies on both, as they stand
        assert min(distance_to_outline(mark, each) for each in found) < 1e-3


def test_what_the_slabs_own_turn_shows_has_no_drawing_of_its_own() -> None:
    for path in (PINCHES, SWINGS):
        _, answer, assembly = checked(path)
        assert decided_view(assembly, answer.found) is None


def distance_to_outline(point: Any, outline: Any) -> float:
    """Return how far a point is from a closed outline (n, 2)."""
    start, end = outline, np.roll(outline, -1, axis=0)
    along = end - start
    share = ((point - start) * along).sum(axis=1) / np.maximum((along**2).sum(axis=1), 1e-30)
    nearest = start + np.clip(share, 0.0, 1.0)[:, None] * along
    return float(np.linalg.norm(point - nearest, axis=1).min())


def inside(point: Any, outline: Any) -> bool:
    """Return whether an outline goes round a point."""
    ahead = outline - point
    turns = np.angle(np.exp(1j * np.diff(np.angle([complex(*p) for p in [*ahead, ahead[0]]]))))
    return bool(abs(turns.sum()) > 3.0)


# --- in a browser -----------------------------------------------------------------------------


def drag(window: Window, share: float) -> None:
    """Drag the slider's thumb to a share of its way, with the mouse, as a person does."""
    slider = window.page.locator("#slider")
    box = slider.bounding_box()
    at = float(slider.input_value())
    room = 22.0
    ends = [box["x"] + room + part * (box["width"] - 2 * room) for part in (at, share)]
    middle = box["y"] + box["height"] / 2
    mouse = window.page.mouse
    mouse.move(ends[0], middle)
    mouse.down()
    mouse.move((ends[0] + ends[1]) / 2, middle + 9.0, steps=4)
    mouse.move(ends[1], middle, steps=4)
    mouse.up()
    window.settle()


def shown_angle(window: Window) -> float:
    return float(window.page.locator("#angle").get_attribute("data-deg"))


def words(window: Window, name: str) -> str:
    return str(window.page.locator(f"#{name}").inner_text())


@needs_chromium
@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_dragged_angle_reads_what_the_library_says_there(
    browser: Any, pages: Path, size: dict[str, int]
) -> None:
    scene, answer, assembly = checked(PINCHES)
    result = answer.found
    assert result.closing is not None
    swing = swung(assembly)
    with opened(browser, f"file://{pages}/one.html", size) as window:
        for share in (0.82, 0.45, 0.31):
            drag(window, share)
            angle = radians(shown_angle(window))
            assert shown_angle(window) == pytest.approx(180.0 * share**2, rel=0.06)
            assert words(window, "angle") == angle_text(angle).replace(" deg", "\u00b0")
            strike = length_text(opening_at_strike(assembly, angle), scene.unit)
            assert words(window, "strike") == f"strike edge {strike} out"
            near = swing.clearances(angle, angle, frozenset())[0]
            told = re.fullmatch(r"Nearest: the (.*?), (.*)", words(window, "nearest"))
            assert told is not None
            same = [c.against for c in swing.clearances(angle, angle, frozenset())]
            assert told[1] in same
            decimal = re.search(r"\(([\d.]+)\)", told[2])
            if decimal:
                assert float(decimal[1]) == pytest.approx(near.least, abs=0.003)
            else:
                assert told[2] == length_text(near.least, scene.unit)
            value = window.page.locator("#slider").get_attribute("aria-valuetext")
            assert value.startswith(f"{angle_text(angle).removesuffix(' deg')} degrees open")
            assert words(window, "nearest") in value
        assert window.said == []
        assert window.asked == [f"file://{pages}/one.html"]


@needs_chromium
def test_contact_lights_up_at_the_exact_angle_and_only_there(browser: Any, pages: Path) -> None:
    _, answer, _ = checked(PINCHES)
    result = answer.found
    assert result.closing is not None
    exact = degrees(result.closing.angle)
    with opened(browser, f"file://{pages}/one.html", DESK) as window:
        drag(window, 0.7)
        assert window.page.locator("#bar").get_attribute("data-state") == "free"
        assert not loud(window, "#view").any()
        assert not loud(window, ".panel-hinge svg").any()
        drag(window, float(np.sqrt(exact / 180.0)) + 0.002)
        assert shown_angle(window) == exact
        assert window.page.locator("#bar").get_attribute("data-state") == "contact"
        assert words(window, "nearest").startswith("Contact: touches the hinge stop")
        assert loud(window, "#view").sum() > 150
        assert loud(window, ".panel-hinge svg").sum() > 2000
        assert loud(window, ".panel-contact svg").sum() > 2000
        assert "Contact" in window.page.locator("#said").text_content()
        drag(window, 0.05)
        assert window.page.locator("#bar").get_attribute("data-state") == "past"
        assert words(window, "nearest").startswith("Past contact")


def loud(window: Window, selector: str) -> Any:
    return looks_like(window.pixels(selector), palette.CONTACT)


@needs_chromium
def test_keys_turn_the_slab_and_stop_at_the_contact(browser: Any, pages: Path) -> None:
    _, answer, _ = checked(PINCHES)
    result = answer.found
    assert result.closing is not None
    exact = degrees(result.closing.angle)
    with opened(browser, f"file://{pages}/one.html", DESK) as window:
        slider = window.page.locator("#slider")
        slider.focus()
        slider.press("Home")
        assert shown_angle(window) == 0.0
        for _ in range(int(exact // 5.0) + 1):
            slider.press("PageUp")
        assert shown_angle(window) == exact
        slider.press("ArrowRight")
        assert shown_angle(window) == pytest.approx(exact + 0.1, abs=0.051)
        while shown_angle(window) > exact:
            slider.press("ArrowLeft")
        assert shown_angle(window) == exact
        slider.press("End")
        assert shown_angle(window) == 180.0
        window.page.get_by_role("button", name="90\u00b0").click()
        assert shown_angle(window) == 90.0
        window.page.locator("#jump-contact").click()
        assert shown_angle(window) == exact


@needs_chromium
def test_view_turns_under_a_finger_and_by_keys(browser: Any, pages: Path) -> None:
    with opened(browser, f"file://{pages}/one.html", DESK) as window:
        window.settle()
        first = window.pixels("#view")
        assert 0.03 < (first < 200).any(axis=2).mean() < 0.9
        box = window.page.locator("#view").bounding_box()
        middle = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        window.page.mouse.move(*middle)
        window.page.mouse.down()
        window.page.mouse.move(middle[0] + 90, middle[1] + 20, steps=5)
        window.page.mouse.up()
        window.settle()
        turned = window.pixels("#view")
        assert (first != turned).any(axis=2).mean() > 0.05
        window.page.locator("#view").press("+")
        window.settle()
        assert (turned != window.pixels("#view")).any(axis=2).mean() > 0.05
        for look in ("Hinge", "Strike", "Whole"):
            before = window.pixels("#view")
            looking = window.page.get_by_role("group", name="Look at")
            looking.get_by_role("button", name=look, exact=True).click()
            window.settle()
            assert (before != window.pixels("#view")).any(axis=2).mean() > 0.05
            pressed = window.page.locator("#cut").get_attribute("aria-pressed")
            assert pressed == str(look != "Whole").lower()
        assert window.said == []


@needs_chromium
def test_two_fingers_bring_the_view_nearer(browser: Any, pages: Path) -> None:
    with opened(browser, f"file://{pages}/one.html", PHONE) as window:
        window.settle()
        before = wood(window)
        touch = window.page.context.new_cdp_session(window.page)
        box = window.page.locator("#view").bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

        def fingers(kind: str, apart: float) -> None:
            points = [{"x": x - apart, "y": y, "id": 1}, {"x": x + apart, "y": y, "id": 2}]
            sent = {"type": kind, "touchPoints": [] if kind == "touchEnd" else points}
            touch.send("Input.dispatchTouchEvent", sent)

        fingers("touchStart", 20)
        for apart in (30, 45, 60, 80):
            fingers("touchMove", apart)
        fingers("touchEnd", 80)
        window.settle()
        assert wood(window).sum() > 1.5 * before.sum()


@needs_chromium
def test_chooser_shows_each_scene_on_its_own_hand(browser: Any, pages: Path) -> None:
    with opened(browser, f"file://{pages}/several.html", DESK) as window:
        chooser = window.page.get_by_label("Opening", exact=True)
        assert chooser.locator("option").count() == len(SEVERAL)
        for k, path in enumerate(SEVERAL):
            chooser.select_option(index=k)
            window.settle()
            scene, answer, _ = checked(path)
            assert words(window, "title") == scene.title
            assert words(window, "finding") == card(answer).finding
            shown = window.page.locator(".reports:visible")
            assert shown.count() == 1
            assert scene.title in shown.locator("h2").first.text_content()
            jamb = looks_like(window.pixels(".panel-hinge svg"), palette.JAMB.fill, 8)
            left = jamb[:, : jamb.shape[1] // 2].sum() > jamb.sum() / 2
            assert left == (scene.hinges_on == "left"), path.stem
        assert window.said == []


def wood(window: Window) -> Any:
    """Return where the 3D view shows the slab, pixel by pixel: yellow, lit or in shade."""
    red, green, blue = np.moveaxis(window.pixels("#view").astype(int), 2, 0)
    return (red - blue > 25) & (green > 0.75 * red)


def step_to(window: Window, degrees_: float) -> None:
    """Turn to a whole number of jumps of 5 degrees from closed, by keys."""
    slider = window.page.locator("#slider")
    slider.press("Home")
    while shown_angle(window) < degrees_ - 1e-6:
        slider.press("PageUp")
    window.settle()


@needs_chromium
@pytest.mark.parametrize("k", range(len(SEVERAL)), ids=[path.stem for path in SEVERAL])
def test_view_opens_the_slab_toward_the_pull_side_on_its_hinges(
    browser: Any, pages: Path, k: int
) -> None:
    scene, _, _ = checked(SEVERAL[k])
    with opened(browser, f"file://{pages}/several.html", DESK) as window:
        window.page.get_by_label("Opening", exact=True).select_option(index=k)
        seen = {}
        for angle in (0.0, 40.0, 90.0):
            step_to(window, angle)
            seen[angle] = np.argwhere(wood(window))
        # Seen from the pull side and above, what swings this way comes down the picture.
        height = window.pixels("#view").shape[0]
        lowest = {angle: np.quantile(at[:, 0], 0.999) for angle, at in seen.items()}
        assert lowest[40.0] > lowest[0.0] + 0.04 * height
        middle = {angle: at[:, 1].mean() for angle, at in seen.items()}
        assert (middle[90.0] < middle[0.0]) == (scene.hinges_on == "left")


@needs_chromium
@pytest.mark.parametrize("k", range(len(SEVERAL)), ids=[path.stem for path in SEVERAL])
def test_plan_is_the_librarys_own_section_at_the_angle(browser: Any, pages: Path, k: int) -> None:
    scene, _, assembly = checked(SEVERAL[k])
    hand = 1.0 if scene.hinges_on == "left" else -1.0
    height = data_of(pages / "several.html")["scenes"][k]["plan"]["height"]
    with opened(browser, f"file://{pages}/several.html", DESK) as window:
        window.page.get_by_label("Opening", exact=True).select_option(index=k)
        for angle in (0.0, 35.0, 90.0):
            step_to(window, angle)
            at = radians(shown_angle(window))
            for part in assembly.moving:
                drawn = drawn_corners(window, part.name)
                turned = assembly.axis.turned(part.solid, at)
                for outline in horizontal_section(turned, height):
                    corners = outline * [hand, 1.0]
                    away = np.linalg.norm(corners[:, None] - drawn[None], axis=2)
                    assert away.min(axis=1).max() < 2e-3, (part.name, angle)


def drawn_corners(window: Window, part: str) -> Any:
    """Return the corners (n, 2) of a part in the first close-up, as its drawing places them."""
    path = window.page.locator(f'.panel-hinge path[data-part="{part}"]')
    if not path.count():
        return np.empty((0, 2))
    found = path.evaluate(
        """(path) => {
            const moved = path.transform.baseVal.consolidate();
            const m = moved ? moved.matrix : new DOMMatrix();
            const pairs = path.getAttribute("d").match(/-?[\\d.e-]+ -?[\\d.e-]+/g);
            return pairs.map((pair) => {
                const [x, y] = pair.split(" ").map(Number);
                return [m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f];
            });
        }"""
    )
    return np.array(found)


@needs_chromium
def test_floor_contact_lights_the_floor(browser: Any, pages: Path) -> None:
    with opened(browser, f"file://{pages}/right.html", DESK) as window:
        window.settle()
        assert words(window, "nearest") == "Contact: touches the floor"
        assert loud(window, "#view").mean() > 0.05
        assert window.page.locator("tr.touching").inner_text().split()[0] == "floor"


@needs_chromium
@pytest.mark.parametrize("width", [320, 390, 700, 1000, 1366])
def test_nothing_is_clipped_or_wider_than_the_window(browser: Any, pages: Path, width: int) -> None:
    with opened(browser, f"file://{pages}/several.html", {"width": width, "height": 844}) as window:
        window.settle()
        found = window.page.evaluate(
            """() => ({
                page: document.documentElement.scrollWidth,
                clipped: [...document.querySelectorAll(
                    "button, select, h1, h2, h3, p, th, td, figcaption, output, caption, li")]
                  .filter((e) => e.offsetParent && !e.classList.contains("unseen") &&
                    (e.scrollWidth > e.clientWidth + 1) && getComputedStyle(e).display !== "inline")
                  .map((e) => e.outerHTML.slice(0, 90)),
                small: [...document.querySelectorAll("button, select, #slider")]
                  .filter((e) => e.offsetParent && e.getBoundingClientRect().height < 43)
                  .map((e) => e.outerHTML.slice(0, 90)),
            })"""
        )
        assert found["page"] <= width
        assert found["clipped"] == []
        assert found["small"] == []


@needs_chromium
def test_chart_labels_stand_clear_of_each_other(browser: Any, pages: Path) -> None:
    for size in (PHONE, DESK):
        with opened(browser, f"file://{pages}/several.html", size) as window:
            for k in range(len(SEVERAL)):
                window.page.get_by_label("Opening", exact=True).select_option(index=k)
                window.settle()
                boxes = window.page.evaluate(
                    """() => [...document.querySelectorAll("#chart text")].map((e) => {
                        const b = e.getBoundingClientRect();
                        return [b.left, b.top + 2, b.right, b.bottom - 2, e.textContent];
                    })"""
                )
                edge = window.page.locator("#chart svg").bounding_box()
                for n, a in enumerate(boxes):
                    assert a[0] >= edge["x"] - 1
                    assert a[2] <= edge["x"] + edge["width"] + 1
                    for b in boxes[n + 1 :]:
                        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
                        assert apart, (a[4], b[4])


@needs_chromium
def test_everything_has_a_name_for_who_does_not_see_it(browser: Any, pages: Path) -> None:
    with opened(browser, f"file://{pages}/several.html", DESK) as window:
        found = window.page.evaluate(
            """() => ({
                lang: document.documentElement.lang,
                ones: document.querySelectorAll("h1").length,
                nameless: [...document.querySelectorAll("button, input, select, canvas, svg")]
                  .filter((e) => !(e.getAttribute("aria-hidden") || e.closest("[aria-hidden]") ||
                    e.getAttribute("aria-label") || e.getAttribute("aria-labelledby") ||
                    e.textContent.trim() || (e.labels && e.labels.length)))
                  .map((e) => e.outerHTML.slice(0, 90)),
                broken: [...document.querySelectorAll("[aria-labelledby]")]
                  .flatMap((e) => e.getAttribute("aria-labelledby").split(" "))
                  .filter((id) => !document.getElementById(id)),
                twice: [...document.querySelectorAll("[id]")].map((e) => e.id)
                  .filter((id, k, all) => all.indexOf(id) !== k),
            })"""
        )
        assert found == {"lang": "en", "ones": 1, "nameless": [], "broken": [], "twice": []}
        window.page.keyboard.press("Tab")
        focused = "() => getComputedStyle(document.activeElement).outlineStyle"
        assert window.page.evaluate(focused) == "solid"


@needs_chromium
def test_without_webgl_plan_chart_and_report_still_follow(browser: Any, pages: Path) -> None:
    none = "HTMLCanvasElement.prototype.getContext = () => null;"
    with opened(browser, f"file://{pages}/one.html", PHONE, before=none) as window:
        window.settle()
        assert window.page.locator("#no-view").is_visible()
        assert not window.page.locator("#view").is_visible()
        assert loud(window, ".panel-hinge svg").sum() > 500
        drag(window, 0.6)
        assert words(window, "nearest").startswith("Nearest: ")
        assert not loud(window, ".panel-hinge svg").any()
        assert window.page.locator("#chart path").count() > 8
        assert "Why" in window.page.locator(".report").inner_text()
        assert window.said == []


@needs_chromium
def test_without_scripts_the_report_reads(browser: Any, pages: Path) -> None:
    _, answer, _ = checked(PINCHES)
    with opened(browser, f"file://{pages}/one.html", PHONE, scripts=False) as window:
        report = window.page.locator(".report").text_content()
        assert card(answer).finding in report
        assert "Scripts are off" in window.page.locator("noscript").text_content()
        assert window.page.locator(".shop table").first.is_visible()


@needs_chromium
def test_printed_page_is_the_drawings_and_the_report(browser: Any, pages: Path) -> None:
    with opened(browser, f"file://{pages}/several.html", DESK) as window:
        window.page.emulate_media(media="print", color_scheme="light")
        assert not window.page.locator("#slider").is_visible()
        assert not window.page.get_by_role("group", name="Look at").is_visible()
        assert window.page.locator(".panel svg").first.is_visible()
        assert window.page.locator(".reports:visible").count() == 1
        window.page.evaluate("() => window.dispatchEvent(new Event('beforeprint'))")
        assert window.page.locator(".report details[open]").first.is_visible()


@needs_chromium
def test_dark_page_keeps_its_words_legible(browser: Any, pages: Path) -> None:
    with opened(browser, f"file://{pages}/one.html", DESK) as window:
        for scheme in ("light", "dark"):
            window.page.emulate_media(color_scheme=scheme)
            pairs = window.page.evaluate(
                """() => ["#title", "#finding", "#strike", "#nearest", ".note", ".report p",
                          "[data-jump=closed]", ".report th"].map((name) => {
                    const of = (e) => getComputedStyle(e);
                    const e = document.querySelector(name);
                    let back = e;
                    while (of(back).backgroundColor === "rgba(0, 0, 0, 0)")
                      back = back.parentElement;
                    return [name, of(e).color, of(back).backgroundColor];
                })"""
            )
            for name, words_, back in pairs:
                assert contrast(words_, back) >= 4.5, (scheme, name)


def contrast(first: str, second: str) -> float:
    """Return the contrast ratio of two colours: WCAG 2.1, success criterion 1.4.3."""

    def luminance(colour: str) -> float:
        parts = np.array([float(v) for v in re.findall(r"[\d.]+", colour)[:3]]) / 255
        linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
        return float(linear @ [0.2126, 0.7152, 0.0722])

    high, low = sorted((luminance(first), luminance(second)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@needs_chromium
def test_lengths_and_angles_read_as_the_report_writes_them(browser: Any) -> None:
    rng = np.random.default_rng(3)
    values = [*rng.uniform(-2, 90, 300), *(np.arange(-40, 260) / 128), 0.0005, 0.0156, -0.0001]
    page = browser.new_page()
    script = (ASSETS / "lengths.js").read_text()
    found = page.evaluate(
        f"""(values) => {{ {script}
            return values.map(([v, d]) =>
                [lengthText(v, "in"), lengthText(v, "mm"), degreesText(d)]);
        }}""",
        [[float(value), degrees(radians(float(value)))] for value in values],
    )
    page.close()
    for value, (inches, millimetres, angle) in zip(values, found, strict=True):
        assert inches == length_text(float(value)), value
        assert millimetres == length_text(float(value), "mm"), value
        assert f"{angle} deg" == angle_text(radians(float(value))), value
