"""What is kept from one scene to the next must not show: the same as assembling afresh."""

from __future__ import annotations

from functools import partial
from typing import Any

import numpy as np
import pytest

from swingcheck.assembly import assemble
from swingcheck.model import Floor, Leg, Obstacle, Scene, Stop
from swingcheck.swing import kept_parts
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.swung import swung
from tests.factory import CASING, LOCK, bevel, linen_closet

modest = partial(linen_closet, hinge__corner_radius=0.0)
MODEST = modest()

IN_TURN = [
    MODEST,
    modest(hinge__slab__setbacks=(0.3,) * 3),
    modest(hinge__jamb__setbacks=(0.3, 0.31, 0.32)),
    modest(hinge__jamb__setbacks=(0.375,) * 3, opening__rabbet__hinge=(1.5,)),
    modest(hinge__jamb__setbacks=(0.375,) * 3, opening__rabbet__hinge=(1.5, 1.45, 1.5)),
    modest(opening__rabbet__head=(1.5, 1.4)),
    modest(slab__head_margin=0.25),
    modest(slab__head_margin=0.25, lock=LOCK),
    modest(slab__head_margin=0.125, lock=LOCK),
    modest(slab__width=(29.5, 29.9)),
    modest(slab__width=(29.5,), floor=Floor(profile=(0.0, 0.3))),
    modest(slab__width=(29.7,), floor=Floor(profile=(0.0, 0.3))),
    modest(slab__strike_edge=bevel(5.0)),
    modest(slab__thickness=1.75),
    modest(hinge__closed_gap=0.1),
    modest(hinge__screw_proud=0.02),
    modest(stop=Stop(projection=0.6, width=1.0)),
    modest(stop=None),
    modest(casing=CASING),
    modest(obstacles=(Obstacle(name="chest", corner=(8, 12, 0), size=(9, 9, 9)),)),
    modest(opening__strike_leg=Leg(plumb=(0.0, 0.1))),
    MODEST,
]


def test_one_after_another_is_the_same_as_each_afresh() -> None:
    variants = Variants()
    for number, scene in enumerate(IN_TURN):
        kept, fresh = variants.swung(scene), swung(assemble(scene))
        for mine, own in ((kept.assembly, fresh.assembly),):
            assert [p.name for p in mine.moving] == [p.name for p in own.moving], number
            assert [p.name for p in mine.fixed] == [p.name for p in own.fixed], number
            for mine_part, part in zip(
                (*mine.moving, *mine.fixed), (*own.moving, *own.fixed), strict=True
            ):
                assert mine_part.kind is part.kind
                np.testing.assert_allclose(
                    mine_part.solid.vertices, part.solid.vertices, atol=1e-11, err_msg=str(number)
                )
        np.testing.assert_allclose(kept.assembly.place, fresh.assembly.place, atol=0)
        a, b = kept.contact(np.pi / 2, 0.0), fresh.contact(np.pi / 2, 0.0)
        assert (a is None) == (b is None), number
        if a is not None and b is not None:
            assert a.angle == pytest.approx(b.angle, abs=1e-11)
            assert (a.moving, a.fixed) == (b.moving, b.fixed)


def test_a_scene_seen_before_is_not_built_again(monkeypatch: pytest.MonkeyPatch) -> None:
    built: list[str] = []

    def counted(name: str, scene: Scene) -> Any:
        built.append(name)
        return makes[name][0](scene)

    makes = dict(kept_parts._MAKES)
    for name, (_, needs) in makes.items():
        monkeypatch.setitem(kept_parts._MAKES, name, (partial(counted, name), needs))
    variants = Variants()
    variants.swung(MODEST)
    assert sorted(built) == sorted(makes)
    built.clear()
    variants.swung(modest(hinge__slab__setbacks=(0.3,) * 3))
    assert built == ["slab"]
    built.clear()
    variants.swung(modest(slab__head_margin=0.2))
    assert built == []
    both = modest(opening__rabbet__hinge=(1.5,), hinge__jamb__setbacks=(0.375,) * 3)
    variants.swung(both)
    assert "jamb" not in built and "stops" in built
