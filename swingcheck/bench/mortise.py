"""Setting up the router for the leaf mortises: bit, bushing, template and spacer block.

A bushing of outside diameter ``B`` rides inside a template and carries a bit
of diameter ``d``: the cut stands ``o = (B - d) / 2`` inside the template, so
the template's opening is ``2 o`` longer than the leaf and its edge stands
``o`` past the line. A template corner of radius ``R`` cuts a corner of
``max(d / 2, R - o)``. Arithmetic alone; nothing here is looked up.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass
from enum import Enum
from math import sqrt

from swingcheck.bench.layout import LeafMark, layout
from swingcheck.model import Assumed, Scene
from swingcheck.units import grouped, length_text

USUAL_BIT_IN = 1 / 2
"""For square-cornered leaves, inches. Common practice, no source."""

USUAL_WALL_IN = 1 / 16
"""Bit to the outside of the bushing, inches. Common practice, no source."""

SAME_IN = 0.001
"""Set-ups that differ by less than this are one set-up; so are corners, inches."""


class Refusal(Enum):
    """Why a bit, a bushing and a template cannot cut a leaf's mortise, and what would."""

    BIT_TOO_LARGE = (
        "a {bit} bit leaves a {bit_corner} corner and the leaf has {radius}: use a {fitting} bit"
        " or a smaller one, or pare the corners out by chisel"
    )
    TEMPLATE_TOO_ROUND = (
        "the template's {template_corner} corner leaves {corner} and the leaf has {radius}:"
        " round it to {rounder}"
    )
    BUSHING_TOO_SMALL = (
        "the {bushing} bushing is no larger than the {bit} bit: the bit cuts the template"
    )
    BIT_TOO_LONG = "the {bit} bit is larger than the leaf is long"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """What is in the router: bit and bushing diameters, and the template's corner radius."""

    bit: float
    bushing: float
    template_corner: float

    @property
    def offset(self) -> float:
        """Cut to the template's edge."""
        return (self.bushing - self.bit) / 2

    @property
    def corner(self) -> float:
        """The corner radius that is left in the mortise."""
        return max(self.bit / 2, self.template_corner - self.offset)


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A rectangle: ``length`` along the barrel, ``run`` in from the arris."""

    length: float
    run: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUp:
    """One setting of the router for the hinges on one side that are let in alike.

    ``hinges`` are counted from 0 at the top. The spacer block is stepped: its
    ``leaf`` step lies between the lines, its ``opening`` step fills the
    template, and the template is set ``tools.offset`` past each line. ``lean``
    is the surface from square, radians; ``jig_off`` how much farther from the
    stop side the leaf is wanted than the jig is set, where it is known.
    """

    side: str
    hinges: tuple[int, ...]
    setback: float
    depth: float
    lean: float
    corner_radius: float
    leaf: Block
    opening: Block
    tools: Tools
    jig_off: float | None
    refused: tuple[Refusal, ...]

    @property
    def is_squared_by_chisel(self) -> bool:
        """Whether the leaf's corners are square and the bit's are pared out."""
        return not self.refused and self.corner_radius < SAME_IN

    @property
    def corner_gap(self) -> float:
        """How far a leaf's round corner stands off the mortise's, across the corner."""
        if self.refused or self.corner_radius < SAME_IN:
            return 0.0
        return max(self.corner_radius - self.tools.corner, 0.0) * (sqrt(2) - 1)

    @property
    def key(self) -> tuple[str | int, ...]:
        """What is the same for two mortises that one setting of the router's jig serves."""
        sizes = (self.setback, self.depth, self.leaf.length, self.corner_radius)
        return self.side, *_thousandths(*sizes, *astuple(self.tools))


@dataclass(frozen=True, slots=True, kw_only=True)
class Mortising:
    """Every set-up of a door, slab before jamb, and what was assumed for it."""

    set_ups: tuple[SetUp, ...]
    assumed: tuple[Assumed, ...]

    @property
    def refused(self) -> bool:
        """Whether the router's tools cannot cut one of the leaves."""
        return any(set_up.refused for set_up in self.set_ups)


