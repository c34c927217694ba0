"""Variants a second: the kernel in plan beside the same question put to a collision library.

    python tests/benchmarks/plan_kernel.py [variants [stepped]]

Both are given the same outlines of the same random variants in one process on one core. The
library, python-fcl, gets each outline as a closed prism in a mesh of few triangles, with its trees
built and every pose worked out before the clock starts; it steps the swing from 90 degrees to
closed with its broad phase over the fixed parts, and narrows the first step that touches by
bisection. The kernel's clock includes drawing the outlines from the sizes.
"""

from __future__ import annotations

import sys
from math import radians
from pathlib import Path
from time import process_time

import fcl
import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from swingcheck.assembly import PartKind
from swingcheck.chance.in_plan import PlanOutlines, in_plan, plan_outlines
from swingcheck.chance.plan_sizes import PlanSizes, plan_sizes
from tests.benchmarks.library import Managers
from tests.benchmarks.timing import machine, table
from tests.factory import plain_scene
from tests.properties.test_plan_kernel import drawn
from tests.shapes import prism

Floats = NDArray[np.float64]

START = radians(90)
STEPS = (0.25, 0.05)  # degrees


def sizes_of(changes: dict[str, Floats]) -> PlanSizes:
    """Return the sizes of the variants in plan."""
    names = ("hinge_rabbet", "strike_rabbet", "head_rabbet", "head_rabbet_strike")
    rabbets = dict.fromkeys(names, changes["rabbet"])
    return plan_sizes(plain_scene()).with_values(changes | rabbets, len(changes["rabbet"]))


def managers(picture: PlanOutlines, k: int) -> Managers:
    """Return a variant's prisms: between the hinges, at a hinge, and under the head stop."""
    between, hinge, top = (0.0, 1.0), (1.0, 2.0), (2.0, 3.0)
    moving = [prism(picture.slab[k], *between), prism(picture.slab_cut[k], *hinge)]
    moving += [prism(picture.leaf[k], *hinge), prism(picture.slab[k], *top)]
    heights = {PartKind.HEAD_STOP: top, PartKind.HINGE_STOP: (0.0, 2.0)}
    fixed = [
        prism(outline[k], *heights.get(kind, between)) for kind, outline in picture.fixed.items()
    ]
    fixed += [prism(picture.leg_cut[k], *hinge), prism(picture.jamb_leaf[k], *hinge)]
    return Managers(moving, fixed)


def transform(angle: float) -> fcl.Transform:
    """Return the pose at a swing angle."""
    return fcl.Transform(Rotation.from_euler("z", angle).as_matrix(), np.zeros(3))


def compared(step: float, count: int, kernel: float, exact: Floats) -> list[str]:
    """Return the row of the library: the first ``count`` variants stepped, against the kernel."""
    few = {key: values[:count] for key, values in drawn(20, len(exact)).items()}
    picture = plan_outlines(sizes_of(few))
    variants = [managers(picture, k) for k in range(count)]
    angles = np.arange(round(90 / step), -1, -1) * radians(step)
    poses = [(float(angle), transform(float(angle))) for angle in angles]
    begin = process_time()
    brackets = [variant.bisected(poses, transform) for variant in variants]
    rate = count / (process_time() - begin)
    found = np.array([bracket[1] if bracket else np.nan for bracket in brackets])
    both = ~np.isnan(found) & ~np.isnan(exact[:count])
    apart = np.degrees(np.abs(found - exact[:count])[both].max(initial=0.0))
    missed = int((np.isnan(found) != np.isnan(exact[:count])).sum())
    name = f"python-fcl, {step:g} deg steps, bisected"
    ratio = f"{kernel / rate:,.0f}"
    return [name, f"{count:,}", f"{rate:,.0f}", ratio, str(both.sum()), f"{apart:.1e}", str(missed)]


def main() -> None:
    """Time the kernel and the library one after the other and print both."""
    count, few = map(int, [*sys.argv[1:], *("100000", "200")[len(sys.argv) - 1 :]])
    scene, changes = plain_scene(), drawn(20, count)
    in_plan(scene, sizes_of({key: values[:100] for key, values in changes.items()}))
    begin = process_time()
    plan = in_plan(scene, sizes_of(changes))
    kernel = count / (process_time() - begin)
    touching = str(int((~np.isnan(plan.angle)).sum()))
    rows = [["kernel in plan", f"{count:,}", f"{kernel:,.0f}", "1", touching, "", ""]]
    rows += [compared(step, min(few, count), kernel, plan.angle) for step in STEPS]
    head = ["", "variants", "a second", "slower", "contacts", "deg apart at most", "not agreed"]
    print(machine("numpy", "python-fcl"))
    print(table(f"variants in plan: {plan.swings.mean():.0%} of them swing", head, rows))


if __name__ == "__main__":
    main()
