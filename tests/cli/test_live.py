"""The live page: only this machine is answered, and what a dial says is what the library says."""

from __future__ import annotations

import http.client
import json
import os
import re
import shutil
import signal
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from math import degrees
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from swingcheck.advice.answer import answered
from swingcheck.live import Session, server
from swingcheck.live.desk import Desk, StaleError
from swingcheck.live.server import LARGEST, LARGEST_HEAD, LoopbackServer
from swingcheck.live.session import dials, settings
from swingcheck.model import Scene
from swingcheck.page import card_markup
from swingcheck.report.card import card
from swingcheck.scenefile import read_scene, saved_text
from swingcheck.swing.check import check
from tests.browser import DESK, PHONE, Window, needs_chromium, opened
from tests.commands import refused, run, started
from tests.scene_files import SCENES

EVERY = sorted(SCENES.glob("*.toml"))
PINCHES = SCENES / "guest_room.toml"


def copied(folder: Path) -> Path:
    """Return a copy of a scene that pinches, alone in a folder."""
    return Path(shutil.copy(PINCHES, folder))


@pytest.fixture
def scene_file(tmp_path: Path) -> Path:
    return copied(tmp_path)


@contextmanager
def serving(session: Session) -> Iterator[LoopbackServer]:
    """Yield a server of a session, serving."""
    made = server(session)
    thread = threading.Thread(target=made.serve_forever, kwargs={"poll_interval": 0.02})
    thread.start()
    try:
        yield made
    finally:
        made.shutdown()
        thread.join()
        made.server_close()


@pytest.fixture
def served(scene_file: Path) -> Iterator[LoopbackServer]:
    with serving(Session(scene_file)) as made:
        yield made


@pytest.fixture(scope="module")
def steady(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LoopbackServer]:
    """Yield one server for all the tests that save nothing; that they do is held at its end."""
    file = copied(tmp_path_factory.mktemp("steady"))
    with serving(Session(file)) as made:
        yield made
    assert [path.name for path in file.parent.iterdir()] == [file.name]


def printed(command: str, turned: dict[str, str], *more: str) -> Result:
    """Return what the command line says of the scene with what is dialled laid over it."""
    options = [part for key, value in settings(turned) for part in ("--set", f"{key}={value}")]
    return run(command, PINCHES, *more, *options)


def asked(
    served: LoopbackServer, method: str, path: str, body: object = None, **headers: str
) -> tuple[int, str]:
    """Return the status and the text of an answer; headers by name, dashes as underscores."""
    connection = http.client.HTTPConnection("127.0.0.1", served.port, timeout=20)
    sent = {name.replace("_", "-"): value for name, value in headers.items()}
    data = None
    if body is not None:
        data = body if isinstance(body, str) else json.dumps(body)
        sent.setdefault("Content-Type", "application/json")
    connection.request(method, f"/{served.token}{path}", data, sent)
    answer = connection.getresponse()
    text = answer.read().decode()
    connection.close()
    return answer.status, text


def status_of(served: LoopbackServer, first: str, lines: str) -> bytes:
    """Return the status of a request that is sent as it is written."""
    with socket.create_connection(("127.0.0.1", served.port), timeout=10) as line:
        line.sendall(f"{first} HTTP/1.1\r\n{lines}\r\n".encode())
        return line.makefile("rb").readline().split()[1]


def told(served: LoopbackServer, path: str, turned: dict[str, str]) -> dict[str, Any]:
    status, text = asked(served, "POST", path, turned)
    assert status == 200, text
    return dict(json.loads(text))


def bare(message: str) -> str:
    """Return a message without the folder of its scene."""
    return re.sub(r"\S*/(?=guest_room\.toml)", "", message)


# --- who is answered --------------------------------------------------------------------------


