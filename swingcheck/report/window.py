"""Windows of a dimension, the jig's setting and the bevels that work, in words."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, tan

from swingcheck.advice.bevel import LeastBevel, MarginTable
from swingcheck.advice.setback import Setback, Setting
from swingcheck.advice.window import Fault, Interval, Miss, Window, faults_of
from swingcheck.chance.measurements import Measurement
from swingcheck.model import Scene, Wanted
from swingcheck.report.card import Card, Entry, Table, card_of
from swingcheck.report.fit_words import chance_text
from swingcheck.report.headline import nearest, place_in_swing
from swingcheck.report.words import Lengths, of_hundred
from swingcheck.swing.fit import SURE
from swingcheck.swing.found import Touch, Verdict
from swingcheck.swing.trial import Limit, Trial, wanted_of
from swingcheck.units import MM_PER_INCH, angle_text, fraction_text, rounded_up
from swingcheck.units.words import listed, listed_parts, sentence, the

AS_CLOSED_IN = 1 / 128
"""Within this of closed at the strike edge a contact is one of the closed slab, inches."""


def interval_text(window: Window, interval: Interval, lengths: Lengths) -> str:
    """Return an interval for reading; one value where its ends read alike.

    An end that is only the end of what was looked at is said to be open.
    """
    low, high = (lengths.of(window.measurement, end.value) for end in (interval.low, interval.high))
    if interval.low.beyond and interval.high.beyond:
        return f"{low} to {high}" if low != high else low
    if interval.high.beyond:
        return f"up to {high}"
    return f"{low} and over" if interval.low.beyond else f"all of {low} to {high}"


def beyond_texts(window: Window, interval: Interval, scene: Scene, lengths: Lengths) -> list[str]:
    """Return what goes wrong under the low end and over the high one."""
    texts = []
    for side, end in (("under", interval.low), ("over", interval.high)):
        if end.beyond is not None:
            value = lengths.of(window.measurement, end.value)
            texts.append(f"{side} {value} {fault_text(end.beyond, scene, lengths)}")
    return texts


def fault_text(fault: Fault, scene: Scene, lengths: Lengths) -> str:
    """Return what goes wrong, a contact with its angle or the limit that is broken."""
    if fault.limit is not None:
        return _past_limit(fault.limit, wanted_of(scene), lengths)
    if fault.verdict is None:
        return "it cannot be built"
    whose = the(fault.slab) if fault.slab else "it"
    if fault.blocked_by:
        return f"{whose} overlaps {listed_parts(fault.blocked_by)} where it starts"
    if fault.touch is None:
        return f"it and {whose}'s slab foul each other"
    return f"{whose} {_contact(fault.verdict, fault.touch, lengths)}"


def _contact(verdict: Verdict, touch: Touch, lengths: Lengths) -> str:
    if verdict is Verdict.FOULS:
        return f"fouls {the(touch.against)}, {angle_text(touch.angle)} open"
    does = f"{'is ' * (verdict is Verdict.HINGE_BOUND)}{verdict.value}"
    met = f"{does}{' on' * (verdict is not Verdict.STRIKES)} {the(touch.against)}"
    if touch.opening_at_strike < AS_CLOSED_IN:
        return f"{met} when closed"
    short = lengths.full(touch.opening_at_strike)
    return f"{met} at {angle_text(touch.angle)}, {short} short of closed"


_LIMITS = {
    Limit.HINGE_STOP: ("{} is left to the hinge stop", "hinge_stop", -1),
    Limit.HINGE_MARGIN: ("the hinge margin is {}", "least_margin", -1),
    Limit.STRIKE_MARGIN: ("the strike margin is {}", "least_margin", -1),
    Limit.HEAD_MARGIN: ("the head margin is {}", "least_margin", -1),
    Limit.PROUD: ("the wide face stands {} proud", "flush", 1),
    Limit.SHY: ("the wide face stands {} shy", "flush", 1),
}
"""Each limit that is a length: what is said of it, the length wanted, which way it is broken."""


def _past_limit(limit: Limit, wanted: Wanted, lengths: Lengths) -> str:
    if limit not in _LIMITS:
        return "a pin comes too far off the line of the others"
    words, name, sense = _LIMITS[limit]
    than = "more than" if sense > 0 else "less than"
    return words.format(f"{than} {lengths.full(getattr(wanted, name))}")


def miss_text(miss: Miss, scene: Scene, lengths: Lengths) -> str:
    """Return what is still wrong where it comes nearest to working."""
    texts = []
    for fault in miss.faults:
        if fault.limit is None or fault.limit not in _LIMITS:
            texts.append(fault_text(fault, scene, lengths))
        else:
            words, name, sense = _LIMITS[fault.limit]
            limit = getattr(wanted_of(scene), name)
            at = f"{'only ' * (sense < 0)}{lengths.full(limit + sense * fault.short)}"
            texts.append(f"{words.format(at)} ({lengths.full(limit)} wanted)")
    return listed(texts)


def wanted_text(scene: Scene, lengths: Lengths) -> str:
    """Return what a setting may not go past."""
    wanted = wanted_of(scene)
    margin = f"{lengths.full(wanted.least_margin)} at hinge, strike and head"
    if scene.stop is None:
        return f"at least {margin}"
    return (
        f"at least {lengths.full(wanted.hinge_stop)} to the hinge stop, {margin};"
        f" the wide face within {lengths.full(wanted.flush)} of flush"
    )


def setback_card(found: Setback, unit: str | None = None) -> Card:
    """Return where to set the jig, and what that does; ``unit`` as for a check's card."""
    lengths = Lengths(unit=unit or found.scene.unit)
    return card_of(
        found.scene.title,
        _jig_finding(found, lengths),
        Entry("Jig", _jig_texts(found, lengths)),
        Entry("Sure", _sure_texts(found, lengths)),
        *_window_entries(found.window, found.scene, lengths),
        _at_table(found, lengths),
        Entry("Nearest", (_nearest(found, lengths),)),
        Entry("Wanted", (wanted_text(found.scene, lengths),)),
    )


