"""Parts before they are solids, for one scene or n variants of it, and what is settled once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np

from swingcheck.assembly.parts import Part, PartKind
from swingcheck.geometry.booleans import cut, joined
from swingcheck.geometry.sizes import Sizes, hold
from swingcheck.geometry.solid import Solid
from swingcheck.geometry.solids import Mesh, Skin

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draft:
    """A part as a skin, what is ``joined`` to it, and the tools that are ``cut`` out of it.

    What is not built for variants yet is a solid.
    """

    name: str
    kind: PartKind
    skin: Skin | Mesh | Solid
    joined: tuple[Skin | Solid, ...] = ()
    cut: tuple[Skin | Solid, ...] = ()
    hinge: int | None = None

    def solid(self) -> Solid:
        """Return its first variant as a solid.

        Raises GeometryError where its sizes leave nothing of it.
        """
        solid = _solid(self.skin)
        if self.joined:
            solid = joined(self.name, [solid, *(_solid(each) for each in self.joined)])
        return cut(self.name, solid, [_solid(tool) for tool in self.cut])


def _solid(each: Skin | Mesh | Solid) -> Solid:
    return each if isinstance(each, Solid) else each.solid()


def drafted(skins: Mapping[PartKind, Skin | Solid]) -> tuple[Draft, ...]:
    """Return drafts that are named after their kinds."""
    return tuple(Draft(name=kind.value, kind=kind, skin=skin) for kind, skin in skins.items())


def made(drafts: Iterable[Draft]) -> tuple[Part, ...]:
    """Return drafts as parts."""
    return tuple(
        Part(name=draft.name, kind=draft.kind, solid=draft.solid(), hinge=draft.hinge)
        for draft in drafts
    )


class Pattern:
    """What is settled once for all variants of a scene: facets, levels, which tools cut.

    The first scene that is drafted with it settles it.
    """

    def __init__(self) -> None:
        self._settled: dict[str, Any] = {}

    def once(self, what: str, settle: Callable[[], T]) -> T:
        """Return what was settled before, else settle it."""
        if what not in self._settled:
            self._settled[what] = settle()
        settled: T = self._settled[what]
        return settled

    def is_some(self, name: str, size: Sizes) -> bool:
        """Return whether there is some of a size (n,): in all variants, or in none."""
        some = np.greater(size, 0)
        settled = self.once(name, lambda: bool(np.all(some)))
        hold(name, some == settled, "it is there at some sizes and not at others")
        return settled
