"""What the bench is told beside the opening: lock, pane, slab as delivered, season, finish."""

from __future__ import annotations

from dataclasses import fields

from swingcheck.model import (
    Deadbolt,
    Delivered,
    Finish,
    Glass,
    Lock,
    Season,
    Share,
    Slab,
    Wanted,
)
from swingcheck.scenefile import usual
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.fitted import completed_handle, glass_bead


def completed_lock(filling: Filling, slab: Slab) -> Lock | None:
    """Return the lock, or None where there is none."""
    if not filling.has_table("lock"):
        return None
    sizes = filling.each_of("lock", usual.LOCK, "usual for a bored lock")
    handle = completed_handle(filling, slab, sizes["backset"])
    return Lock(deadbolt=_deadbolt(filling, sizes), handle=handle, **sizes)


def _deadbolt(filling: Filling, lock: dict[str, float]) -> Deadbolt | None:
    if not filling.has_table("lock.deadbolt"):
        return None
    same = {name: value for name, value in lock.items() if name not in ("height", "throw")}
    path = "lock.deadbolt"
    return Deadbolt(
        above=filling.number(f"{path}.above", usual.DEADBOLT_ABOVE, "usual over a bored lock"),
        throw=filling.number(f"{path}.throw", usual.DEADBOLT_THROW, "usual for a deadbolt"),
        **filling.each_of(path, same, "as for the lock below it"),
    )


def slab_glass(filling: Filling, slab: Slab) -> Glass | None:
    """Return the pane in the slab, or None where there is none."""
    path = "slab.glass"
    if not filling.has_table(path):
        return None
    width = filling.required(f"{path}.width", (1.0,), "the pane's width")[0]
    height = filling.required(f"{path}.height", (1.0,), "the pane's height")[0]
    across = max((min(slab.width) - width) / 2, 0.0)
    up = max((min(slab.height) - height) / 2, 0.0)
    why = "in the middle of the slab"
    return Glass(
        width=width,
        height=height,
        thickness=filling.number(f"{path}.thickness", usual.GLASS_THICKNESS, "usual pane"),
        across=filling.number(f"{path}.across", across, why),
        up=filling.number(f"{path}.up", up, why),
        bead=glass_bead(filling),
    )


def delivered(filling: Filling, slab: Slab) -> Delivered | None:
    """Return the slab as it was delivered, or None where nothing was said of it."""
    path = "slab.delivered"
    if not filling.has_table(path):
        return None
    why = "as it will hang, with nothing to cut"
    share = filling.words(f"{path}.share", "even", "the same off both edges keeps it balanced")
    return Delivered(
        width=filling.number(f"{path}.width", max(slab.width), why),
        height=filling.number(f"{path}.height", max(slab.height), why),
        edge_strip=filling.said(f"{path}.edge_strip"),
        end_strip=filling.said(f"{path}.end_strip"),
        share=Share(share),
        hinge_off=filling.said(f"{path}.hinge_off"),
    )


def wanted_margins(filling: Filling) -> Wanted | None:
    """Return the margins that are wanted, or None where nothing was said of them."""
    if not filling.has_table("wanted"):
        return None
    said = {each.name: filling.said(f"wanted.{each.name}") for each in fields(Wanted)}
    return Wanted(**{name: value for name, value in said.items() if value is not None})


def season(filling: Filling) -> Season | None:
    """Return the air across the year, or None where nothing was said of it."""
    if not filling.has_table("season"):
        return None
    numbers = filling.measured.numbers
    month = filling.said("season.month")
    return Season(
        temperatures=numbers.get("season.temperatures"),
        humidities=numbers.get("season.humidities"),
        moisture=filling.said("season.moisture"),
        month=None if month is None else int(month),
        least=filling.said("season.least"),
    )


def finish(filling: Filling) -> Finish | None:
    """Return what will be put on, or None where nothing was said of it."""
    if not filling.has_table("finish"):
        return None
    coats = {
        face: int(filling.number(f"finish.{face}", usual.COATS, "a first coat and a second"))
        for face in ("slab", "jamb")
    }
    film = filling.number("finish.film", usual.FILM, "a coat of waterborne paint, dry")
    return Finish(film=film, **coats)