def window_card(
    scene: Scene, window: Window, setting: Setting | None, unit: str | None = None
) -> Card:
    """Return the window of one dimension, and the setting to take."""
    lengths = Lengths(unit=unit or scene.unit)
    now = lengths.of(window.measurement, window.now)
    works_now = "works" if window.works_now else "does not work"
    return card_of(
        scene.title,
        _window_finding(window, lengths),
        Entry("Now", (f"{now}, which {works_now}",)),
        Entry("Take", (_take(window, setting, lengths),)),
        *_window_entries(window, scene, lengths),
        Entry("Wanted", (wanted_text(scene, lengths),)),
    )


def measurements_card(scene: Scene, free: Sequence[Measurement], unit: str | None = None) -> Card:
    """Return the dimensions of a scene that can be left free, with what they are now."""
    lengths = Lengths(unit=unit or scene.unit)
    keys = tuple(
        f"{each.key}: {each.words}, now {lengths.of(each, each.value(scene))}" for each in free
    )
    return card_of(scene.title, "what can be left free", Entry("Keys", keys))


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
    found = [("Works", each) for each in window.works]
    found += [("Swings", each) for each in window.swings if each not in window.works]
    entries = []
    for label, each in found:
        beyond = beyond_texts(window, each, scene, lengths)
        words = "; ".join((interval_text(window, each, lengths), *beyond))
        entries.append(Entry(label, (words,)))
    if window.miss is not None:
        at = lengths.of(window.measurement, window.miss.value)
        still = miss_text(window.miss, scene, lengths)
        entries.append(Entry("Near miss", (f"at {at} {still}",)))
    return entries


def _jig_finding(found: Setback, lengths: Lengths) -> str:
    what = "JIG" if found.side == "slab" else "JAMB'S JIG"
    if found.setting is None:
        return f"NO {'MARK' if found.window.works else 'SETTING'} OF THE {what} WORKS"
    value = lengths.full(found.setting.value)
    if abs(found.setting.value - found.now) < 1e-9 and found.has_jig:
        return f"LEAVE THE {what} AT {value}"
    return f"SET THE {what} TO {value}"


def _jig_texts(found: Setback, lengths: Lengths) -> tuple[str, ...]:
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


def _sure_texts(found: Setback, lengths: Lengths) -> tuple[str, ...]:
    """Return how many doors swing with the setting, and with what it is set to now."""
    share, now = found.share, found.share_now
    if found.setting is None:
        if not found.window.works:
            return ()
        return ("No mark of the tape lies in what works: 'swingcheck check' says what else does.",)
    if share is None:
        return ()
    texts = [chance_text(share.swinging, share.drawn)]
    if now is not None and found.setting.value != found.now:
        texts[0] += f"; {of_hundred(now.swinging)} of 100 at {lengths.full(found.now)}"
    if share.swinging < SURE:
        texts.append("Too few: 'swingcheck check' says what else to change.")
    return tuple(texts)


