"""The page: one file that a browser opens with no network, and that says what the library says."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from math import degrees, radians
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import Result

from swingcheck import palette
from swingcheck.advice.answer import Answer, answered
from swingcheck.assembly import Assembly, PartKind, assemble
from swingcheck.geometry.section import horizontal_section
from swingcheck.model import Scene
from swingcheck.page import file, sheet
from swingcheck.page.drawn import decided_view
from swingcheck.report.card import card
from swingcheck.scenefile import read_scene
from swingcheck.swing.swung import opening_at_strike, swung
from swingcheck.units import angle_text, length_text
from tests.browser import DESK, PHONE, Window, looks_like, needs_chromium, opened
from tests.commands import refused, run
from tests.pictures import SCENES as MADE
from tests.pictures import contrast, scene_of
from tests.scene_files import SCENES

ASSETS = Path(file.__file__).parent / "assets"
PINCHES = SCENES / "guest_room.toml"
DRAGS = SCENES / "kitchen_passage.toml"
SWINGS = SCENES / "study.toml"
SEVERAL = (PINCHES, DRAGS, SWINGS)


def written(*args: object) -> Result:
    return run("page", *args)


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
    for name, scenes in (("one", (PINCHES,)), ("several", SEVERAL)):
        result = written(*scenes, "-o", folder / f"{name}.html")
        assert result.exit_code == 0, result.output
    return folder


@pytest.fixture(scope="module")
def window_of_one(browser: Any, pages: Path) -> Iterator[Window]:
    """Yield the page of one scene, opened once for the tests that turn it as they need it."""
    with opened(browser, f"file://{pages}/one.html", DESK) as window:
        yield window
        assert window.said == []


@pytest.fixture(scope="module")
def window_of_several(browser: Any, pages: Path) -> Iterator[Window]:
    """Yield the page of several scenes, opened once."""
    with opened(browser, f"file://{pages}/several.html", DESK) as window:
        yield window
        assert window.said == []


@pytest.fixture
def one(window_of_one: Window) -> Window:
    """Return the page of one scene, on a desk."""
    window_of_one.page.set_viewport_size(DESK)
    window_of_one.settle()
    return window_of_one


@pytest.fixture
def several(window_of_several: Window) -> Window:
    """Return the page of several scenes, on a desk."""
    window_of_several.page.set_viewport_size(DESK)
    return window_of_several


@cache
def checked(path: Path) -> tuple[Scene, Answer, Assembly]:
    scene = read_scene(path)
    return scene, answered(scene), assemble(scene)


# --- the file ---------------------------------------------------------------------------------


def test_page_is_one_small_file_and_what_is_refused_leaves_the_one_that_was_there(
    tmp_path: Path,
) -> None:
    every = sorted(SCENES.glob("*.toml"))[::7]
    page = tmp_path / "all.html"
    result = written(*every, "-o", page)
    assert result.exit_code == 0
    assert page.stat().st_size < 120_000 * len(every)
    assert f"{len(every)} scenes" in result.output
    assert [path.name for path in tmp_path.iterdir()] == ["all.html"]
    page = tmp_path / "fit.html"
    page.write_text("yesterday's")
    refused(written(PINCHES, "-o", page, "--set", "slab.width=banana"), "slab.width")
    assert page.read_text() == "yesterday's"


def test_a_page_names_no_address_and_words_of_a_scene_cannot_become_markup(
    pages: Path, tmp_path: Path
) -> None:
    text = (pages / "one.html").read_text()
    assert set(re.findall(r"\w+://[^\"'`\s]+", text)) == {"http://www.w3.org/2000/svg"}
    assert not re.search(r"@import|\bsrc=|url\((?!#)", text.replace("url(#", ""))
    assert re.findall(r'href="([^"]*)"', text) == ["data:,"]
    assert "default-src 'none'" in text
    assert "connect-src 'none'" in text
    odd = tmp_path / "odd.toml"
    title = '"</script><img src=x onerror=alert(1)> & <!--script-->"'
    odd.write_text(re.sub(r"^title = .*$", f"title = {title}", PINCHES.read_text(), flags=re.M))
    page = tmp_path / "odd.html"
    assert written(odd, "-o", page).exit_code == 0
    text = page.read_text()
    assert "<img" not in text
    assert data_of(page)["scenes"][0]["title"].startswith("</script>")


def test_page_holds_the_exact_contact_and_the_same_report(pages: Path) -> None:
    (scene,) = data_of(pages / "one.html")["scenes"]
    _, answer, assembly = checked(PINCHES)
    result = answer.found
    assert result.closing is not None
    (touch,) = (t for t in scene["touches"] if t["way"] == "closing")
    assert touch["angle_deg"] == degrees(result.closing.angle)
    assert result.closing.against in touch["parts"]
    assert (scene["verdict"], scene["finding"]) == (result.verdict.value, card(answer).finding)
    strike = opening_at_strike(assembly, result.closing.angle)
    arm = 2 * scene["strike_reach_in"] * np.sin(result.closing.angle / 2)
    assert arm == pytest.approx(strike, abs=1e-12)


def test_colours_are_of_every_part_and_its_own_turn_needs_no_further_drawing() -> None:
    materials = palette.drawing_colours()["materials"]
    assert set(materials) == {kind.value for kind in PartKind}
    assert palette.CONTACT not in {each["fill"] for each in materials.values()}
    for path in (PINCHES, SWINGS):
        _, answer, _ = checked(path)
        assert decided_view(answer.found) is None


@pytest.mark.parametrize(
    ("scene", "slab", "kind"),
    [
        (scene_of("upper_hall"), "study", "neighbour"),
        (MADE["inactive slab"], "inactive", "slab"),
        (MADE["lower slab"], "lower", "slab"),
        (MADE["push side fouls"], "", "slab"),
    ],
    ids=["neighbour", "pair", "lower", "push"],
)
def test_what_another_slab_or_the_push_side_decides_is_drawn_where_it_decides(
    scene: Scene, slab: str, kind: str
) -> None:
    answer, assembly = answered(scene), assemble(scene)
    decided = answer.found.decided
    assert slab in decided.slab and (decided.push or decided.slab)
    view = decided_view(answer.found)
    assert view is not None
    shown = sheet(answer, assembly).data["plan"]["views"]
    assert shown[0] == view and "contact" not in {each["name"] for each in shown}
    outlines = [np.array(o) for s in view["shapes"] if kind in s["kind"] for o in s["outlines"]]
    mark = np.array(view["mark"])
    if decided.push:  # a further slab is drawn in its own opening's frame
        assert mark == pytest.approx(decided.touch.point[:2])
    if decided.touch is not None:
        assert view["lit"] == [decided.touch.against]
    slabs = [np.array(o) for s in view["shapes"] if s["kind"] == "slab" for o in s["outlines"]]
    lit = [np.array(o) for s in view["shapes"] if s["name"] in view["lit"] for o in s["outlines"]]
    for found in (lit, slabs, outlines):  # the contact lies on all, as they stand
        assert min(distance_to_outline(mark, each) for each in found) < 1e-3


def distance_to_outline(point: Any, outline: Any) -> float:
    """Return how far a point is from a closed outline (n, 2)."""
    start, end = outline, np.roll(outline, -1, axis=0)
    along = end - start
    share = ((point - start) * along).sum(axis=1) / np.maximum((along**2).sum(axis=1), 1e-30)
    nearest = start + np.clip(share, 0.0, 1.0)[:, None] * along
    return float(np.linalg.norm(point - nearest, axis=1).min())


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


def closing_of_one() -> float:
    """Return the exact angle of the contact of the page of one scene, degrees."""
    closing = checked(PINCHES)[1].found.closing
    assert closing is not None
    return degrees(closing.angle)


@needs_chromium
@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_dragged_angle_reads_what_the_library_says_there(
    one: Window, pages: Path, size: dict[str, int]
) -> None:
    scene, _, assembly = checked(PINCHES)
    swing = swung(assembly)
    one.page.set_viewport_size(size)
    for share in (0.82, 0.45, 0.31):
        drag(one, share)
        angle = radians(shown_angle(one))
        assert shown_angle(one) == pytest.approx(180.0 * share**2, rel=0.06)
        assert words(one, "angle") == angle_text(angle).replace(" deg", "\u00b0")
        strike = length_text(opening_at_strike(assembly, angle), scene.unit)
        assert words(one, "strike") == f"strike edge {strike} out"
        nearest = swing.clearances(angle, angle, frozenset())
        told = re.fullmatch(r"Nearest: the (.*?), (.*)", words(one, "nearest"))
        assert told is not None
        assert told[1] in [c.against for c in nearest]
        decimal = re.search(r"\(([\d.]+)\)", told[2])
        if decimal:
            assert float(decimal[1]) == pytest.approx(nearest[0].least, abs=0.003)
        else:
            assert told[2] == length_text(nearest[0].least, scene.unit)
        value = one.page.locator("#slider").get_attribute("aria-valuetext")
        assert value.startswith(f"{angle_text(angle).removesuffix(' deg')} degrees open")
        assert words(one, "nearest") in value
    assert one.asked == [f"file://{pages}/one.html"]


@needs_chromium
def test_contact_lights_up_at_the_exact_angle_and_only_there(one: Window) -> None:
    exact, bar = closing_of_one(), one.page.locator("#bar")
    drag(one, 0.7)
    assert bar.get_attribute("data-state") == "free"
    assert not loud(one, "#view").any()
    assert not loud(one, ".panel-hinge svg").any()
    drag(one, float(np.sqrt(exact / 180.0)) + 0.002)
    assert shown_angle(one) == exact
    assert bar.get_attribute("data-state") == "contact"
    assert words(one, "nearest").startswith("Contact: touches the hinge stop")
    assert loud(one, "#view").sum() > 150
    assert loud(one, ".panel-hinge svg").sum() > 2000
    assert loud(one, ".panel-contact svg").sum() > 2000
    assert "Contact" in one.page.locator("#said").text_content()
    drag(one, 0.05)
    assert bar.get_attribute("data-state") == "past"
    assert words(one, "nearest").startswith("Past contact")


def loud(window: Window, selector: str) -> Any:
    return looks_like(window.pixels(selector), palette.CONTACT)


@needs_chromium
def test_keys_turn_the_slab_and_stop_at_the_contact(one: Window) -> None:
    exact, slider = closing_of_one(), one.page.locator("#slider")
    slider.focus()
    slider.press("Home")
    assert shown_angle(one) == 0.0
    for _ in range(int(exact // 5.0) + 1):
        slider.press("PageUp")
    assert shown_angle(one) == exact
    slider.press("ArrowRight")
    assert shown_angle(one) == pytest.approx(exact + 0.1, abs=0.051)
    while shown_angle(one) > exact:
        slider.press("ArrowLeft")
    assert shown_angle(one) == exact
    slider.press("End")
    assert shown_angle(one) == 180.0
    one.page.get_by_role("button", name="90\u00b0").click()
    assert shown_angle(one) == 90.0
    one.page.locator("#jump-contact").click()
    assert shown_angle(one) == exact


@needs_chromium
def test_view_turns_under_a_finger_and_by_keys(one: Window) -> None:
    view, mouse = one.page.locator("#view"), one.page.mouse
    looking = one.page.get_by_role("group", name="Look at")

    def turn() -> None:
        box = view.bounding_box()
        middle = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        mouse.move(*middle)
        mouse.down()
        mouse.move(middle[0] + 90, middle[1] + 20, steps=5)
        mouse.up()

    looks = {
        look: looking.get_by_role("button", name=look, exact=True).click
        for look in ("Hinge", "Strike", "Whole")
    }
    before = one.pixels("#view")
    assert 0.03 < (before < 200).any(axis=2).mean() < 0.9
    for name, act in {"turn": turn, "key": lambda: view.press("+"), **looks}.items():
        act()
        one.settle()
        after = one.pixels("#view")
        assert (before != after).any(axis=2).mean() > 0.05, name
        if name in looks:
            pressed = one.page.locator("#cut").get_attribute("aria-pressed")
            assert pressed == str(name != "Whole").lower()
        before = after


@needs_chromium
def test_two_fingers_bring_the_view_nearer(browser: Any, pages: Path) -> None:
    with opened(browser, f"file://{pages}/one.html", PHONE) as window:
        window.settle()
        before = wood(window)
        touch = window.page.context.new_cdp_session(window.page)
        box = window.page.locator("#view").bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

        def fingers(kind: str, *at: float) -> None:
            points = [{"x": x + side, "y": y, "id": k} for k, side in enumerate(at)]
            touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

        fingers("touchStart", -20, 20)
        for apart in (30, 45, 60, 80):
            fingers("touchMove", -apart, apart)
        fingers("touchEnd")
        window.settle()
        assert wood(window).sum() > 1.5 * before.sum()


def choose(window: Window, k: int) -> None:
    window.page.get_by_label("Opening", exact=True).select_option(index=k)
    window.settle()


@needs_chromium
def test_chooser_shows_each_scene_on_its_own_hand_and_its_floor_lit(several: Window) -> None:
    assert several.page.get_by_label("Opening", exact=True).locator("option").count() == 3
    for k, path in enumerate(SEVERAL):
        choose(several, k)
        scene, answer, _ = checked(path)
        assert words(several, "title") == scene.title
        assert words(several, "finding") == card(answer).finding
        shown = several.page.locator(".reports:visible")
        assert shown.count() == 1
        assert scene.title in shown.locator("h2").first.text_content()
        jamb = looks_like(several.pixels(".panel-hinge svg"), palette.JAMB.fill, 8)
        left = jamb[:, : jamb.shape[1] // 2].sum() > jamb.sum() / 2
        assert left == (scene.hinges_on == "left"), path.stem
    choose(several, SEVERAL.index(DRAGS))
    several.page.locator("#jump-contact").click()
    several.settle()
    assert words(several, "nearest") == "Contact: touches the floor"
    assert loud(several, "#view").mean() > 0.05
    assert several.page.locator("tr.touching").inner_text().split()[0] == "floor"


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
@pytest.mark.parametrize("k", [0, 1], ids=["left", "right"])
def test_slab_opens_toward_the_pull_side_as_the_librarys_own_section(
    several: Window, pages: Path, k: int
) -> None:
    scene, _, assembly = checked(SEVERAL[k])
    is_left = scene.hinges_on == "left"
    assert is_left == (k == 0)
    height = data_of(pages / "several.html")["scenes"][k]["plan"]["height"]
    choose(several, k)
    seen = {}
    for angle in (0.0, 40.0, 90.0):
        step_to(several, angle)
        seen[angle] = np.argwhere(wood(several))
        at = radians(shown_angle(several))
        for part in assembly.moving:
            drawn = drawn_corners(several, part.name)
            turned = assembly.axis.turned(part.solid, at)
            for outline in horizontal_section(turned, height):
                corners = outline * [1.0 if is_left else -1.0, 1.0]
                away = np.linalg.norm(corners[:, None] - drawn[None], axis=2)
                assert away.min(axis=1).max() < 2e-3, (part.name, angle)
    # Seen from the pull side and above, what swings this way comes down the picture.
    lowest = {angle: np.quantile(at[:, 0], 0.999) for angle, at in seen.items()}
    assert lowest[40.0] > lowest[0.0] + 0.04 * several.pixels("#view").shape[0]
    middle = {angle: at[:, 1].mean() for angle, at in seen.items()}
    assert (middle[90.0] < middle[0.0]) == is_left


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


FITS = """() => ({
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

CHART_WORDS = """() => [...document.querySelectorAll("#chart text")].map((e) => {
    const b = e.getBoundingClientRect();
    return [b.left, b.top + 2, b.right, b.bottom - 2, e.textContent];
})"""


@needs_chromium
@pytest.mark.parametrize("width", [320, 390, 700, 1000, 1366])
def test_nothing_is_clipped_or_covered_or_wider_than_the_window(
    several: Window, width: int
) -> None:
    several.page.set_viewport_size({"width": width, "height": 844})
    for k in range(len(SEVERAL)):
        choose(several, k)
        found = several.page.evaluate(FITS)
        assert found["page"] <= width
        assert found["clipped"] == []
        assert found["small"] == []
        boxes = several.page.evaluate(CHART_WORDS)
        edge = several.page.locator("#chart svg").bounding_box()
        for n, a in enumerate(boxes):
            assert a[0] >= edge["x"] - 1
            assert a[2] <= edge["x"] + edge["width"] + 1
            for b in boxes[n + 1 :]:
                apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
                assert apart, (a[4], b[4])


@needs_chromium
def test_everything_has_a_name_for_who_does_not_see_it(several: Window) -> None:
    found = several.page.evaluate(
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
    several.page.keyboard.press("Tab")
    focused = "() => getComputedStyle(document.activeElement).outlineStyle"
    assert several.page.evaluate(focused) == "solid"


@needs_chromium
def test_without_webgl_or_scripts_and_in_print_it_still_tells(browser: Any, pages: Path) -> None:
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
    _, answer, _ = checked(PINCHES)
    with opened(browser, f"file://{pages}/one.html", PHONE, scripts=False) as window:
        report = window.page.locator(".report").text_content()
        assert card(answer).finding in report
        assert "Scripts are off" in window.page.locator("noscript").text_content()
        assert window.page.locator(".shop table").first.is_visible()
    with opened(browser, f"file://{pages}/several.html", DESK) as window:
        window.page.emulate_media(media="print", color_scheme="light")
        assert not window.page.locator("#slider").is_visible()
        assert not window.page.get_by_role("group", name="Look at").is_visible()
        assert window.page.locator(".panel svg").first.is_visible()
        assert window.page.locator(".reports:visible").count() == 1
        window.page.evaluate("() => window.dispatchEvent(new Event('beforeprint'))")
        assert window.page.locator(".report details[open]").first.is_visible()


@needs_chromium
@pytest.mark.parametrize("scheme", ["dark", "light"])
def test_words_are_legible_on_a_dark_page_too(one: Window, scheme: str) -> None:
    one.page.emulate_media(color_scheme=scheme)
    pairs = one.page.evaluate(
        """() => ["#title", "#finding", "#strike", "#nearest", ".note", ".report p",
                  "[data-jump=closed]", ".report th"].map((name) => {
            const of = (e) => getComputedStyle(e);
            const e = document.querySelector(name);
            let back = e;
            while (of(back).backgroundColor === "rgba(0, 0, 0, 0)") back = back.parentElement;
            return [name, ...[of(e).color, of(back).backgroundColor].map(
                (colour) => colour.match(/[\\d.]+/g).slice(0, 3).map(Number))];
        })"""
    )
    for name, colour, back in pairs:
        # WCAG 2.1, 1.4.3: at least 4.5 to 1 for text
        assert contrast(colour, back) >= 4.5, name


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
