"""One question at a time, the newest first: what a page no longer waits for is not worked out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from threading import Condition
from typing import TypeVar

Answer = TypeVar("Answer")


class StaleError(Exception):
    """A newer question of the kind has come before this one's turn, or there are no more turns."""


@dataclass(slots=True, eq=False)
class _Question:
    kind: str
    is_stale: bool = False


class Desk:
    """Answers one question at a time, for as many threads as ask.

    Of those that are ``waiting`` the newest is next, and of each kind only the
    newest waits on.
    """

    def __init__(self) -> None:
        self._turn = Condition()
        self.waiting: list[_Question] = []
        self._busy = self._is_closed = False

    def answered(
        self, kind: str, has_left: Callable[[], bool], work: Callable[[], Answer]
    ) -> Answer:
        """Return what ``work`` returns, when its turn has come; those of no ``kind`` all come.

        Raises StaleError where a newer one of its kind has come first, and
        ConnectionAbortedError where whoever asked ``has_left`` by then.
        """
        own = _Question(kind)
        with self._turn:
            for other in self.waiting:
                other.is_stale = other.is_stale or other.kind == kind != ""
            self.waiting.append(own)
            self._turn.notify_all()
            self._turn.wait_for(lambda: own.is_stale or self._is_closed or self._is_next(own))
            self.waiting.remove(own)
            if own.is_stale or self._is_closed:
                raise StaleError
            self._busy = not has_left()
        try:
            if not self._busy:
                raise ConnectionAbortedError
            return work()
        finally:
            with self._turn:
                self._busy = False
                self._turn.notify_all()

    def close(self, patience: float) -> bool:
        """Answer nothing more; return whether the last answer is done within so many seconds."""
        with self._turn:
            self._is_closed = True
            self._turn.notify_all()
            return self._turn.wait_for(lambda: not self._busy, patience)

    def _is_next(self, own: _Question) -> bool:
        return not self._busy and own is self.waiting[-1]
