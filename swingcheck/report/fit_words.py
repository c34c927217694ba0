"""The fit in words: whether a door should be hung so, and each reason why not."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from swingcheck.advice.answer import Answer
from swingcheck.advice.cure import Cure
from swingcheck.model import Finish
from swingcheck.report.words import Lengths, numbered, of_hundred, place_in_swing
from swingcheck.swing.fit import FEWEST_TOLD, film_of
from swingcheck.swing.found import Code, FitWord, Found, Reason, Verdict, Way
from swingcheck.swing.trial import Limit
from swingcheck.units.words import the

_COUNTS = {1: "one coat takes", 2: "two coats take", 3: "three coats take", 4: "four coats take"}
SEASON = "as cut, painted and in its wettest month"


def fit_texts(found: Found, lengths: Lengths) -> tuple[str, ...]:
    """Return the fit's word with the first reason behind it, then every other that makes it."""
    fit = found.fit
    texts = [reason_text(found, reason, lengths) for reason in fit.deciding]
    if fit.word is FitWord.GOOD:
        texts = [chance_text(fit.chance, fit.drawn)] if fit.chance is not None else []
    word = fit.word.value.upper()
    first, *rest = texts or [""]
    return (f"{word}: {first}" if first else word, *rest)


def chance_text(chance: float, drawn: int) -> str:
    """Return the chance as a sentence tells it.

    Examples
    --------
    >>> chance_text(0.974, 400)
    'works 97 of 100 as cut, painted and in its wettest month (400 drawn)'
    >>> chance_text(0.5, 24)
    '12 of 24 drawn swing as cut, painted and in its wettest month'
    """
    if drawn >= FEWEST_TOLD:
        return f"works {of_hundred(chance)} of 100 {SEASON} ({drawn} drawn)"
    return f"{round(chance * drawn)} of {drawn} drawn swing {SEASON}"


def cures_text(answer: Answer, lengths: Lengths) -> tuple[str, ...]:
    """Return the cures with their numbers, each with how sure it is; or that none was found."""
    if answer.cures or answer.found.verdict is Verdict.SWINGS:
        return numbered([cure_text(cure, lengths) for cure in answer.cures])
    return ("None found: no change of one or two measurements that was tried makes it swing.",)


def cure_text(cure: Cure, lengths: Lengths) -> str:
    """Return a cure with how sure it is."""
    said, chance = cure.said_in(lengths.unit), cure.chance
    if chance is None:
        return said
    if cure.drawn < FEWEST_TOLD:
        return f"{said} ({round(chance * cure.drawn)} of {cure.drawn} drawn swing)"
    return f"{said} (works {of_hundred(chance)} of 100)"


def reason_text(found: Found, reason: Reason, lengths: Lengths) -> str:
    """Return a reason against hanging a door so."""
    return _WORDS[reason.code](found, reason, lengths)


def _does_not_swing(found: Found, reason: Reason, lengths: Lengths) -> str:
    way = found.decided.way
    if way is Way.CLOSING:
        return "it does not close"
    if found.verdict is Verdict.BLOCKED:
        return "it cannot stand where its closing starts"
    return "it does not open as far as wanted"


def _clearance(found: Found, reason: Reason, lengths: Lengths) -> str:
    finish, film = found.scene.finish or Finish(), film_of(found.scene)
    coats = _COUNTS.get(finish.slab, "") if finish.slab == finish.jamb else ""
    near = f"{lengths.fine(reason.measured or 0.0)} to {the(reason.place)}"
    near += f" {place_in_swing(reason.angle)}" if reason.angle else ""
    more = "" if (reason.measured or 0.0) <= film else " of it, and 1/64 in is to be left"
    return f"{near}; {coats or 'paint takes'} {lengths.fine(film)}{more}"


def _flush(found: Found, reason: Reason, lengths: Lengths) -> str:
    way = "proud" if reason.place == Limit.PROUD.value else "shy"
    full = lengths.full
    stands = f"the wide face stands {full(reason.measured or 0.0)} {way}"
    return f"{stands} ({reason.source}: within {full(reason.limit or 0.0)})"


def _rule(found: Found, reason: Reason, lengths: Lengths) -> str:
    if reason.measured is None or reason.limit is None:
        return f"{reason.place} ({reason.source})"
    bound = "at least" if reason.measured < reason.limit else "at most"
    read, limit = lengths.full(reason.measured), lengths.full(reason.limit)
    return f"{reason.place} {read}, {bound} {limit} is asked ({reason.source})"


def _chance(found: Found, reason: Reason, lengths: Lengths) -> str:
    return chance_text(found.fit.chance or 0.0, found.fit.drawn)


def _sized(words: str, *, fine: bool = False) -> Callable[[Found, Reason, Lengths], str]:
    """Return what says a reason in words with its place, what was measured, and the limit."""

    def said(found: Found, reason: Reason, lengths: Lengths) -> str:
        tell = lengths.fine if fine else lengths.full
        read = tell(abs(reason.measured or 0.0))
        return words.format(place=reason.place, read=read, limit=lengths.full(reason.limit or 0.0))

    return said


_WORDS: Mapping[Code, Callable[[Found, Reason, Lengths], str]] = {
    Code.DOES_NOT_SWING: _does_not_swing,
    Code.OUTSIDE: _sized("it hangs outside its opening, {read} out of it"),
    Code.NOT_COVERED: _sized("the slab does not cover the {place}: it is {read} short of it"),
    Code.OVERLAPS: _sized("the {place} is {read} less than nothing"),
    Code.TOO_WIDE: _sized("the {place} is {read}, over {limit}"),
    Code.PINS: _sized("{place} by {read}, over {limit}: it will not go together", fine=True),
    Code.BURIED: _sized("{place}, {read} deep"),
    Code.LATCH: _sized("the {place} misses its strike: the gap is {read}, the throw {limit}"),
    Code.CLEARANCE: _clearance,
    Code.MARGIN: _sized("{place} {read}, and at least {limit} is wanted"),
    Code.FLUSH: _flush,
    Code.RULE: _rule,
    Code.CHANCE: _chance,
}
