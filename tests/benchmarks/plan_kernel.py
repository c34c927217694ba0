"""Variants a second: the kernel in plan beside the same question put to a collision library.

Run it by hand: ``python -m tests.benchmarks.plan_kernel [--variants N]``. Both are given the
same outlines of the same random variants in one process on one core. The library, python-fcl,
gets each outline as a closed prism in a mesh of few triangles, with its trees built and every
pose worked out before the clock starts; it steps the swing from 90 degrees to closed with its
broad phase over the fixed parts, and narrows the first step that touches by bisection. The
kernel's clock includes drawing the outlines from the sizes.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from math import radians
from time import process_time

import fcl
import numpy as np
from numpy.typing import NDArray

from swingcheck.assembly import PartKind
from swingcheck.chance.in_plan import PlanOutlines, in_plan, plan_outlines
from swingcheck.chance.plan_sizes import PlanSizes, plan_sizes
from tests.factory import plain_scene

Floats = NDArray[np.float64]

START = radians(90)
STEPS = (0.25, 0.05)  # degrees
WIDTH = 1e-9  # radians, of the bracket that bisection ends with
SPREADS = {
    "opening_width": (30.0625, 1 / 32),
    "hinge_rabbet": (1.4375, 1 / 32),
    "strike_rabbet": (1.4375, 1 / 32),
    "width": (29.875, 1 / 64),
    "hinge_bevel": (radians(2), radians(0.5)),
    "strike_bevel": (radians(1), radians(0.5)),
    "jamb_setback": (0.3125, 1 / 32),
    "jamb_depth": (0.097, 1 / 64),
    "slab_setback": (0.28125, 1 / 64),
    "slab_depth": (0.097, 1 / 64),
}


def drawn(count: int) -> dict[str, Floats]:
    """Return random values for each size: about half of the variants touch something."""
    random = np.random.default_rng(20)
    return {
        key: middle + spread * random.uniform(-1, 1, count)
        for key, (middle, spread) in SPREADS.items()
    }


def sizes_of(changes: dict[str, Floats]) -> PlanSizes:
    """Return the sizes of the variants in plan."""
    return plan_sizes(plain_scene()).with_values(changes, len(next(iter(changes.values()))))


def prism(outline: Floats, low: float, high: float) -> fcl.BVHModel:
    """Return a closed mesh of the outline (k, 2), upright from low to high.

    The outlines have at most one reflex corner, at the mortise: the caps are fans about the
    corner that sees all the others.
    """
    k = len(outline)
    ring = np.arange(k)
    after = np.roll(ring, -1)
    hub = next(h for h in range(k) if _sees_all(np.roll(outline, -h, axis=0)))
    fan = [(0, i, i + 1) for i in range(1, k - 1)]
    cap = (np.array(fan) + hub) % k
    sides = [(a, b, b + k) for a, b in zip(ring, after, strict=True)]
    sides += [(a, b + k, a + k) for a, b in zip(ring, after, strict=True)]
    corners = np.vstack([np.c_[outline, np.full(k, z)] for z in (low, high)])
    faces = np.vstack([np.array(sides), cap[:, ::-1], cap + k])
    model = fcl.BVHModel()
    model.beginModel(len(corners), len(faces))
    model.addSubModel(corners, faces)
    model.endModel()
    return model


def _sees_all(outline: Floats) -> bool:
    hub, rest = outline[0], outline[1:]
    arms = rest - hub
    turns = arms[:-1, 0] * arms[1:, 1] - arms[:-1, 1] * arms[1:, 0]
    return bool((turns > 0).all())


@dataclass(frozen=True, slots=True)
class Meshes:
    """One variant as the library takes it: its moving and its fixed parts under a broad phase."""

    moving: list[fcl.CollisionObject]
    movers: fcl.DynamicAABBTreeCollisionManager
    rest: fcl.DynamicAABBTreeCollisionManager


def meshes(picture: PlanOutlines, k: int) -> Meshes:
    """Return a variant's prisms: between the hinges, at a hinge, and under the head stop."""
    between, hinge, top = (0.0, 1.0), (1.0, 2.0), (2.0, 3.0)
    moving = [prism(picture.slab[k], *between), prism(picture.slab_cut[k], *hinge)]
    moving += [prism(picture.leaf[k], *hinge), prism(picture.slab[k], *top)]
    heights = {PartKind.HEAD_STOP: top, PartKind.HINGE_STOP: (0.0, 2.0)}
    fixed = [
        prism(outline[k], *heights.get(kind, between)) for kind, outline in picture.fixed.items()
    ]
    fixed += [prism(picture.leg_cut[k], *hinge), prism(picture.jamb_leaf[k], *hinge)]
    movers, rest = fcl.DynamicAABBTreeCollisionManager(), fcl.DynamicAABBTreeCollisionManager()
    objects = [fcl.CollisionObject(model, fcl.Transform()) for model in moving]
    movers.registerObjects(objects)
    rest.registerObjects([fcl.CollisionObject(model, fcl.Transform()) for model in fixed])
    movers.setup()
    rest.setup()
    return Meshes(objects, movers, rest)