def mortising(scene: Scene) -> Mortising:
    """Return the router's set-ups for a scene's leaves, one for those let in alike."""
    tools, assumed = _tools(scene)
    hinges = layout(scene).hinges
    set_ups = []
    for side in ("slab", "jamb"):
        marks: list[LeafMark] = [getattr(hinge, side) for hinge in hinges]
        groups = grouped(
            (_thousandths(mark.run, mark.setback, mark.depth), k) for k, mark in enumerate(marks)
        )
        set_ups += [
            _set_up(scene, side, tuple(group), marks[group[0]], tools) for group in groups.values()
        ]
    return Mortising(set_ups=tuple(set_ups), assumed=assumed)


def bit_for(corner_radius: float) -> float:
    """Return the bit that cuts this corner in a square-cornered template: twice the radius.

    Examples
    --------
    >>> bit_for(0.625)
    1.25
    """
    return 2 * corner_radius if corner_radius >= SAME_IN else USUAL_BIT_IN


def template_corner_for(corner_radius: float, bit: float, bushing: float) -> float:
    """Return the template's corner radius for a leaf's corner; 0 where a square one does.

    Examples
    --------
    >>> template_corner_for(0.625, 0.5, 0.75), template_corner_for(0.625, 1.25, 1.375)
    (0.75, 0.0)
    """
    if corner_radius - bit / 2 < SAME_IN:
        return 0.0
    return corner_radius + (bushing - bit) / 2


def refusals(tools: Tools, corner_radius: float, leaf_length: float) -> tuple[Refusal, ...]:
    """Return why the tools cannot cut a mortise for a leaf; nothing where they can.

    A square-cornered leaf refuses no bit: its corners are pared by chisel.
    """
    is_round = corner_radius >= SAME_IN
    rounder = tools.template_corner - tools.offset
    found = (
        (Refusal.BUSHING_TOO_SMALL, tools.bushing - tools.bit < SAME_IN),
        (Refusal.BIT_TOO_LARGE, is_round and tools.bit / 2 - corner_radius > SAME_IN),
        (Refusal.TEMPLATE_TOO_ROUND, is_round and rounder - corner_radius > SAME_IN),
        (Refusal.BIT_TOO_LONG, tools.bit - leaf_length > SAME_IN),
    )
    return tuple(refusal for refusal, applies in found if applies)


def _tools(scene: Scene) -> tuple[Tools, tuple[Assumed, ...]]:
    shop, radius, unit = scene.shop, scene.hinge.corner_radius, scene.unit
    bit = bit_for(radius) if shop.bit is None else shop.bit
    bushing = bit + 2 * USUAL_WALL_IN if shop.bushing is None else shop.bushing
    corner = shop.template_corner
    if corner is None:
        corner = template_corner_for(radius, bit, bushing)
    tools = Tools(bit=bit, bushing=bushing, template_corner=corner)
    whys = {
        "bit": "twice the leaf's corner radius" if radius >= SAME_IN else "usual",
        "bushing": f"bit + {length_text(2 * USUAL_WALL_IN, unit)}",
        "template_corner": "cuts the leaf's corner with this bit",
    }
    sizes = {name: getattr(tools, name) for name in whys if getattr(shop, name) is None}
    return tools, tuple(
        Assumed(
            key=f"shop.{name}", value=length_text(size, unit) if size else "square", why=whys[name]
        )
        for name, size in sizes.items()
    )


def _set_up(
    scene: Scene, side: str, hinges: tuple[int, ...], mark: LeafMark, tools: Tools
) -> SetUp:
    hinge, jig, offset = scene.hinge, scene.shop.jig_setback, tools.offset
    return SetUp(
        side=side,
        hinges=hinges,
        setback=mark.setback,
        depth=mark.depth,
        lean=scene.slab.hinge_edge.lean if side == "slab" else 0.0,
        corner_radius=hinge.corner_radius,
        leaf=Block(length=hinge.leaf_length, run=mark.run),
        opening=Block(length=hinge.leaf_length + 2 * offset, run=mark.run + offset),
        tools=tools,
        jig_off=None if jig is None else mark.setback - jig,
        refused=refusals(tools, hinge.corner_radius, hinge.leaf_length),
    )


def _thousandths(*sizes: float) -> tuple[int, ...]:
    return tuple(round(size / SAME_IN) for size in sizes)