def _away(window: Window, by: float, lengths: Lengths) -> str:
    return f"{lengths.of(window.measurement, abs(by))} {'more' if by > 0 else 'less'}"


def _at_table(found: Setback, lengths: Lengths) -> Table:
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
    return Table(f"At, {lengths.unit}", heads, rows)


def _cells(fit: Trial, lengths: Lengths) -> tuple[str, ...]:
    margins = fit.margins
    stop = "" if margins.hinge_stop is None else lengths.bare(min(margins.hinge_stop))
    least = (margins.hinge, margins.strike, margins.head)
    return (
        stop,
        *(lengths.bare(min(each)) for each in least),
        lengths.flush(max(margins.flush_all, key=abs)),
        fit.verdict.value,
    )


def _nearest(found: Setback, lengths: Lengths) -> str:
    swings = found.result is not None and found.result.verdict is Verdict.SWINGS
    near = nearest(found.result) if found.result and swings else None
    if near is None or found.setting is None:
        return ""
    at, least = lengths.full(found.setting.value), lengths.full(near.least)
    return f"at {at}, {the(near.against)} by {least} {place_in_swing(near.angle)}"


def bevel_card(
    scene: Scene,
    edges: Sequence[LeastBevel],
    tables: Sequence[MarginTable],
    unit: str | None = None,
) -> Card:
    """Return the least bevel of each edge, and the least strike margin against bevel."""
    lengths = Lengths(unit=unit or scene.unit)
    return card_of(
        scene.title,
        _finding(edges),
        *(_edge_entry(scene, edge, lengths) for edge in edges),
        Entry("Wanted", (wanted_text(scene, lengths),)),
        *(item for table in tables for item in _margin_items(table, lengths)),
    )


def _finding(edges: Sequence[LeastBevel]) -> str:
    if not edges:
        return "BOTH EDGES ARE ROUND"
    return "; ".join(f"{edge.edge} edge {_least_text(edge)}" for edge in edges).upper()


def _least_text(edge: LeastBevel) -> str:
    if edge.least is None or edge.setting is None:
        return "no bevel works"
    return "may be square" if edge.least == 0 else f"at least {angle_text(edge.setting.value)}"


def _edge_entry(scene: Scene, edge: LeastBevel, lengths: Lengths) -> Entry:
    window = edge.window
    now = lengths.of(window.measurement, window.now)
    texts = [f"{edge.edge} edge: now {now}, which {'works' if window.works_now else 'does not'}"]
    if edge.setting is not None and edge.least:
        thickness, lean = scene.slab.thickness, edge.setting.value
        off, across = lengths.full(thickness * tan(lean)), lengths.full(thickness)
        texts[0] += f"; at least {angle_text(lean)}: {off} across {across}"
    for interval in window.works:
        texts += beyond_texts(window, interval, scene, lengths)
    if window.miss is not None:
        at = lengths.of(window.measurement, window.miss.value)
        texts.append(f"nearest at {at}: {miss_text(window.miss, scene, lengths)}")
    return Entry("Bevel", tuple(texts))


def _margin_items(table: MarginTable, lengths: Lengths) -> tuple[Entry | Table, ...]:
    thick, proud = lengths.full(table.thickness), lengths.full(table.proud)
    words = (
        f"the least at the strike that a slab {thick} thick swings past with, by its width and"
        f" its bevel there; the opening true, the pin {proud} proud"
    )
    rows = tuple(
        (lengths.bare(row.width), tuple(_margin(margin, lengths) for margin in row.margins))
        for row in table.rows
    )
    columns = tuple(angle_text(each) if each else "square" for each in table.bevels)
    return (
        Entry("Margin", (words,)),
        Table(f"  Width, {lengths.unit}", columns, rows),
    )


def _margin(margin: float, lengths: Lengths) -> str:
    if lengths.unit == "mm":
        return f"{ceil(margin * MM_PER_INCH * 10 - 1e-6) / 10:.1f}"
    return fraction_text(rounded_up(margin, 1 / 64))
