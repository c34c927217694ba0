"""``swingcheck new``: a starter scene, to fill in at the opening."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import click

import swingcheck as sc
from swingcheck.cli.output import refuse_to_overwrite, write_to_fill_in
from swingcheck.errors import SceneError, UnitError

OPTION_KEYS = {
    "title": "title",
    "unit": "unit",
    "hinges_on": "hinges_on",
    "width": "opening.width",
    "height": "opening.height",
    "rabbet": "opening.rabbet",
    "slab_width": "slab.width",
    "slab_height": "slab.height",
    "thickness": "slab.thickness",
    "setback": "hinge.slab.setback",
    "jamb_setback": "hinge.jamb.setback",
}
"""Each option's name, and the key of a scene that it gives."""

_ASKED = {
    "width": ("Width of the opening, leg to leg", None),
    "height": ("Height of the opening, floor to head", None),
    "rabbet": ("Rabbet, jamb's edge to the face of the stop", "usual"),
    "thickness": ("Thickness of the slab", "1 3/8 in"),
    "slab_width": ("Width of the slab, on the pull-side face", "usual"),
    "slab_height": ("Height of the slab", "usual"),
}


@click.command(name="new", short_help="Write a starter scene to fill in at the opening.")
@click.argument("file", metavar="FILE")
@click.option("--width", metavar="LENGTH", help="Opening, leg to leg, such as '30 1/8'.")
@click.option("--height", metavar="LENGTH", help="Opening, finished floor to head.")
@click.option("--rabbet", metavar="LENGTH", help="Jamb's pull-side edge to the stop's face.")
@click.option("--slab-width", metavar="LENGTH", help="Slab, on its pull-side face.")
@click.option("--slab-height", metavar="LENGTH", help="Slab, as it will hang.")
@click.option("--thickness", metavar="LENGTH", help="Slab, face to face.")
@click.option("--setback", metavar="LENGTH", help="Slab's stop-side face to the leaf's edge.")
@click.option("--jamb-setback", metavar="LENGTH", help="Stop's face to the leaf's edge.")
@click.option(
    "--hinges-on",
    type=click.Choice(["left", "right"]),
    help="The hinge side, seen from the pull side.",
)
@click.option("--unit", type=click.Choice(["in", "mm"]), help="What a bare number is in.")
@click.option("--title", metavar="WORDS", help="What to call the opening; FILE's name if left out.")
@click.option("--force", is_flag=True, help="Write over a file that is there.")
def command(file: str, force: bool, **options: str | None) -> None:
    """Write a starter scene to fill in at the opening.

    FILE is the scene file to write; - is standard output. Every measurement
    has a line in it that says how to take it. What is not given here is asked
    for at a terminal, or shown at its usual value.

    A length is written as it is read off the tape: '29 13/16', "6' 8 1/2", '36.5 mm'.
    """
    if not force:
        refuse_to_overwrite(file, "--force writes over it")
    given = {name: value for name, value in options.items() if value is not None}
    if stdin_is_terminal():
        given |= _answers(given)
    missing = [f"--{name}" for name in ("width", "height") if name not in given]
    if missing:
        raise click.UsageError(f"Give {' and '.join(missing)}: the opening's own measurements.")
    stem = "" if file == "-" else Path(file).stem.replace("_", " ").replace("-", " ").strip()
    given.setdefault("title", stem[:80].capitalize() or "Untitled")
    write_to_fill_in(file, _starter(given, file), "check")


def stdin_is_terminal() -> bool:
    """Return whether there is somebody to ask."""
    return sys.stdin is not None and sys.stdin.isatty()


def _answers(given: dict[str, str]) -> dict[str, str]:
    """Return what is typed at a terminal for the measurements that were not given."""
    unit = given.get("unit", "in")
    answers = {}
    for name, (words, usual) in _ASKED.items():
        if name in given:
            continue
        answer = click.prompt(
            words, default=usual, value_proc=_length_or(usual, unit), err=True, type=str
        )
        if answer != usual:
            answers[name] = answer
    if "hinges_on" not in given:
        answers["hinges_on"] = click.prompt(
            "Hinges on, seen from the pull side",
            default="left",
            type=click.Choice(["left", "right"]),
            err=True,
        )
    return answers


def _length_or(usual: str | None, unit: str) -> Callable[[Any], str]:
    """Return a reader of one answer: a length as typed, or what is usual."""
    from swingcheck.units import parsed_length

    def read(answer: Any) -> str:
        text = str(answer).strip()
        if text == usual:
            return text
        try:
            parsed_length(text, unit)
        except UnitError as error:
            raise click.UsageError(str(error)) from None
        return text

    return read


def _starter(given: dict[str, str], file: str) -> str:
    """Return the starter; its faults name the options, not the keys behind them."""
    try:
        return sc.new({OPTION_KEYS[name]: value for name, value in given.items()})
    except SceneError as error:
        options = {key: f"--{name.replace('_', '-')}" for name, key in OPTION_KEYS.items()}
        problems = [replace(each, key=options.get(each.key, each.key)) for each in error.problems]
        raise SceneError(file, problems) from None