def test_server_listens_to_this_machine_only_under_its_names_and_serves_nothing_else(
    steady: LoopbackServer,
) -> None:
    assert steady.socket.getsockname()[0] == "127.0.0.1"
    status, text = asked(steady, "GET", "/")
    assert status == 200
    assert "Guest room" in text
    for name in ("127.0.0.1", "localhost"):
        host = f"{name}:{steady.port}"
        assert asked(steady, "POST", "/check", {}, Host=host, Origin=f"http://{host}")[0] == 200
    for path in ("/guest_room.toml", "/../guest_room.toml", "/check", "/?", "/favicon.ico"):
        assert asked(steady, "GET", path)[0] == 404
    assert asked(steady, "POST", "/", {})[0] == 404
    assert asked(steady, "PUT", "/", {})[0] == 501


HOSTS = ("fit.example", "fit.example:{port}", "127.0.0.1", "127.0.0.1:1", "localhost.x:{port}", "")
ORIGINS = ("http://fit.example", "null", "https://127.0.0.1:{port}", "")


@pytest.mark.parametrize(
    ("header", "value"),
    [
        *(("Host", host) for host in HOSTS),
        *(("Origin", origin) for origin in ORIGINS),
        *(("Sec_Fetch_Site", site) for site in ("cross-site", "same-site")),
    ],
)
def test_foreign_host_and_origin_are_refused(
    steady: LoopbackServer, header: str, value: str
) -> None:
    sent = {header: value.format(port=steady.port)}
    for path in ("/check", "/clearance", "/cards", "/save"):
        assert asked(steady, "POST", path, {}, **sent)[0] == 403
    if header == "Host":
        status, text = asked(steady, "GET", "/", **sent)
        assert status == 403
        assert "Guest room" not in text


