"""From a file, standard input or a text to a TOML tree, or to what is wrong with it."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import Any

from swingcheck.errors import Problem, SceneError

LARGEST = 1_000_000  # bytes; a scene takes a few thousand
_LONGEST_LINE = 2_000  # characters
_MOST_SLIPS = 20  # lines that are not TOML, after which one more helps nobody
_MOST_TO_REREAD = 64_000  # characters, past which only the first slip is told

_PLACE = re.compile(r"(?P<what>.*) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end.*)\)")
_ASSIGNMENT = re.compile(r"\s*(?P<key>[\w.\-]+)\s*=\s*(?P<value>.*?)\s*(?:#.*)?")
_TWICE = "given twice"
_IN_WORDS = {
    "Cannot overwrite a value": _TWICE,
    "Invalid statement": "neither key = value nor [table]",
    "Expected '=' after a key in a key/value pair": "a key is one word, then comes =",
    "Expected newline or end of document after a statement": "more behind the value than it takes",
    "Invalid value": "no value that can be read",
    "Illegal character '\\n'": "the closing quote is missing",
    "Unclosed array": "a list that is not closed with ], or lacks a comma",
    "Unclosed inline table": "a table that is not closed with }, or lacks a comma",
}
_WIDE_TEXTS = {b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}


def scene_text(path: Path) -> str:
    """Return the text of a scene file; ``-`` is standard input.

    Raises SceneError when there is no such file, or it cannot be read as a text.
    """
    name = source_name(path)
    data = source_bytes(path, name, LARGEST)
    if len(data) > LARGEST:
        raise refused(name, "over 1 MB: no scene file")
    if encoding := _WIDE_TEXTS.get(data[:2]):
        raise refused(name, f"saved as {encoding}: a scene is UTF-8", "save it again as UTF-8")
    if b"\0" in data:
        raise refused(name, "not a text: a scene is a TOML text, in UTF-8")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        what = f"line {line}: not UTF-8 (byte {data[error.start]:#04x})"
        raise refused(name, what, "save it again as UTF-8") from None


def source_name(path: Path) -> str:
    """Return what messages call a source."""
    return "standard input" if str(path) == "-" else str(path)


def toml_tree(text: str, name: str) -> tuple[dict[str, Any], list[Problem]]:
    """Return the tree of a TOML text, and every line of it that is not TOML.

    A line that gives one key is left out when it is not TOML, so that one message
    tells all such lines and the faults of the others. Raises SceneError when what
    is left cannot be read at all.
    """
    lines = text.replace("\r\n", "\n").split("\n")
    for number, line in enumerate(lines, start=1):
        if len(line) > _LONGEST_LINE:
            raise refused(name, f"line {number}: over {_LONGEST_LINE} characters long")
    problems: list[Problem] = []
    while True:
        tree, slip, at = _read_once(lines, name)
        if slip is None:
            return tree, problems
        problems.append(slip)
        enough = len(problems) == _MOST_SLIPS or len(text) > _MOST_TO_REREAD
        if enough or not at or not _stands_alone(lines[at - 1], slip):
            raise SceneError(name, problems)
        lines[at - 1] = ""


def _read_once(lines: list[str], name: str) -> tuple[dict[str, Any], Problem | None, int]:
    """Return the tree, or the first slip and the line it is on (0: at the end)."""
    import tomllib

    try:
        return tomllib.loads("\n".join([*lines, ""])), None, 0
    except tomllib.TOMLDecodeError as error:
        found = _PLACE.fullmatch(str(error))
        what = found["what"] if found else str(error)
        what = _IN_WORDS.get(what, _TWICE if what.startswith("Cannot declare") else what)
        if found is None or found["line"] is None:
            return {}, Problem(key="", value="", expected=f"at the end of the file: {what}"), 0
        line = int(found["line"])
        place = f"line {line}, column {found['column']}"
        typed = lines[line - 1]
        shown = "".join(mark if mark.isprintable() else "?" for mark in typed.strip())
        expected = f"{place}: {what}: {shown if len(shown) <= 60 else f'{shown[:57]}...'}"
        hint = "" if what == _TWICE else _hint(typed)
        return {}, Problem(key="", value="", expected=expected, hint=hint), line
    except RecursionError:
        raise refused(name, "lists or tables nested too deep") from None
    except ValueError:
        raise refused(name, "a number of too many digits") from None


def _stands_alone(line: str, slip: Problem) -> bool:
    """Return whether a line can be left out without a change to what the next ones mean."""
    given = _ASSIGNMENT.fullmatch(line)
    return given is not None and ("not closed" not in slip.expected or given["value"][-1:] in "]}")


def _hint(line: str) -> str:
    """Return what a carpenter most likely meant by a line that is not TOML."""
    if any(mark in line for mark in "\u201c\u201d\u2018\u2019"):
        return 'curly quotes: retype them as straight quotes, "'
    given = _ASSIGNMENT.fullmatch(line)
    if given is None or not line.strip().isprintable():
        return ""
    key, value = given["key"], given["value"]
    if re.fullmatch(r'"[^"]*""', value):
        return f'leave the inch mark out: {key} = "{value[1:-2]}"'
    if re.fullmatch(r"'[^']*'[^']*'", value):
        return f"with a foot mark: {key} = '''{value[1:-1]}'''"
    if re.search(r"[\[,=]\s*[0-9-]+[ -][0-9]+/[0-9]+", value):
        return "a length with a fraction stands in quotes"
    if re.match(r"[\w.+-]", value):
        quote = '"' if '"' not in value else "'" if "'" not in value else "'''"
        return f"quotes are missing: {key} = {quote}{value}{quote}"
    return ""


def refused(name: str, expected: str, hint: str = "") -> SceneError:
    """Return the fault of a whole file."""
    return SceneError(name, [Problem(key="", value="", expected=expected, hint=hint)])


def source_bytes(path: Path, name: str, largest: int) -> bytes:
    """Return a source's bytes, at most one more than the largest size; ``-`` is standard input.

    Raises SceneError when there is no such file, or it cannot be read.
    """
    if str(path) == "-" and sys.stdin is None:
        raise refused(name, "it is closed: name a file")
    try:
        if str(path) == "-":
            return sys.stdin.buffer.read(largest + 1)
        with path.open("rb") as file:
            return file.read(largest + 1)
    except FileNotFoundError:
        raise refused(name, "no such file", _likely_file(path)) from None
    except IsADirectoryError:
        raise refused(name, "a folder, not a scene file") from None
    except PermissionError:
        raise refused(name, "no permission to read it") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise refused(name, f"cannot be read: {reason}") from None


def _likely_file(path: Path) -> str:
    """Return a hint at a file of nearly that name beside it, or nothing."""
    from difflib import get_close_matches

    try:
        beside = path.parent.iterdir()
        names = [other.name for other in beside if other.suffix in (".toml", path.suffix)]
    except OSError:
        return ""
    found = get_close_matches(path.name, names, n=1, cutoff=0.6)
    return f"did you mean {path.parent / found[0]}?" if found else ""
