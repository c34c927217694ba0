"""Everything that swingcheck refuses, as exceptions that carry their data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any


class SwingcheckError(Exception):
    """The root of every error that swingcheck raises on purpose."""


class UnitError(SwingcheckError, ValueError):
    """A length, angle or slope that cannot be read."""

    def __init__(self, text: str, expected: str, hint: str = "") -> None:
        self.text = text
        self.expected = expected
        self.hint = hint
        super().__init__(text, expected, hint)

    def __str__(self) -> str:
        words = f"{self.text}: {self.expected}"
        return f"{words} ({self.hint})" if self.hint else words


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One fault of a scene.

    Parameters
    ----------
    key : str
        Where it stands, as a person would type it (``hinge.slab.setback[1]``);
        empty when the whole file is at fault.
    value : str
        What was found there, already shortened for reading.
    expected : str
        What should stand there, with the limit that was broken.
    hint : str
        The nearest known key or a next step; empty when there is none.
    """

    key: str
    value: str
    expected: str
    hint: str = ""

    def __str__(self) -> str:
        where = f"{self.key} = {self.value}" if self.value else self.key
        text = f"{where}: {self.expected}" if where else self.expected
        return f"{text} ({self.hint})" if self.hint else text


class SceneError(SwingcheckError, ValueError):
    """A scene that cannot be read or built, with all its faults at once."""

    def __init__(self, path: str, problems: Sequence[Problem]) -> None:
        self.path = path
        self.problems = tuple(problems)
        super().__init__(path, self.problems)

    def __str__(self) -> str:
        if len(self.problems) == 1:
            return f"{self.path}: {self.problems[0]}"
        lines = [f"{self.path}: {len(self.problems)} faults"]
        lines += [f"  {problem}" for problem in self.problems]
        return "\n".join(lines)


class UnfitError(SwingcheckError, ValueError):
    """A value that its place does not take: what it must be, and a hint."""

    def __init__(self, expected: str, hint: str = "") -> None:
        self.expected, self.hint = expected, hint
        super().__init__(expected, hint)


class _ReasonedError(SwingcheckError):
    """What came to nothing, and why."""

    told = "{what}: {reason}"

    def __init__(self, what: str, reason: str) -> None:
        self.what, self.reason = what, reason
        super().__init__(what, reason)

    def __str__(self) -> str:
        return self.told.format(what=self.what, reason=self.reason)


class GeometryError(_ReasonedError, ValueError):
    """A part whose solid is not closed, or whose sizes leave nothing of it.

    ``rows`` (n,) of bool tells which of n variants it is, where there are several.
    """

    def __init__(self, what: str, reason: str, rows: Any = True) -> None:
        super().__init__(what, reason)
        self.rows = rows


class RenderError(SwingcheckError, RuntimeError):
    """A picture that this machine cannot draw; says what to install."""


class MissingExtraError(_ReasonedError, ImportError):
    """A part of swingcheck whose packages were not installed with it; says how to add them."""

    told = "{reason} need an extra: pip install 'swingcheck[{what}]'"


class FileError(_ReasonedError, OSError):
    """A file that cannot be written, and why."""

    told = "{what}: cannot be written: {reason}"

    @classmethod
    def of(cls, path: object, error: OSError) -> FileError:
        """Return the refusal of a path for what the system said of it."""
        return cls(str(path), error.strerror or str(error))


class WorkError(_ReasonedError, RuntimeError):
    """Work that was shared out and came to nothing."""
