"""``swingcheck bench``: every bench number of one door, in cutting order."""

from __future__ import annotations

from typing import Any

import click

import swingcheck as sc
from swingcheck.cli.options import reads_scene, reports
from swingcheck.cli.output import Exit


@click.command(name="bench")
@reads_scene
@reports
def command(scene: sc.Scene) -> tuple[Any, Exit]:
    """Give every cut, mark and set-up of one door, in cutting order.

    SCENE is a scene file, or - for standard input. [wanted] says what margins
    to cut for, [slab.delivered] what to cut from, [shop] which bit, bushing
    and template there are, [season] and [finish] the air and the paint.

    Exits with 0 when the door so cut is fit to be hung; with 1 when it is not,
    what was delivered is too small, or the bit and bushing cannot cut the
    leaves; with 2 when the scene cannot be read.
    """
    door = sc.door_of(scene)
    is_fit = door.check.fit.word is sc.FitWord.GOOD
    return door, Exit.YES if is_fit and door.bench.can_be_done else Exit.NO
