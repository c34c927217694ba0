"""``swingcheck leeway``: how far any free dimension can go."""

from __future__ import annotations

import json
import sys

import click

from swingcheck.cli.options import json_option, scene_argument, scene_from, set_option, unit_option

WORKS, NOTHING_WORKS = 0, 1


@click.command(name="leeway")
@click.argument("keys", metavar="[KEY]...", nargs=-1)
@scene_argument
@set_option
@unit_option
@json_option
def command(
    keys: tuple[str, ...],
    scene: str,
    settings: tuple[tuple[str, str], ...],
    unit: str | None,
    as_json: bool,
) -> None:
    """Say how far a dimension can go before the slab no longer swings as wanted.

    KEY is a dimension that is still free, such as slab.strike_edge.bevel or
    hinge.jamb.depth; without one, those that the scene has are listed. SCENE
    is a scene file, or - for standard input. Exits with 0 when every KEY has a
    value that works, 1 when one has none, and 2 when the scene cannot be read.
    """
    from swingcheck.advice.judge import Judge
    from swingcheck.advice.setting import recommended
    from swingcheck.advice.window import window_of
    from swingcheck.chance.measurements import dimension, dimensions
    from swingcheck.cli.check import page_width
    from swingcheck.report.text import text
    from swingcheck.report.window import dimensions_card, window_card
    from swingcheck.report.window_data import dimensions_data, window_data
    from swingcheck.swing.kept_parts import Variants

    keys, scene = _scene_last((*keys, scene))
    read, variants = scene_from(scene, settings), Variants()
    free = [dimension(read, key) for key in keys]
    found = []
    for each in free:
        judge = Judge(read, each, variants)
        window = window_of(judge)
        found.append((window, recommended(judge, window, stay=True)))
    if as_json:
        data = [window_data(read, *pair) for pair in found] or dimensions_data(read)
        click.echo(json.dumps(data if len(data) != 1 else data[0], indent=2, allow_nan=False))
    else:
        cards = [window_card(read, *pair, unit) for pair in found]
        cards = cards or [dimensions_card(read, dimensions(read), unit)]
        click.echo("\n\n".join(text(card, page_width()) for card in cards))
    sys.exit(WORKS if all(window.works for window, _ in found) else NOTHING_WORKS)


def _scene_last(words: tuple[str, ...]) -> tuple[tuple[str, ...], str]:
    """Return the keys and the scene, which may stand anywhere if it is plain which it is."""
    files = [word for word in words if word == "-" or word.endswith(".toml")]
    scene = files[0] if len(files) == 1 else words[-1]
    return tuple(word for word in words if word != scene), scene
