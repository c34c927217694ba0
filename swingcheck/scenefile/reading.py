"""Read a scene file whole: its scene, or every fault of it at once."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from swingcheck.errors import Problem, SceneError
from swingcheck.model import Scene, Source, with_source
from swingcheck.scenefile.broken import Broken
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.measured import Measured, measure
from swingcheck.scenefile.registry import NAMES, broken_limits, completed_scene
from swingcheck.scenefile.settings import lay_over
from swingcheck.scenefile.source import refused, scene_text, source_name, toml_tree

_MOST_TOLD = 200  # faults; a scene has under 150 keys


def read_scene(
    source: Path | str,
    *,
    name: str = "",
    settings: Sequence[tuple[str, str]] = (),
    alone: bool = False,
) -> Scene:
    r"""Return the scene that a file or a text describes, complete: what it left out is ``assumed``.

    ``source`` is a scene file, ``Path("-")`` for standard input, or, as ``str``, the
    text of a scene; ``name`` what messages call it, and the title of one without.
    ``settings`` are measurements to change, as typed: ``("hinge.slab.setback[1]",
    "5/16")``; ``alone`` leaves out the openings whose files stand beside its own.
    Raises SceneError with every fault.

    Examples
    --------
    >>> scene = read_scene('[opening]\nwidth = "30 1/8"\nheight = "80 1/2"')
    >>> scene.slab.width, scene.hinge.count
    ((29.9375,), 3)
    """
    path, text, called = Path(name), source, name or "scene"
    if isinstance(source, Path):
        path, text, called = source, scene_text(source), name or source_name(source)
    return read_source(
        Source(
            text=str(text),
            called=called,
            title=path.stem if path.stem not in ("", "-") else "Untitled",
            folder=path.parent,
            read=read_source,
            settings=tuple(settings),
            alone=alone,
        )
    )


def read_source(source: Source) -> Scene:
    """Return the scene of a text with its settings; raises `SceneError` with every fault."""
    tree, slips = toml_tree(source.text.removeprefix("\ufeff"), source.called)
    astray = lay_over(tree, source.settings, NAMES)

    def read_beside(file: str) -> Scene:
        path = source.folder / file
        if path.name == "-" or (path.exists() and not path.is_file()):
            raise refused(file, "no plain file, as a scene named in a scene is")
        return read_scene(path, alone=True)

    beside = None if source.alone else read_beside
    filling = Filling(
        names=NAMES,
        settings=tuple(key for key, _ in source.settings),
        complete=not slips,
        read_beside=beside,
    )
    measure(filling, tree)
    scene = completed_scene(filling, source.title)
    problems = [*slips, *astray, *filling.problems]
    problems += _beyond_limits(scene, filling, only_given=bool(problems))
    if (more := len(problems) - _MOST_TOLD) > 0:
        problems[_MOST_TOLD:] = [Problem(key="", value="", expected=f"and {more} more faults")]
    if problems:
        raise SceneError(source.called, problems)
    return with_source(scene, source)


def _beyond_limits(scene: Scene, measured: Measured, *, only_given: bool) -> list[Problem]:
    """Return the limits that it breaks; beside other faults, those between what was all given."""
    broken, assumed = list(broken_limits(scene)), {each.key for each in scene.assumed}
    bases = {_base(each.key) for each in broken}
    found: dict[Problem, None] = {}
    told: set[str] = set()
    for each in broken:
        key, value = _as_typed(each, measured)
        known = [_base(key), *each.others]
        if only_given and not all(measured.is_given(other) for other in known):
            continue
        is_source_told = each.follows in told or each.follows in bases & measured.typed.keys()
        if key not in measured.typed and is_source_told:
            continue
        told.add(_base(key))
        usual = next((other for other in each.others if other in assumed), "")
        hint = each.hint or (f"{usual} was taken as usual: give it" if usual else "")
        expected = f"must be {each.expected}"
        problem = Problem(key=measured.label(key), value=value, expected=expected, hint=hint)
        found[problem] = None
    return list(found)


def _base(key: str) -> str:
    return key.split("[")[0]


def _as_typed(broken: Broken, measured: Measured) -> tuple[str, str]:
    """Return a broken limit's key as the scene has it, with no place where all have one value."""
    key = broken.key
    base = _base(key)
    for used in (key, base, base.rpartition(".")[0]):
        if used in measured.typed and used not in measured.tables:
            return used, measured.typed[used]
    if base in measured.tables:
        return base, broken.value
    return base, f"{broken.value}, taken as usual"
