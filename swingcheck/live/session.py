"""The scene on a live page: checked again as it is dialled, and saved on request."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from functools import cached_property
from pathlib import Path
from typing import Any

import swingcheck as sc
from swingcheck.assembly import Assembly, assemble
from swingcheck.errors import Problem, SceneError
from swingcheck.files import write_beside
from swingcheck.live.dials import dials, settings
from swingcheck.page import (
    card_markup,
    clearance_data,
    sheet,
    sheet_data,
    shop_card,
)
from swingcheck.report.card import card
from swingcheck.scenefile import saved_text

Turned = Mapping[str, str]
"""Values as typed, by the key of their dial; only of dials that were turned."""


class Session:
    """One scene file, read once, and what its dials make of it; ``-`` is standard input.

    Settings that are ``laid_over`` it hold from the start. Raises SceneError when it is
    no scene.
    """

    def __init__(self, path: Path, laid_over: tuple[tuple[str, str], ...] = ()) -> None:
        self._path = path
        self._start = sc.read(path, laid_over)
        self._last: tuple[sc.Scene, sc.Found, Assembly] | None = None

    def scene(self, turned: Turned) -> sc.Scene:
        """Return the scene as dialled.

        Raises SceneError when a value is bad, in the words of the command line, or a
        key is none of a dial's: a scene may name files, and what asks may be no page.
        """
        own = {dial.key for dial in dials(self._start)}
        astray = [Problem(key=key, value="", expected="no dial") for key in sorted({*turned} - own)]
        if astray:
            raise SceneError(str(self._path), astray)
        return self._start.with_(dict(settings(turned)))

    @cached_property
    def page(self) -> str:
        """Return the page as it opens."""
        return sc.web_page([self._start], dials=[asdict(dial) for dial in dials(self._start)])

    def checked(self, turned: Turned) -> dict[str, Any]:
        """Return the sheet of the scene as dialled, quickly.

        Its clearances, its cures and its shop numbers are left for
        :meth:`clearance` and :meth:`cards`. Raises SwingcheckError when a value is
        bad, or nothing can be built of it.
        """
        result, assembly = self._checked(self.scene(turned))
        return sheet_data(sheet(sc.Answer(found=result), assembly))

    def clearance(self, turned: Turned) -> dict[str, Any]:
        """Return the clearance table of the scene as dialled.

        Raises SwingcheckError when a value is bad, or nothing can be built of it.
        """
        return clearance_data(*self._checked(self.scene(turned)))

    def cards(self, turned: Turned) -> dict[str, Any]:
        """Return the report of the scene as dialled, with its cures, and the shop numbers.

        Raises SwingcheckError when a value is bad, or nothing can be built of it.
        """
        scene = self.scene(turned)
        answer = sc.answered(scene)
        report, shop = card(answer), shop_card(answer)
        return {
            "report": card_markup(report),
            "finding": report.finding,
            "fit": answer.found.fit.word.value,
            "shop": card_markup(shop),
            "cut": shop.finding,
        }

    def save(self, turned: Turned) -> Path:
        """Write the scene as dialled beside its file, and return the new file.

        The scene's own file is never touched, nor any other that is there. Raises
        SwingcheckError when a value is bad, or the file cannot be written.
        """
        text = saved_text(self.scene(turned))
        on_disk = str(self._path) != "-"
        folder, stem = (self._path.parent, self._path.stem) if on_disk else (Path(), "scene")
        return write_beside(folder, f"{stem}-dialled", ".toml", text)

    def _checked(self, scene: sc.Scene) -> tuple[sc.Found, Assembly]:
        if self._last is None or self._last[0] != scene:
            self._last = (scene, sc.check(scene), assemble(scene))
        return self._last[1:]
