"""A real Chromium without a screen, for tests that use a page as a person does."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np
import pytest

CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"

FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)

PHONE = {"width": 390, "height": 844}
DESK = {"width": 1366, "height": 900}


def why_none() -> str:
    """Return what is missing to drive a Chromium here; empty when nothing is."""
    if find_spec("playwright") is None:
        return "the Python package playwright is not installed"
    if not Path(CHROMIUM).exists():
        return "no Chromium is installed (Debian: apt install chromium)"
    return ""


needs_chromium = pytest.mark.skipif(bool(why_none()), reason=why_none() or "there is one")


@dataclass(kw_only=True)
class Window:
    """A browser window: its ``page``, and all that it said and asked for since it was opened."""

    page: Any
    said: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def watch(self) -> None:
        """Note every message, error and request from now on."""
        self.page.on("console", lambda message: self._hear(message.text))
        self.page.on("pageerror", lambda error: self.said.append(str(error)))
        self.page.on("request", lambda request: self.asked.append(request.url))

    def _hear(self, words: str) -> None:
        # GL in software is slow to read back, and the driver, not the page, says so.
        if "GL Driver Message (OpenGL, Performance" not in words:
            self.said.append(words)

    def pixels(self, selector: str) -> Any:
        """Return what an element looks like, (height, width, 3) uint8."""
        from io import BytesIO

        from PIL import Image

        shot = self.page.locator(selector).screenshot()
        return np.asarray(Image.open(BytesIO(shot)).convert("RGB"))

    def settle(self) -> None:
        """Wait until what was asked for has been painted."""
        self.page.evaluate(
            "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"
        )


@contextmanager
def windows() -> Iterator[Any]:
    """Yield a browser with a fresh profile; ``new_page`` opens a page in it."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver, tempfile.TemporaryDirectory() as profile:
        browser = driver.chromium.launch_persistent_context(
            profile, executable_path=CHROMIUM, headless=True, args=list(FLAGS), viewport=PHONE
        )
        try:
            yield browser
        finally:
            browser.close()


@contextmanager
def opened(
    browser: Any, address: str, size: dict[str, int], *, before: str = "", scripts: bool = True
) -> Iterator[Window]:
    """Yield a window of a size that has opened an address; ``before`` runs ahead of its scripts."""
    page = browser.new_page()
    page.set_viewport_size(size)
    if not scripts:
        session = browser.new_cdp_session(page)
        session.send("Emulation.setScriptExecutionDisabled", {"value": True})
    if before:
        page.add_init_script(before)
    window = Window(page=page)
    window.watch()
    page.goto(address)
    try:
        yield window
    finally:
        page.close()


def looks_like(pixels: Any, colour: str, within: int = 24) -> Any:
    """Return which pixels (height, width) are nearly a colour."""
    wanted = [int(colour[k : k + 2], 16) for k in (1, 3, 5)]
    return (np.abs(pixels.astype(int) - wanted) <= within).all(axis=2)
