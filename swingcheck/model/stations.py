"""Measurements taken at several places along a part."""

from __future__ import annotations

from collections.abc import Sequence

Stations = tuple[float, ...]


def station_value(stations: Sequence[float], fraction: float) -> float:
    """Return the value at a fraction of the way along evenly spaced stations.

    Parameters
    ----------
    stations : sequence of float
        At least one value, evenly spaced.
    fraction : float
        0 at the first station, 1 at the last; held at the ends outside.

    Examples
    --------
    >>> station_value((0.0, 1.0, 4.0), 0.75)
    2.5
    """
    last = len(stations) - 1
    if not last:
        return stations[0]
    place = min(max(fraction, 0.0), 1.0) * last
    low = min(int(place), last - 1)
    return stations[low] + (stations[low + 1] - stations[low]) * (place - low)
