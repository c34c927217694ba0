"""What a scene says, or the usual value for it, with every value taken noted down."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

from swingcheck.model import Assumed, Scene, Stations
from swingcheck.scenefile.measured import Measured
from swingcheck.scenefile.spec import Key, Kind, Table, Usual
from swingcheck.units import angle_text, length_text, lengths_text, slope_text

Made = TypeVar("Made")
Taken = Mapping[str, tuple[Usual, str]]
"""What is usual for some keys of a table, and why, where other measurements say it."""


@dataclass(slots=True, kw_only=True)
class Filling(Measured):
    """A scene's measurements, filled up with what is usual.

    ``complete`` is whether the whole text could be read: if not, what is not
    there may have been on a line that could not. ``read_beside`` reads the
    scene of another opening by the name of its file; without it the openings
    beside this one are left out.
    """

    complete: bool = True
    read_beside: Callable[[str], Scene] | None = None
    assumed: dict[str, Assumed] = field(default_factory=dict)

    def length(self, value: float) -> str:
        """Return a length as the scene's unit writes it."""
        return length_text(value, self.unit)

    def assume(self, key: str, value: str, why: str) -> None:
        """Note down a value that the scene left out, the first time."""
        self.assumed.setdefault(key, Assumed(key=key, value=value, why=why))

    def has_table(self, key: str) -> bool:
        """Return whether a table is there."""
        return key in self.tables

    def number(self, key: str, usual: float | None = None, why: str = "") -> float:
        """Return the one value of a key, or the usual one."""
        return self.numbers(key, None if usual is None else (usual,), why)[0]

    def said(self, key: str) -> float | None:
        """Return the one value of a key, or None where nothing was said."""
        values = self.values.get(key)
        return values[0] if values else None

    def taken(self, key: str) -> float:
        """Return the one value of a key, or its own usual one, noting nothing."""
        said = self.said(key)
        return self._usual(key)[0] if said is None else said

    def usual_of(self, key: str) -> tuple[float, str]:
        """Return a key's own usual value, and why it is."""
        return self._usual(key)[0], self._why(key)

    def numbers(
        self, key: str, usual: Stations | None = None, why: str = "", *, spread: int | None = None
    ) -> Stations:
        """Return a key's values, or the usual ones, with the places set apart put in.

        Of a key that has to be given the lack is noted, and what is usual only
        stands in. ``spread`` is how many places there are where one value stands
        for all. What is left out here is the key's own.
        """
        given = self.values.get(key)
        if given is None:
            spec = self._spec(key)
            given = self._usual(key) if usual is None else usual
            if not spec.needed:
                self.assume(key, _text(spec.kind, given, self.unit), why or self._why(key))
            else:
                self.missing(key, spec.needed)
        apart = self.apart.get(key)
        return self._with_places(key, given, apart, spread) if apart else given

    def missing(self, key: str, what: str) -> None:
        """Note that a key has to be given, where nothing is told of it already."""
        if self.complete and not self._is_told(key):
            self.fault(key, "", f"missing: {what}")

    def ends(self, key: str, usual: Stations | None = None, why: str = "") -> tuple[float, float]:
        """Return a key's first value and its last, which are one where it has one."""
        values = self.numbers(key, usual, why)
        return values[0], values[-1]

    def words(self, key: str, usual: str = "", why: str = "") -> str:
        """Return the words of a key, or the usual ones."""
        words = self.values.get(key)
        if words is None:
            words = usual or str(self._spec(key).usual)
            self.assume(key, words, why or self._why(key))
        return str(words)

    def all_of(self, path: str, usual: Taken | None = None) -> dict[str, Any]:
        """Return what a table's own keys say, by name, or what is usual.

        Left out are those of which nothing is said and nothing is usual.
        What takes a list is a tuple, a pair where two are the most.
        """
        usual, found = usual or {}, {}
        table = self.names.keys[_base(path)]
        assert isinstance(table, Table)
        for name, spec in table.keys.items():
            key = f"{path}.{name}"
            value, why = usual.get(name, (None if isinstance(spec, Table) else spec.usual, ""))
            if not isinstance(spec, Table) and (value is not None or key in self.values):
                found[name] = self._value(key, spec, value, why)
        return found

    def made(
        self, path: str, model: Callable[..., Made], usual: Taken | None = None, **more: Any
    ) -> Made | None:
        """Return what a table describes, or None where there is no such table.

        ``model`` takes the values of the table's keys, by name, and ``more``.
        """
        if not self.has_table(path):
            return None
        return model(**{**self.all_of(path, usual), **more})

    def made_or_plain(
        self, path: str, model: Callable[..., Made], usual: Taken | None = None, **more: Any
    ) -> Made:
        """Return what a table describes; where there is none, the model as it is by itself."""
        table = self.names.keys[path]
        assert isinstance(table, Table)
        if table.absent and not self.has_table(path):
            self.assume(path, *table.absent)
            return model()
        return model(**{**self.all_of(path, usual), **more})

    def each_made(self, path: str, model: Callable[..., Made], name: str) -> tuple[Made, ...]:
        """Return what the tables of one name describe, each called after its place."""
        return tuple(
            model(**{"name": f"{name} {place + 1}", **self.all_of(f"{path}[{place}]")})
            for place in range(self.counts.get(path, 0))
        )

    def quietly(self, path: str, words: str) -> Filling:
        """Return what fills a table up: noted down as one where nothing at all is said of it."""
        if self.has_table(path):
            return self
        self.assume(path, words, "nothing said of it")
        return replace(self, assumed={})

    def in_order(self) -> tuple[Assumed, ...]:
        """Return what was assumed, in the order of a scene file."""
        order = {key: place for place, key in enumerate(self.names.keys)}
        last = len(order)
        return tuple(sorted(self.assumed.values(), key=lambda each: order.get(each.key, last)))

    def _value(self, key: str, spec: Key, usual: Usual | None, why: str) -> Any:
        if spec.kind is Kind.FLAG:
            if key not in self.values:
                self.assume(key, "no", "nothing said")
            return self.values.get(key, False)
        if spec.kind is Kind.TEXT:
            words = self.words(key, usual if isinstance(usual, str) else "", why)
            return spec.enum(words) if spec.enum else words
        taken = usual if usual is None or isinstance(usual, tuple) else (float(usual),)
        values = self.numbers(key, taken, why)
        if spec.most == 2:
            return values[0], values[-1]
        if spec.most > 1:
            return values
        return int(values[0]) if spec.kind is Kind.COUNT else values[0]

    def _is_told(self, key: str) -> bool:
        """Return whether a key, or a table it is in, has a fault already or was misspelled."""
        told = (self.faulty, self.suggested)
        for path in (key, _base(key)):
            names = path.split(".")
            tables = [".".join(names[: k + 1]) for k in range(len(names))]
            if any(table in keys for keys in told for table in tables):
                return True
        return False

    def _with_places(
        self, key: str, given: Stations, apart: dict[int, float], spread: int | None
    ) -> Stations:
        count = len(given) if len(given) > 1 else spread or self._spec(key).spread
        values = list(given if len(given) > 1 else given * count)
        for place, value in apart.items():
            if place < count:
                values[place] = value
                continue
            label = f"{key}[{place}]"
            expected = f"{key} has {count} places, counted from [0]"
            self.fault(label, self.typed.get(label, ""), expected)
        return tuple(values)

    def _spec(self, key: str) -> Key:
        spec = self.names.keys[_base(key)]
        inside = spec.plain if isinstance(spec, Table) else spec
        if inside is None:
            raise KeyError(key)
        return inside

    def _usual(self, key: str) -> Stations:
        usual = self._spec(key).usual
        if usual is None or isinstance(usual, str):
            raise KeyError(key)
        return usual if isinstance(usual, tuple) else (float(usual),)

    def _why(self, key: str) -> str:
        table = self.names.keys.get(_base(key).rpartition(".")[0])
        return self._spec(key).why or (table.why if isinstance(table, Table) else "")


def _text(kind: Kind, values: Sequence[float], unit: str) -> str:
    if kind is Kind.LENGTH:
        return lengths_text(values, unit)
    if kind is Kind.ANGLE:
        return angle_text(values[0])
    return slope_text(values[0], unit) if kind is Kind.SLOPE else f"{values[0]:g}"


def _base(key: str) -> str:
    return key.split("[")[0] + key.partition("]")[2]
