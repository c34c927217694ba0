"""Measurements taken at several places along a part."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np

Stations = tuple[float, ...]


def station_value(stations: Sequence[Any], fraction: Any) -> Any:
    """Return the value at a fraction of the way along evenly spaced stations.

    ``stations``, at least one, are floats, or (n,) arrays with a value for each of n
    variants; ``fraction``, a float or (..., n), is 0 at the first, 1 at the last, and held
    at the ends outside.

    Examples
    --------
    >>> float(station_value((0.0, 1.0, 4.0), 0.75))
    2.5
    """
    last = len(stations) - 1
    if not last:
        return stations[0]
    place = np.minimum(np.maximum(fraction, 0.0), 1.0) * last
    value = stations[0] + (stations[1] - stations[0]) * place
    for k, (here, after) in enumerate(pairwise(stations[1:]), 1):
        value = np.where(place >= k, here + (after - here) * (place - k), value)
    return value[()]
