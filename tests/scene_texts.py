"""Random scene files, each from a seed, of every way in which a slab hangs or has company.

========== ==================================================================================
plain      a plumb opening with a slab that nearly fits it
crooked    legs out of plumb, cross-legged and twisted; leaves let in unevenly
pair       an inactive slab on the strike leg, whose own leaves may be wrong
dutch      a lower slab that may be too wide, with or without a shelf
neighbour  a second opening whose slab swings into the same room
pivot      centre or offset pivots in place of hinges
servery    a double-acting slab, which something may stop on the push side alone
========== ==================================================================================
"""

from __future__ import annotations

import numpy as np

KINDS = ("plain", "crooked", "pair", "dutch", "neighbour", "pivot", "servery")

Rng = np.random.Generator


def scene_text(kind: str, seed: int) -> str:
    """Return a scene file's text; a neighbour's is ``beside.toml`` (:func:`beside_text`)."""
    place = KINDS.index(kind)
    return _TEXTS[place](np.random.default_rng([place, seed]))


def beside_text() -> str:
    """Return the scene that a neighbour names."""
    return _opening(33.75, 31.6) + "[slab]\nwidth = 33.5\nhinge_edge = { bevel = 2 }\n"


def _opening(width: float, height: float) -> str:
    return f"[opening]\nwidth = {width:.5f}\nheight = {height + 49:.5f}\nrabbet = 1.46\n"


def _near(rng: Rng, middle: float, spread: float) -> float:
    return float(middle + rng.uniform(-spread, spread))


def _three(rng: Rng, middle: float, spread: float) -> str:
    return "[" + ", ".join(f"{_near(rng, middle, spread):.5f}" for _ in range(3)) + "]"


def _slab(rng: Rng, width: float, more: str = "") -> str:
    edges = "".join(
        f"{edge}_edge = {{ bevel = {rng.choice([0, 1, 2, 3, 4])} }}\n"
        for edge in ("hinge", "strike")
    )
    return f"[slab]\nwidth = {_near(rng, width, 0.07):.5f}\nthickness = 1.375\n{edges}{more}"


def _hinge(rng: Rng, spread: float = 0.07) -> str:
    jamb, slab = _near(rng, 0.3125, spread), _near(rng, 0.2656, spread)
    sides = f"jamb = {{ setback = {jamb:.5f} }}\nslab = {{ setback = {slab:.5f} }}\n"
    return f"[hinge]\ncount = 3\n{sides}"


def _plain(rng: Rng) -> str:
    return _opening(29.3, 31.6) + _slab(rng, 29.07) + _hinge(rng)


def _crooked(rng: Rng) -> str:
    legs = "".join(
        f"[opening.{leg}]\n{plumb}cross = {_three(rng, 0, 0.05)}\n"
        f"twist = {_near(rng, 0, 1.5):.3f}\n"
        for leg, plumb in (("hinge_leg", f"plumb = {_three(rng, 0, 0.05)}\n"), ("strike_leg", ""))
    )
    return _opening(29.3, 31.6) + legs + _slab(rng, 29.07) + _hinge(rng, 0.05)


def _pair(rng: Rng) -> str:
    own = _near(rng, 0.2656, 0.09)
    second = f"hinge = {{ slab = {{ setback = {own:.5f} }} }}\n" if rng.random() < 0.7 else ""
    inactive = f"[inactive]\n{second}slab = {{ width = {_near(rng, 29.6, 0.08):.5f} }}\n"
    return _opening(59.45, 31.6) + _slab(rng, 29.6) + _hinge(rng, 0.02) + inactive


def _dutch(rng: Rng) -> str:
    width = _near(rng, 29.14, 0.16)
    lower = f"[lower]\nslab = {{ height = 40.75, width = {width:.5f} }}\n"
    shelf = 'shelf = { thickness = "3/4", pull = "1", push = "1" }\n' if rng.random() < 0.5 else ""
    upper = _slab(rng, 29.05, "height = 38.25\n")
    return _opening(29.3, 31.6) + upper + lower + shelf


def _neighbour(rng: Rng) -> str:
    place = f"across = {_near(rng, 62, 34):.3f}\nout = {_near(rng, 16, 14):.3f}\nturn = 90\n"
    beside = f'[[neighbour]]\nscene = "beside.toml"\n{place}'
    return _opening(29.3, 31.6) + _slab(rng, 29.05) + _hinge(rng, 0.01) + beside


def _pivot(rng: Rng) -> str:
    kind = rng.choice(["centre", "offset"])
    out = f"slab = {{ edge = {_near(rng, 0.75, 0.1):.4f}, face = -0.75 }}\n"
    stop = 'stop = "none"\n' if kind == "centre" else ""
    pivot = f'[pivot]\nkind = "{kind}"\n' + (out if kind == "offset" else "")
    return stop + _opening(29.3, 31.6) + _slab(rng, 29.0) + pivot


def _servery(rng: Rng) -> str:
    radius = f"{{ radius = {_near(rng, 2.2, 0.6):.4f} }}"
    slab = (
        f"[slab]\nwidth = 29.0\nthickness = 1.75\nhinge_edge = {radius}\nstrike_edge = {radius}\n"
    )
    swing = "[swing]\nboth_ways = true\nlimit = 100\n"
    shelf = ""
    if rng.random() < 0.6:
        corner = f"[{_near(rng, 14, 8):.3f}, {-_near(rng, 28, 12):.3f}, 20]"
        shelf = f'[[obstacle]]\nname = "shelf"\ncorner = {corner}\nsize = [6, 6, 6]\n'
    pivot = '[pivot]\nkind = "centre"\n'
    return 'stop = "none"\n' + _opening(29.3, 31.6) + slab + pivot + swing + shelf


_TEXTS = (_plain, _crooked, _pair, _dutch, _neighbour, _pivot, _servery)
