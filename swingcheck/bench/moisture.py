"""How wet wood comes to be in air, and how much it swells for it.

Sources:

- Equilibrium moisture content: the two-hydrate sorption equation of Hailwood
  and Horrobin with the constants of Simpson (USDA Forest Products Laboratory,
  FPL-RN-0268, 1998; Wood Handbook, FPL-GTR-190, equation 4-5), temperature in
  Fahrenheit and humidity as a fraction. Read in secondary texts; one of them
  labels the humidity a percentage, which it is not.
- Change of size: Wood Handbook, chapter 13: the size times a coefficient times
  the change of moisture content, for 6 to 14 %. Read in an extension page.
"""

from __future__ import annotations


def moisture_content(temperature: float, humidity: float) -> float:
    """Return the moisture content that wood comes to in air, percent.

    Parameters
    ----------
    temperature : float
        Fahrenheit.
    humidity : float
        Relative, percent, 0 to 100.

    Examples
    --------
    >>> round(moisture_content(70.0, 50.0), 1)
    9.2
    """
    t, h = temperature, humidity / 100
    w = 330 + 0.452 * t + 0.00415 * t**2
    k = 0.791 + 0.000463 * t - 0.000000844 * t**2
    k1 = 6.34 + 0.000775 * t - 0.0000935 * t**2
    k2 = 1.09 + 0.0284 * t - 0.0000904 * t**2
    kh = k * h
    held = kh / (1 - kh)
    hydrated = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (held + hydrated)


def swelling(size: float, coefficient: float, before: float, after: float) -> float:
    """Return how much larger a piece is at one moisture content than at another, inches.

    Parameters
    ----------
    size : float
        Across the grain, inches, at the first.
    coefficient : float
        Its change for each percent.
    before, after : float
        Moisture contents, percent.

    Examples
    --------
    >>> round(swelling(8.0, 0.0026, 6.0, 12.0), 3)
    0.125
    """
    return size * coefficient * (after - before)
