"""The names of all keys: in order, by name, and the nearest one to a misspelled one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from swingcheck.scenefile.spec import Key, Table


class Names:
    """Every key and table of a scene file under its dotted name.

    Parameters
    ----------
    root : Table
        The tables and keys that a file begins with.
    """

    def __init__(self, root: Table) -> None:
        self.root = root
        self.keys: Mapping[str, Key | Table] = dict(_walked("", root))
        self._nearest: dict[str, str] = {}

    def hint(self, typed: str) -> str:
        """Return a hint at the key that a misspelled one most likely means, or nothing."""
        nearest = self.nearest(typed)
        if not nearest:
            return ""
        if nearest == typed.rpartition(".")[2]:
            return f"{nearest} stands above the first [table], or under a heading of its own"
        return f"did you mean {nearest}?"

    def nearest(self, typed: str) -> str:
        """Return the known key that a misspelled one most likely means, or nothing.

        Looked for in its own table first, then under its own name in any other
        table, then everywhere.
        """
        if typed not in self._nearest:
            if len(self._nearest) > 256:
                self._nearest.clear()
            self._nearest[typed] = self._looked_for(typed.casefold())
        return self._nearest[typed]

    def _looked_for(self, typed: str) -> str:
        from difflib import get_close_matches

        path, _, name = typed.rpartition(".")
        beside = {
            known.rpartition(".")[2]: known
            for known in self.keys
            if known.rpartition(".")[0] == path
        }
        if found := get_close_matches(name.replace("-", "_"), beside, n=1, cutoff=0.7):
            return beside[found[0]]
        likely = {}
        for known in self.keys:
            whole = _likeness(typed, known, 0.8)
            own = _likeness(name, known.rpartition(".")[2], 0.75)
            if own or whole:
                likely[known] = (own, whole or _likeness(typed, known, 0.0))
        return max(likely, key=likely.__getitem__, default="")


def _walked(path: str, table: Table) -> Iterator[tuple[str, Key | Table]]:
    for name, node in table.keys.items():
        here = f"{path}.{name}" if path else name
        yield here, node
        if isinstance(node, Table):
            yield from _walked(here, node)


def _likeness(typed: str, known: str, least: float) -> float:
    """Return how alike two names are, 0 to 1; 0 where that is under the least that counts."""
    from difflib import SequenceMatcher

    matcher = SequenceMatcher(None, typed, known)
    if matcher.real_quick_ratio() < least or matcher.quick_ratio() < least:
        return 0.0
    ratio = matcher.ratio()
    return ratio if ratio >= least else 0.0
