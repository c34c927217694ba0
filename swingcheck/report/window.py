"""Cards for a free dimension: the window, and for the jig the setting to take."""

from __future__ import annotations

from collections.abc import Sequence

from swingcheck.advice.setback import Setback, Setting
from swingcheck.advice.window import Window, faults_of
from swingcheck.chance.measurements import Measurement
from swingcheck.model import Scene
from swingcheck.report.card import Card, Entry, Table, saying
from swingcheck.report.headline import nearest, place_in_swing
from swingcheck.report.window_words import (
    beyond_texts,
    fault_text,
    interval_text,
    miss_text,
    wanted_text,
)
from swingcheck.report.words import Lengths, listed, sentence, the
from swingcheck.swing.found import Verdict
from swingcheck.swing.trial import Trial


def setback_card(found: Setback, unit: str | None = None) -> Card:
    """Return where to set the jig, and what that does; ``unit`` as for a check's card."""
    lengths = Lengths(unit=unit or found.scene.unit)
    items: tuple[Entry | Table, ...] = (
        Entry(label="Jig", texts=_jig_texts(found, lengths)),
        *_window_entries(found.window, found.scene, lengths),
        _at_table(found, lengths),
        Entry(label="Nearest", texts=(_nearest(found, lengths),)),
        Entry(label="Wanted", texts=(wanted_text(found.scene, lengths),)),
    )
    return Card(
        title=found.scene.title,
        verdict="works" if found.setting else "nothing works",
        finding=_jig_finding(found, lengths),
        items=saying(items),
    )


def window_card(
    scene: Scene, window: Window, setting: Setting | None, unit: str | None = None
) -> Card:
    """Return the window of one dimension, and the setting to take."""
    lengths = Lengths(unit=unit or scene.unit)
    now = lengths.of(window.measurement, window.now)
    works_now = "works" if window.works_now else "does not work"
    entries = [
        Entry(label="Now", texts=(f"{now}, which {works_now}",)),
        Entry(label="Take", texts=(_take(window, setting, lengths),)),
        *_window_entries(window, scene, lengths),
        Entry(label="Wanted", texts=(wanted_text(scene, lengths),)),
    ]
    return Card(
        title=scene.title,
        verdict="works" if window.works else "nothing works",
        finding=_window_finding(window, lengths),
        items=saying(entries),
    )


def measurements_card(scene: Scene, free: Sequence[Measurement], unit: str | None = None) -> Card:
    """Return the dimensions of a scene that can be left free, with what they are now."""
    lengths = Lengths(unit=unit or scene.unit)
    texts = [
        f"{each.key}: {each.words}, now {lengths.of(each, each.value(scene))}" for each in free
    ]
    return Card(
        title=scene.title,
        verdict="",
        finding="what can be left free",
        items=(Entry(label="Keys", texts=tuple(texts)),),
    )


def _window_finding(window: Window, lengths: Lengths) -> str:
    key = window.measurement.key
    if not window.works:
        return f"NO VALUE OF {key} WORKS"
    spans = listed([interval_text(window, each, lengths) for each in window.works])
    return f"{key} CAN BE {spans}"


def _take(window: Window, setting: Setting | None, lengths: Lengths) -> str:
    if setting is None:
        return ""
    if setting.value == window.now:
        return "leave it as it is"
    value = lengths.of(window.measurement, setting.value)
    return f"{value}, {_away(window, setting.value - window.now, lengths)} than now"


def _window_entries(window: Window, scene: Scene, lengths: Lengths) -> list[Entry]:
    """Return what works, what swings whatever its margins, and the nearest miss."""
    found = [("Works", each) for each in window.works]
    found += [("Swings", each) for each in window.swings if each not in window.works]
    entries = []
    for label, each in found:
        beyond = beyond_texts(window, each, scene, lengths)
        words = "; ".join((interval_text(window, each, lengths), *beyond))
        entries.append(Entry(label=label, texts=(words,)))
    if window.miss is not None:
        at = lengths.of(window.measurement, window.miss.value)
        still = miss_text(window.miss, scene, lengths)
        entries.append(Entry(label="Near miss", texts=(f"at {at} {still}",)))
    return entries


def _jig_finding(found: Setback, lengths: Lengths) -> str:
    what = "JIG" if found.side == "slab" else "JAMB'S JIG"
    if found.setting is None:
        return f"NO SETTING OF THE {what} WORKS"
    value = lengths.full(found.setting.value)
    if abs(found.setting.value - found.now) < 1e-9 and found.has_jig:
        return f"LEAVE THE {what} AT {value}"
    return f"SET THE {what} TO {value}"


def _jig_texts(found: Setback, lengths: Lengths) -> tuple[str, ...]:
    """Return what the jig does as it is set, and how far it is from what works."""
    now = lengths.full(found.now)
    is_set = f"set to {now} now" if found.has_jig else f"not said; the scene has {now}"
    at_now = found.at_now
    if at_now.fits:
        does = "that works"
    elif at_now.swings:
        does = "that swings, but not as wanted"
    else:
        does = f"there {fault_text(faults_of(at_now)[0], found.scene, lengths)}"
    texts = [f"{is_set}: {does}"]
    if found.setting is not None and found.setting.value != found.now:
        away = _away(found.window, found.setting.value - found.now, lengths)
        texts.append(sentence(f"the setting is {away} than that"))
    if found.least is not None and found.least != found.now:
        away = _away(found.window, found.least - found.now, lengths)
        to = lengths.full(found.least)
        texts.append(sentence(f"the least change that works is {away}, to {to}"))
    if not found.window.swings:
        texts.append("No setback cures that: swingcheck check names what does.")
    return tuple(texts)


def _away(window: Window, by: float, lengths: Lengths) -> str:
    return f"{lengths.of(window.measurement, abs(by))} {'more' if by > 0 else 'less'}"


def _at_table(found: Setback, lengths: Lengths) -> Table:
    """Return the closed slab's least margins at the setting, beside those of the jig now."""
    fits = [(found.now, found.at_now)]
    if found.setting is not None and found.setting.value != found.now:
        fits.insert(0, (found.setting.value, found.setting.fit))
    names = ("hinge stop", "hinge margin", "strike margin", "head margin", "wide face", "verdict")
    columns = [_cells(fit, lengths) for _, fit in fits]
    rows = tuple(
        (name, tuple(column[k] for column in columns))
        for k, name in enumerate(names)
        if columns[0][k]
    )
    heads = tuple(lengths.bare(value) for value, _ in fits)
    return Table(label=f"At, {lengths.unit}", columns=heads, rows=rows)


def _cells(fit: Trial, lengths: Lengths) -> tuple[str, ...]:
    margins = fit.margins
    stop = "" if margins.hinge_stop is None else lengths.bare(min(margins.hinge_stop))
    least = (margins.hinge, margins.strike, margins.head)
    return (
        stop,
        *(lengths.bare(min(each)) for each in least),
        lengths.flush(max(margins.flush, key=abs)),
        fit.verdict.value,
    )


def _nearest(found: Setback, lengths: Lengths) -> str:
    """Return the least clearance of the swing at the setting."""
    swings = found.result is not None and found.result.verdict is Verdict.SWINGS
    near = nearest(found.result) if found.result and swings else None
    if near is None or found.setting is None:
        return ""
    at, least = lengths.full(found.setting.value), lengths.full(near.least)
    return f"at {at}, {the(near.against)} by {least} {place_in_swing(near.angle)}"
