"""One scene with one measurement free: what any value of it comes to."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from swingcheck.assembly import bare_assembly
from swingcheck.chance.batches import can_plan, planned
from swingcheck.chance.measurements import Measurement
from swingcheck.errors import GeometryError
from swingcheck.geometry.solid import Bools
from swingcheck.model import Scene
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.margins import closed_margins, pins_found
from swingcheck.swing.swung import Swung
from swingcheck.swing.trial import (
    Limit,
    Spares,
    Trial,
    limit_spares,
    trial,
    trial_of,
    wanted_of,
    within,
)

#: How far from swinging a scene is that cannot be built, inches: worse than any that can.
UNBUILT_IN = 1e3


class Judge:
    """Answers for values of a measurement of a scene, and remembers what it found."""

    def __init__(
        self, scene: Scene, measurement: Measurement, variants: Variants | None = None
    ) -> None:
        self.scene, self.measurement = scene, measurement
        self.variants = variants or Variants()
        self._fits: dict[float, Trial | None] = {}
        self._spares: dict[float, Spares] = {}
        off_now = max(pins_found(bare_assembly(scene)).off_line)
        self._pins_off = max(scene.shop.pin_tolerance, off_now)
        self._has_plan = can_plan(scene, [measurement])

    def values(self) -> tuple[float, ...]:
        """Return the values that were swung in full."""
        return tuple(self._fits)

    def at(self, value: float) -> Scene:
        """Return the scene at a value."""
        return self.measurement.changed(self.scene, value)

    def fit(self, value: float) -> Trial | None:
        """Return the full simulation at a value; ``None`` where it cannot be built."""
        if value not in self._fits:
            try:
                self._fits[value] = trial(self.at(value), self.variants)
            except GeometryError:
                self._fits[value] = None
        return self._fits[value]

    def swings(self, value: float) -> bool:
        """Tell whether it swings, whatever its margins."""
        found = self.fit(value)
        return found is not None and found.swings

    def clears(self, value: float, fault: Trial) -> bool:
        """Tell whether a value is free of a fault, looking at the parts of that fault alone."""
        if fault.decided.slab:
            return self.swings(value)
        try:
            swing = self.variants.swung(self.at(value))
        except GeometryError:
            return False
        return trial_of(_only(swing, fault)).swings

    def open_by(self, value: float) -> float:
        """Return how far from swinging it is, inches at the strike edge."""
        found = self.fit(value)
        return UNBUILT_IN if found is None else found.open_by

    def spares(self, value: float) -> Spares:
        """Return what is left of each limit, from the closed slab's place alone.

        The pins too: none may come off its line by more than the tolerance,
        or than it is off now.
        """
        if value not in self._spares:
            closed = bare_assembly(self.at(value))
            spares = limit_spares(closed_margins(closed), wanted_of(self.scene))
            pins = {Limit.PINS: self._pins_off - max(pins_found(closed).off_line)}
            self._spares[value] = {**spares, **pins}
        return self._spares[value]

    def fits(self, value: float) -> bool:
        """Tell whether it swings within every limit."""
        return self.swings(value) and within(self.spares(value))

    def swings_in_plan(self, values: ArrayLike) -> Bools | None:
        """Tell which values swing in plan; ``None`` where plan cannot say.

        A guide to where to look: what the plan leaves out (walls, casing, the
        room) can only make a value worse.
        """
        if not self._has_plan:
            return None
        column = np.asarray(values, dtype=np.float64)[:, None]
        return planned(self.scene, [self.measurement], column).swings


def _only(swing: Swung, fault: Trial) -> Swung:
    touched, assembly = fault.touch, swing.assembly
    names = set(fault.blocked_by) if touched is None else {touched.against, *touched.also}
    by = {part.name for part in assembly.moving} if touched is None else {touched.by}
    fixed = [k for k, part in enumerate(assembly.fixed) if part.name in names]
    moving = [k for k, part in enumerate(assembly.moving) if part.name in by]
    return Swung(
        assembly=replace(
            assembly,
            moving=tuple(assembly.moving[k] for k in moving),
            fixed=tuple(assembly.fixed[k] for k in fixed),
            others=(),
        ),
        moving=tuple(swing.moving[k] for k in moving),
        fixed=tuple(swing.fixed[k] for k in fixed),
    )
