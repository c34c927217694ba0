"""What a scene says, or the usual value for it, with every value taken noted down."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from swingcheck.model import Assumed, Stations
from swingcheck.scenefile.keys import known_keys
from swingcheck.scenefile.measured import Measured
from swingcheck.scenefile.spec import Key, Kind, Table
from swingcheck.units import angle_text, length_text, lengths_text, slope_text


@dataclass(slots=True, kw_only=True)
class Filling:
    """A scene's measurements, filled up with what is usual.

    ``complete`` is whether the whole text could be read: if not, what is not
    there may have been on a line that could not.
    """

    measured: Measured
    complete: bool = True
    assumed: list[Assumed] = field(default_factory=list)

    @property
    def unit(self) -> str:
        """The unit of bare numbers, and of the texts."""
        return self.measured.unit

    def length(self, value: float) -> str:
        """Return a length as the scene's unit writes it."""
        return length_text(value, self.unit)

    def assume(self, key: str, value: str, why: str) -> None:
        """Note down a value that the scene left out."""
        self.assumed.append(Assumed(key=key, value=value, why=why))

    def has_table(self, key: str) -> bool:
        """Return whether a table is there."""
        return key in self.measured.tables

    def number(self, key: str, usual: float, why: str) -> float:
        """Return the one value of a key, or the usual one."""
        return self.numbers(key, (usual,), why)[0]

    def said(self, key: str) -> float | None:
        """Return the one value of a key, or None where nothing was said."""
        values = self.measured.numbers.get(key)
        return values[0] if values else None

    def numbers(
        self, key: str, usual: Stations, why: str, *, spread: int | None = None
    ) -> Stations:
        """Return a key's values, or the usual ones, with the places set apart put in.

        Parameters
        ----------
        key : str
            Dotted.
        usual : tuple of float
            What is taken where the scene says nothing.
        why : str
            Why that is usual.
        spread : int
            How many places there are, where one value stands for all; the
            key's own when left out.
        """
        given = self.measured.numbers.get(key)
        if given is None:
            self.assume(key, self._text(key, usual), why)
            given = usual
        apart = self.measured.apart.get(key)
        return self._with_places(key, given, apart, spread) if apart else given

    def each_of(self, path: str, usual: Mapping[str, float], why: str) -> dict[str, float]:
        """Return the values of a table's keys by name, or the usual ones."""
        return {name: self.number(f"{path}.{name}", value, why) for name, value in usual.items()}

    def required(self, key: str, stand_in: Stations, says: str) -> Stations:
        """Return a key's values; when there are none, a stand-in, with the fault noted."""
        given = self.measured.numbers.get(key)
        if given is None:
            if self.complete and not self._is_told(key):
                self.measured.fault(key, "", f"missing: {says}")
            given = stand_in
        apart = self.measured.apart.get(key)
        return self._with_places(key, given, apart, None) if apart else given

    def words(self, key: str, usual: str, why: str) -> str:
        """Return the words of a key, or the usual ones."""
        words = self.measured.words.get(key)
        if words is None:
            self.assume(key, usual, why)
        return usual if words is None else words

    def flag(self, key: str) -> bool:
        """Return whether a thing was said to be so."""
        flag = self.measured.flags.get(key)
        if flag is None:
            self.assume(key, "no", "nothing said")
        return bool(flag)

    def in_order(self) -> tuple[Assumed, ...]:
        """Return what was assumed, in the order of a scene file."""
        order = {key: place for place, key in enumerate(known_keys())}
        return tuple(sorted(self.assumed, key=lambda each: order.get(each.key, len(order))))

    def _is_told(self, key: str) -> bool:
        """Return whether a key, or a table it is in, has a fault already or was misspelled."""
        told = (self.measured.faulty, self.measured.suggested)
        for path in (key, _base(key)):
            names = path.split(".")
            tables = [".".join(names[: k + 1]) for k in range(len(names))]
            if any(table in keys for keys in told for table in tables):
                return True
        return False

    def _with_places(
        self, key: str, given: Stations, apart: dict[int, float], spread: int | None
    ) -> Stations:
        spec = _spec(key)
        count = len(given) if len(given) > 1 else spread or spec.spread
        values = list(given if len(given) > 1 else given * count)
        for place, value in apart.items():
            if place < count:
                values[place] = value
                continue
            label = f"{key}[{place}]"
            expected = f"{key} has {count} places, counted from [0]"
            self.measured.fault(label, self.measured.typed.get(label, ""), expected)
        return tuple(values)

    def _text(self, key: str, values: Sequence[float]) -> str:
        kind = _spec(key).kind
        if kind is Kind.LENGTH:
            return lengths_text(values, self.unit)
        if kind is Kind.ANGLE:
            return angle_text(values[0])
        return slope_text(values[0], self.unit) if kind is Kind.SLOPE else f"{values[0]:g}"


def _base(key: str) -> str:
    return key.split("[")[0] + key.partition("]")[2]


def _spec(key: str) -> Key:
    spec = known_keys()[_base(key)]
    inside = spec.plain if isinstance(spec, Table) else spec
    if inside is None:
        raise KeyError(key)
    return inside