def transform(angle: float) -> fcl.Transform:
    """Return the pose at a swing angle."""
    cos, sin = np.cos(angle), np.sin(angle)
    return fcl.Transform(np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]]))


def touching(variant: Meshes, pose: fcl.Transform) -> bool:
    """Tell whether the library finds a touch at a pose."""
    for part in variant.moving:
        part.setTransform(pose)
    variant.movers.update()
    found = fcl.CollisionData()
    variant.movers.collide(variant.rest, found, fcl.defaultCollisionCallback)
    return bool(found.result.is_collision)


def stepped(variant: Meshes, poses: list[tuple[float, fcl.Transform]]) -> float:
    """Return the first angle at which a variant touches, nan for none."""
    free = poses[0][0]
    for angle, pose in poses[1:]:
        if touching(variant, pose):
            while free - angle > WIDTH:
                middle = (free + angle) / 2
                if touching(variant, transform(middle)):
                    angle = middle
                else:
                    free = middle
            return angle
        free = angle
    return float("nan")


def report(name: str, count: int, seconds: float, kernel: float | None, note: str = "") -> float:
    """Print a row; return its variants a second."""
    rate = count / seconds
    factor = f"{kernel / rate:10,.0f} x" if kernel else " " * 12
    print(f"{name:44s}{count:9,d}{seconds:9.3f} s{rate:14,.0f}{factor}  {note}")
    return rate


def compared(step: float, count: int, kernel: float, exact: Floats) -> None:
    """Step the first ``count`` variants through the library and print how it did."""
    few = {key: values[:count] for key, values in drawn(len(exact)).items()}
    picture = plan_outlines(sizes_of(few))
    variants = [meshes(picture, k) for k in range(count)]
    angles = np.arange(round(90 / step), -1, -1) * radians(step)
    poses = [(float(angle), transform(float(angle))) for angle in angles]
    begin = process_time()
    found = np.array([stepped(variant, poses) for variant in variants])
    seconds = process_time() - begin
    both = ~np.isnan(found) & ~np.isnan(exact[:count])
    apart = np.abs(found - exact[:count])[both].max(initial=0.0)
    missed = int((np.isnan(found) != np.isnan(exact[:count])).sum())
    note = f"{both.sum()} contacts, {np.degrees(apart):.1e} deg apart at most, {missed} not agreed"
    report(f"python-fcl, {step:g} deg steps and bisection", count, seconds, kernel, note)


def main() -> None:
    """Time the kernel and the library one after the other and print both."""
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--variants", type=int, default=100_000, help="for the kernel")
    reader.add_argument("--stepped", type=int, default=200, help="for the library")
    asked = reader.parse_args()
    scene, changes = plain_scene(), drawn(asked.variants)
    in_plan(scene, sizes_of({key: values[:100] for key, values in changes.items()}))
    print(f"{'':44s}{'variants':>9s}{'cpu time':>11s}{'a second':>14s}{'slower':>12s}")
    begin = process_time()
    plan = in_plan(scene, sizes_of(changes))
    kernel = report("kernel in plan", asked.variants, process_time() - begin, None)
    print(f"{'':44s}{plan.swings.mean():.0%} of the variants swing")
    for step in STEPS:
        compared(step, asked.stepped, kernel, plan.angle)


if __name__ == "__main__":
    main()
