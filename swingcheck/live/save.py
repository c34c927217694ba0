"""A scene file with its dialled values in it, its comments kept."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from swingcheck.scenefile import typed_value


def dialled_text(text: str, settings: Sequence[tuple[str, str]]) -> str:
    r"""Return a scene's TOML text with settings written into it.

    Parameters
    ----------
    text : str
        The scene file.
    settings : sequence of (key, value)
        As typed; keys without a place in a list.

    Examples
    --------
    >>> dialled_text('[slab]\nwidth = "30"  # read twice\n', [("slab.width", "29 7/8")])
    '[slab]\nwidth = "29 7/8"  # read twice\n'
    """
    import tomlkit

    document = tomlkit.parse(text)
    for key, value in settings:
        *path, last = key.split(".")
        table: Any = document
        for name in path:
            table = _table_in(table, name)
        table[last] = typed_value(value)
    return tomlkit.dumps(document)


def _table_in(table: Any, name: str) -> Any:
    """Return a table's own table of that name, put there in place of nothing or of a word."""
    import tomlkit

    found = table.get(name)
    if not isinstance(found, dict):
        inline = isinstance(found, str) or isinstance(table, tomlkit.items.InlineTable)
        table[name] = tomlkit.inline_table() if inline else tomlkit.table()
    return table[name]
