"""``[shop]`` and ``[site]``: the bench and who works at it, and what calls for care."""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.model import Access, Closer, Scene, Shop
from swingcheck.scenefile.broken import Broken, beyond
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.spec import Table, angle, flag, from_0, one_of, over_0
from swingcheck.units import angle_text

_PLAIN = Shop()
_TOLERANCES = {
    "setback": from_0(1.0, usual=_PLAIN.setback_tolerance),
    "depth": from_0(1.0, usual=_PLAIN.depth_tolerance),
    "bevel": angle(0.0, 10.0, usual=_PLAIN.bevel_tolerance),
    "rip": from_0(1.0, usual=_PLAIN.rip_tolerance),
    "measuring": from_0(1.0, usual=_PLAIN.measuring_tolerance),
    "pins": from_0(1.0, usual=_PLAIN.pin_tolerance),
}
_GOOD_WORK = "good bench work, plus or minus"

SHOP = Table(
    keys={
        "jig_setback": from_0(12.0),
        "bit": over_0(12.0),
        "bushing": over_0(12.0),
        "template_corner": from_0(6.0),
        "tolerance": Table(keys=_TOLERANCES, why=_GOOD_WORK),
    },
    ask="What the jig is set to; bit and bushing by their outside diameters.",
    sample={"jig_setback": 1 / 4, "bit": 1.25, "bushing": 1.375},
)
_FLAGS = ("fire_rated", "exit", "old_paint", "glass")
_NO = {"usual": "no", "why": "nothing said"}
SITE = Table(
    keys={
        **dict.fromkeys(_FLAGS, flag(**_NO)),
        "access": one_of(Access, usual="none", why="nothing said"),
        "closer": one_of(Closer, usual="none", why="nothing said"),
    },
    absent=(
        "no fire rating, no exit, no old paint, no glass, no access, no closer",
        "nothing said of the site",
    ),
    ask="What calls for care on site.",
    sample={**dict.fromkeys(_FLAGS, "false"), "access": '"none"'},
)


def read_shop(filling: Filling) -> Shop:
    """Return the bench, noting the tolerances that are usual."""
    path = "shop.tolerance"
    if not filling.has_table(path):
        usual = {name: filling.usual_of(f"{path}.{name}")[0] for name in _TOLERANCES}
        texts = [
            f"{name} {angle_text(value) if name == 'bevel' else filling.length(value)}"
            for name, value in usual.items()
        ]
        filling.assume(path, ", ".join(texts), _GOOD_WORK)
        return filling.made_or_plain("shop", Shop)
    said = filling.all_of(path)
    tolerances = {f"{name.removesuffix('s')}_tolerance": value for name, value in said.items()}
    return filling.made_or_plain("shop", Shop, **tolerances)


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built at the bench."""
    yield from beyond(scene, "shop.bushing", ">", "shop.bit", "wider than the bit, {}")