def test_a_header_twice_or_too_long_or_none_is_refused(steady: LoopbackServer) -> None:
    own = f"Host: 127.0.0.1:{steady.port}\r\n"
    origin = f"Origin: http://127.0.0.1:{steady.port}\r\n"
    endless = f"Content-Type: application/json\r\nContent-Length: {'9' * 5000}\r\n"
    for first, lines, status in [
        ("GET", "", b"403"),
        ("GET", own + own, b"403"),
        ("GET", f"{own}Host: fit.example\r\n", b"403"),
        ("GET", own + origin + origin, b"403"),
        ("GET", f"{own}{origin}Origin: http://fit.example\r\n", b"403"),
        ("GET", own, b"200"),
        ("GET", own + "X: y\r\n" * 101, b"431"),
        ("GET", f"{own}X: {'y' * LARGEST_HEAD}\r\n", b"431"),
        ("GET", own + f"X: {'y' * 1000}\r\n" * (LARGEST_HEAD // 1000), b"431"),
        ("POST", own + endless, b"413"),
    ]:
        path = f"/{steady.token}/{'check' if first == 'POST' else ''}"
        assert status_of(steady, f"{first} {path}", lines) == status, lines[:80]


def test_nothing_is_answered_without_the_token_of_this_start(
    steady: LoopbackServer, scene_file: Path
) -> None:
    """Another program on this machine, which was not told the address."""
    with serving(Session(scene_file)) as other:
        tokens = {steady.token, other.token}
        assert len(tokens) == 2 and min(map(len, tokens)) > 20
    assert steady.address == f"http://127.0.0.1:{steady.port}/{steady.token}/"
    longer, wrong = f"{steady.token}x", f"{steady.token[:-1]}\u00e9"
    own = f"Host: 127.0.0.1:{steady.port}\r\nContent-Type: application/json\r\n"
    for start in ("", "/x", f"/{other.token}", f"/{longer}", f"/{wrong}"):
        for first in (f"GET {start}/", f"POST {start}/check", f"POST {start}/save"):
            lines = f"{own}Content-Length: 0\r\n"
            assert status_of(steady, first, lines) == b"403", first


def test_only_the_dials_keys_are_taken(steady: LoopbackServer) -> None:
    """A scene may name other scenes' files, whose lines its faults would quote."""
    for key in ("neighbour", "title", "slab.widht", "hinge.slab.setback[1]"):
        for path in ("/check", "/clearance", "/cards", "/save"):
            error = told(steady, path, {key: '[{scene="/etc/hostname"}]'})["error"]
            assert f"{key}: no dial" in error


@pytest.mark.parametrize(
    ("body", "kind", "status"),
    [
        ("{}", "text/plain", 415),
        ("{}", "application/x-www-form-urlencoded", 415),
        ("{", "application/json", 400),
        ("[]", "application/json", 400),
        ('{"slab.width": 30}', "application/json", 400),
        ("[" * 5000, "application/json", 400),
        (" " * (LARGEST + 1), "application/json", 413),
    ],
)
def test_other_bodies_are_refused(
    steady: LoopbackServer, body: str, kind: str, status: int
) -> None:
    assert asked(steady, "POST", "/check", body, Content_Type=kind)[0] == status
    assert asked(steady, "POST", "/check", {})[0] == 200


# --- what is answered -------------------------------------------------------------------------


@pytest.mark.parametrize(
    "turned",
    [
        {},
        {"hinge.slab.setback": "5/16, 9/32, 5/16", "slab.width": "29 1/16"},
        {"slab.strike_edge.bevel": "0", "slab.hinge_edge.bevel": "3.5"},
    ],
    ids=str,
)
def test_dialled_scene_is_checked_as_the_command_line_checks_it(
    steady: LoopbackServer, turned: dict[str, str]
) -> None:
    wanted = json.loads(printed("check", turned, "--json").output)
    found = told(steady, "/check", turned)
    assert found["verdict"] == wanted["verdict"]
    closing = [touch["angle_deg"] for touch in found["touches"] if touch["way"] == "closing"]
    assert closing == [each["angle_deg"] for each in [wanted["closing"]] if each is not None]
    assert " ".join(found["finding"].split()) in " ".join(printed("check", turned).output.split())


def test_cards_and_clearances_follow(steady: LoopbackServer) -> None:
    turned = {"hinge.slab.setback": "9/32"}
    answer = answered(read_scene(PINCHES, settings=settings(turned)))
    assert told(steady, "/cards", turned)["report"] == card_markup(card(answer))
    table, found = told(steady, "/clearance", turned), answer.found
    assert table["angles_deg"][0] == 0.0
    angles = [degrees(t.angle) for t in (found.closing, found.opening) if t is not None]
    assert set(angles) <= set(table["angles_deg"])


@pytest.mark.parametrize(
    "turned",
    [
        {"hinge.slab.setback": "banana"},
        {"slab.width": "31"},
        {"slab.thickness": "-1", "hinge.jamb.depth": '3"'},
        {"hinge.slab.setback": '1/4, x"y, 1/4'},
    ],
    ids=str,
)
def test_bad_value_gets_the_command_lines_message(
    steady: LoopbackServer, turned: dict[str, str]
) -> None:
    shown = printed("check", turned)
    assert shown.exit_code == 2
    for path in ("/check", "/clearance", "/cards", "/save"):
        assert f"Error: {bare(told(steady, path, turned)['error'])}\n" == bare(shown.stderr)


# --- who is answered first --------------------------------------------------------------------


def test_the_newest_question_is_next_and_of_a_kind_the_only_one() -> None:
    desk, order, stale = Desk(), [], []
    begun, go_on = threading.Event(), threading.Event()

    def first() -> None:
        begun.set()
        go_on.wait(20)

    def ask(kind: str, name: str, work: Callable[[], object], *, left: bool = False) -> None:
        try:
            desk.answered(kind, lambda: left, work)
        except StaleError:
            stale.append(name)
        except ConnectionAbortedError:
            order.append(f"{name} left")

    threads = [threading.Thread(target=ask, args=("check", "running", first))]
    threads[0].start()
    assert begun.wait(20)
    for kind, name, left in [
        ("check", "old", False),
        ("cards", "cards", False),
        ("", "saved first", False),
        ("check", "gone", True),
        ("", "saved next", False),
    ]:
        work = partial(order.append, name)
        threads.append(threading.Thread(target=ask, args=(kind, name, work), kwargs={"left": left}))
        threads[-1].start()
        waited = len(threads) - 1
        while len(desk.waiting) + len(stale) < waited:
            time.sleep(0.001)
    go_on.set()
    for thread in threads:
        thread.join(20)
    assert stale == ["old"]
    assert order == ["saved next", "gone left", "saved first", "cards"]


def test_a_check_that_fails_lets_the_next_one_in() -> None:
    desk = Desk()
    with pytest.raises(ZeroDivisionError):
        desk.answered("check", lambda: False, lambda: 1 / 0)
    assert desk.answered("check", lambda: False, lambda: 7) == 7
    assert desk.close(1.0)
    with pytest.raises(StaleError):
        desk.answered("check", lambda: False, lambda: 7)


def test_a_crowd_is_answered_or_told_and_starves_nobody(
    served: LoopbackServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of 200 at once only those are worked out that somebody waits for, the newest first."""
    worked = []
    checked = Session.checked

    def counted(session: Session, turned: dict[str, str]) -> dict[str, Any]:
        worked.append(turned)
        return checked(session, turned)

    monkeypatch.setattr(Session, "checked", counted)
    body = b"{}"
    head = f"POST /{served.token}/check HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\n"
    head += f"Content-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n"
    lines = [socket.create_connection(("127.0.0.1", served.port), timeout=20) for _ in range(200)]
    for line in lines:
        line.sendall(head.encode() + body)
    for line in lines[:100]:
        line.close()
    begin = time.monotonic()
    # As the page does, told that somebody asked after it.
    while asked(served, "POST", "/check", {"hinge.slab.setback": "9/32"})[0] == 409:
        pass
    assert time.monotonic() - begin < 10
    statuses = [line.makefile("rb").readline().split()[1] for line in lines[100:]]
    assert set(statuses) <= {b"200", b"409"}
    assert len(worked) < 20


# --- saved ------------------------------------------------------------------------------------


def without_assumed(scene: Scene) -> Scene:
    return replace(scene, assumed=())


def test_saved_scene_is_the_dialled_one_and_nothing_is_overwritten(
    served: LoopbackServer, scene_file: Path
) -> None:
    before = scene_file.read_text()
    turned = {
        "hinge.slab.setback": "1/4",
        "slab.strike_edge.bevel": "2.5",
        "slab.head_margin": "3 mm",
    }
    first = Path(told(served, "/save", turned)["file"])
    second = Path(told(served, "/save", {})["file"])
    assert scene_file.read_text() == before
    assert [first.name, second.name] == ["guest_room-dialled.toml", "guest_room-dialled-2.toml"]
    saved = read_scene(first)
    wanted = read_scene(scene_file, settings=settings(turned))
    assert without_assumed(saved) == without_assumed(wanted)
    text = first.read_text()
    comments = [line.partition("#")[2] for line in before.splitlines() if "#" in line]
    assert all(f"#{comment}" in text for comment in comments)
    assert 'setback = "1/4"' in text
    assert without_assumed(read_scene(second)) == without_assumed(read_scene(scene_file))


def test_what_was_set_or_was_a_word_gives_way_and_is_saved(
    scene_file: Path, tmp_path: Path
) -> None:
    session = Session(scene_file, (("slab.thickness", "1 3/4"), ("hinge.slab.setback", "1/4")))
    assert session.scene({}).slab.thickness == 1.75
    saved = read_scene(session.save({"hinge.slab.setback": "9/32"}))
    assert saved.slab.thickness == 1.75
    assert set(saved.hinge.slab.setbacks) == {9 / 32}
    text = '[opening]\nwidth = "30"\nheight = "80"\n[slab]\nhinge_edge = "square" # planed\n'
    laid = [("slab.hinge_edge.bevel", "2"), ("hinge.slab.setback", "1/4")]
    saved = saved_text(read_scene(text, settings=laid))
    scene = read_scene(saved)
    assert degrees(scene.slab.hinge_edge.bevel) == pytest.approx(2.0)
    assert set(scene.hinge.slab.setbacks) == {0.25}
    assert "# planed" in saved


@pytest.mark.parametrize("path", EVERY, ids=lambda path: path.stem)
def test_every_dial_of_every_scene_saves(path: Path) -> None:
    text = path.read_text()
    for dial in dials(read_scene(path)):
        nudged = ", ".join(f"{value + dial.step / 2:.4f}" for value in dial.values)
        laid = settings({dial.key: nudged})
        wanted = read_scene(text, name=str(path), settings=laid)
        saved = read_scene(saved_text(wanted), name=str(path))
        assert without_assumed(saved) == without_assumed(wanted), dial.key


def test_folder_that_cannot_be_written_is_told(scene_file: Path) -> None:
    session = Session(scene_file)
    scene_file.unlink()
    scene_file.parent.rmdir()
    with serving(session) as made:
        error = told(made, "/save", {})["error"]
    scene_file.parent.mkdir()
    assert "cannot be written: " in error
    assert "guest_room-dialled.toml" in error


# --- the command ------------------------------------------------------------------------------


def test_command_serves_until_it_is_stopped(scene_file: Path) -> None:
    env = {**os.environ, "PYTHONUNBUFFERED": "1"}
    process = started("live", scene_file, text=True, env=env)
    try:
        assert process.stdout is not None
        said = process.stdout.readline()
        found = re.fullmatch(r"http://127\.0\.0\.1:(\d+)(/[\w-]+/) - Ctrl-C stops\n", said)
        assert found is not None, said
        connection = http.client.HTTPConnection("127.0.0.1", int(found[1]), timeout=20)
        connection.request("GET", found[2])
        assert connection.getresponse().status == 200
        connection.close()
        # Under a crowd that all ask for other cures.
        port, path = int(found[1]), f"{found[2]}cards"
        crowd = [socket.create_connection(("127.0.0.1", port), timeout=20) for _ in range(200)]
        for k, line in enumerate(crowd):
            body = json.dumps({"hinge.slab.setback": f"{0.25 + k / 4096:.5f}"}).encode()
            head = f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n"
            head += f"Content-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n"
            line.sendall(head.encode() + body)
        begin = time.monotonic()
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=20)
        took = time.monotonic() - begin
    finally:
        process.kill()
        process.wait()
    assert took < 2  # a second, and one for a machine that is busy
    assert process.returncode == 0
    assert err == "", err[-900:]
    assert "Traceback" not in out


def test_command_refuses_a_taken_port_and_a_bad_scene(scene_file: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        refused(run("live", scene_file, "--port", port), f"cannot serve at port {port}")
    refused(run("live", scene_file, "--set", "slab.width=x"), "slab.width")


# --- in a browser -----------------------------------------------------------------------------


def dial(window: Window, key: str) -> Any:
    return window.page.locator(f'[data-key="{key}"]')


def rest(window: Window) -> None:
    """Wait until everything has followed the last turn."""
    window.page.wait_for_function(
        "() => !document.body.classList.contains('measuring') && document.body.dataset.measured",
        timeout=20_000,
    )


@needs_chromium
def test_dials_turned_by_hand_say_what_the_library_says(
    browser: Any, steady: LoopbackServer
) -> None:
    with opened(browser, steady.address, DESK) as window:
        page = window.page
        assert dial(window, "hinge.slab.setback").input_value() == "5/16"
        assert "PINCHES" in page.locator("#finding").inner_text()
        less = page.get_by_role("button", name="Less: Setback on the slab")
        for text in ("19/64", "9/32"):
            less.click()
            assert dial(window, "hinge.slab.setback").input_value() == text
        page.get_by_role("slider", name="Bevel of the strike edge").press("ArrowRight")
        assert dial(window, "slab.strike_edge.bevel").input_value() == "2.25"
        width = dial(window, "slab.width")
        width.fill("29 1/16")
        width.press("Tab")
        rest(window)
        turned = {
            "hinge.slab.setback": "9/32",
            "slab.strike_edge.bevel": "2.25",
            "slab.width": "29 1/16",
        }
        answer = answered(read_scene(PINCHES, settings=settings(turned)))
        result = answer.found
        assert page.locator("#finding").inner_text() == card(answer).finding
        assert page.locator(".report .said").inner_text() == card(answer).finding
        contacts = page.locator("#marks .mark").count()
        assert contacts == sum(t is not None for t in (result.closing, result.opening))
        if result.closing is not None:
            page.locator("#jump-contact").click()
            shown = page.locator("#angle").get_attribute("data-deg")
            assert float(shown) == degrees(result.closing.angle)
        assert page.locator("#exactness").inner_text().startswith("Contact angles are exact.")
        assert float(page.locator("#took").get_attribute("data-ms")) > 0
        assert window.said == []
        assert {address.split("/")[2] for address in window.asked} == {f"127.0.0.1:{steady.port}"}


@needs_chromium
def test_dragged_dial_moves_the_contact_with_the_slab_held_at_it(
    browser: Any, steady: LoopbackServer
) -> None:
    with opened(browser, steady.address, PHONE) as window:
        page = window.page
        page.locator("#jump-contact").click()
        turning = page.get_by_role("slider", name="Setback on the jamb")
        turning.scroll_into_view_if_needed()
        box = turning.bounding_box()
        share = float(turning.input_value()) / float(turning.get_attribute("max"))
        start = box["x"] + 8 + share * (box["width"] - 16)
        page.mouse.move(start, box["y"] + box["height"] / 2)
        page.mouse.down()
        for step in range(1, 5):
            page.mouse.move(start - 2.0 * step, box["y"] + box["height"] / 2)
        page.mouse.up()
        rest(window)
        text = dial(window, "hinge.jamb.setback").input_value()
        assert text != "9/32"
        result = check(read_scene(PINCHES, settings=[("hinge.jamb.setback", text)]))
        assert result.closing is not None
        shown = float(page.locator("#angle").get_attribute("data-deg"))
        assert shown == degrees(result.closing.angle)
        assert page.locator("#bar").get_attribute("data-state") == "contact"
        assert window.said == []


@needs_chromium
def test_bad_value_is_told_in_place_and_mended(browser: Any, steady: LoopbackServer) -> None:
    with opened(browser, steady.address, PHONE) as window:
        page = window.page
        thickness = dial(window, "slab.thickness")
        thickness.fill("thick")
        thickness.press("Tab")
        bad = page.locator("#bad")
        bad.wait_for(state="visible")
        shown = printed("check", {"slab.thickness": "thick"})
        assert f"Error: {bare(bad.inner_text())}\n" == bare(shown.stderr)
        assert bad.get_attribute("role") == "alert"
        assert bad.evaluate("(e) => e.getBoundingClientRect().top >= 0")
        thickness.fill("1 3/8")
        thickness.press("Enter")
        bad.wait_for(state="hidden")
        assert window.said == []


@needs_chromium
def test_save_button_writes_what_is_dialled(
    browser: Any, served: LoopbackServer, scene_file: Path
) -> None:
    with opened(browser, served.address, DESK) as window:
        page = window.page
        margin = dial(window, "slab.head_margin")
        margin.fill("3/16")
        margin.press("Tab")
        page.get_by_role("button", name="Save as a new scene").click()
        saved = scene_file.with_name("guest_room-dialled.toml")
        page.get_by_text(f"Saved: {saved}").wait_for()
        assert read_scene(saved).slab.head_margin == 0.1875
        rest(window)
        page.get_by_role("button", name="As it was").click()
        rest(window)
        assert margin.input_value() == "1/8"
        assert window.said == []
