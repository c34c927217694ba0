"""Hundreds of damaged scene files, each from a seed: every one is told, none breaks the program.

A damaged file must never raise anything but a scene's own error; where what was
damaged is known, the message must name its key or its line.
"""

from __future__ import annotations

import random
import re
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from swingcheck.errors import SceneError
from swingcheck.scenefile import read_scene
from swingcheck.scenefile.starter import starter_scene
from tests.commands import refused, run, started

_STARTER = starter_scene({"opening.width": "30 1/8", "opening.height": "80 1/2"})
WHOLE = re.sub(r"^#(?=\[|[a-z_]+ *=)", "", _STARTER, flags=re.MULTILINE)
WHOLE = re.sub(r" *(#.*)?\n", "\n", re.sub(r" +=", " =", WHOLE))
WHOLE = re.sub(r"\n+", "\n", WHOLE).lstrip()
"""A starter scene with every line of it filled in, without its comments."""

LINE = re.compile(r"(?P<name>[a-z_.]+) = (?P<value>.+)")
WRONG = """
true | {} | { a = 1 } | [{}] | [[1, 2], [3, 4]] | "by eye" | "" | "6-8" | "3,5" | "1/0" | nan | -inf
1e308 | -5000 | 1979-05-27T07:32:00Z | "\\u0000\\u202e"
"""
"""Values of the wrong type or size for any key but a text's, parted by bars and lines."""
WRONG = [value for line in WRONG.split("\n")[1:-1] for value in line.split(" | ")]
WRONG += ["9" * 400, "[" + "1, " * 200 + "]", '"' + "x" * 500 + '"']
TEXTS = ("title", "material", "construction", "name")
FINE_AS_TEXT = ('"by eye"', '"6-8"', '"3,5"', '"1/0"')
NOT_TOML = [
    "30 1/8",
    "1/8",
    '29 7/8"',
    '"29 7/8""',
    "'6' 8'",
    "\u201c30\u201d",
    "",
    "=",
    "0x",
    "[1, 2",
]


def keys() -> Iterator[tuple[int, str, str]]:
    """Yield line number, dotted key and name of every key of the whole scene."""
    table = ""
    for number, line in enumerate(WHOLE.splitlines()):
        if head := re.fullmatch(r"\[+([a-z_.]+)\]+", line):
            table = f"{head[1]}."
        elif found := LINE.fullmatch(line):
            yield number, table + found["name"], found["name"]


def with_line(number: int, line: str) -> str:
    """Return the whole scene with one line changed."""
    lines = WHOLE.splitlines()
    lines[number] = line
    return "\n".join(lines) + "\n"


def misspelled(name: str, chance: random.Random) -> str:
    """Return a name with one letter of its last part left out, doubled, changed or swapped."""
    place = chance.randrange(name.rfind(".") + 1, len(name))
    letter = name[place]
    slips = (
        name[:place] + name[place + 1 :],
        name[:place] + letter + name[place:],
        name[:place] + ("q" if letter != "q" else "z") + name[place + 1 :],
        name[:place] + name[place + 1 : place + 2] + letter + name[place + 2 :],
    )
    found = chance.choice(slips)
    return found if found not in ("", name) and not found.endswith(".") else f"{name}q"


@cache
def with_bad_keys() -> tuple[tuple[str, str], ...]:
    """Return scenes with one key misspelled, and the misspelled name."""
    chance = random.Random(1)
    found = []
    for number, key, name in keys():
        wrong = misspelled(name, chance)
        if re.search(rf"^\[*{key.rpartition('.')[0]}\.?{wrong}\b", WHOLE, re.MULTILINE):
            continue
        value = WHOLE.splitlines()[number].partition(" = ")[2]
        found.append((with_line(number, f"{wrong} = {value}"), wrong))
    return tuple(found)


@cache
def with_bad_values() -> tuple[tuple[str, str], ...]:
    """Return scenes with one value of the wrong type or size, and its key."""
    chance = random.Random(2)
    return tuple(
        (with_line(number, f"{name} = {wrong}"), key)
        for number, key, name in keys()
        for wrong in chance.sample(WRONG, 2)
        if not (name in TEXTS and wrong in FINE_AS_TEXT)
        and not (wrong == "true" and key.startswith("site."))
    )


@cache
def with_bad_lines() -> tuple[tuple[str, int], ...]:
    """Return scenes with one line that is not TOML, and its number."""
    chance = random.Random(3)
    return tuple(
        (with_line(number, f"{name} = {chance.choice(NOT_TOML)}"), number + 1)
        for number, _, name in keys()
    )


@cache
def scrambled() -> tuple[bytes, ...]:
    """Return scenes cut short, with bytes changed, lines shuffled, and plain noise."""
    chance = random.Random(4)
    data, lines = WHOLE.encode(), WHOLE.splitlines()
    found = [data[:cut] for cut in range(0, len(data), 151)]
    for _ in range(30):
        changed = bytearray(data)
        for _ in range(chance.randrange(1, 12)):
            changed[chance.randrange(len(changed))] = chance.randrange(256)
        found.append(bytes(changed))
    marks = "[]{}=\"'#.,\n 0123456789abe-+_\\"
    for _ in range(12):
        chance.shuffle(lines)
        found += ["\n".join(lines).encode(), "".join(chance.choices(marks, k=200)).encode()]
    found += [chance.randbytes(size) for size in (0, 1, 2, 3, 10, 100, 1_000, 10_000)]
    return tuple(found)


def faults(text: str) -> SceneError:
    """Return what is said of a text; fail where it is read."""
    with pytest.raises(SceneError) as caught:
        read_scene(text, name="closet.toml")
    return caught.value


def test_the_whole_scene_is_sound_and_there_are_hundreds_of_damaged_ones() -> None:
    assert len(list(keys())) > 60
    assert read_scene(WHOLE).title == "starter scene"
    counts = [len(each()) for each in (with_bad_keys, with_bad_values, with_bad_lines, scrambled)]
    assert min(counts) > 50 and sum(counts) > 300


def test_wrong_keys_values_and_lines_are_told_by_name_and_number() -> None:
    hinted = 0
    for text, wrong in with_bad_keys():
        error = faults(text)
        named = [each for each in error.problems if each.key.endswith(wrong)]
        assert named, f"{wrong}: {error}"
        assert "no key" in named[0].expected
        hinted += "did you mean" in named[0].hint
    assert hinted >= 0.9 * len(with_bad_keys())
    for text, key in with_bad_values():
        error = faults(text)
        bare = [re.sub(r"\[[0-9]+\]", "", each.key) for each in error.problems]
        assert any(f"{own}.".startswith(f"{key}.") for own in bare), f"{key}: {error}"
        assert all(len(str(each)) < 400 for each in error.problems)
    for text, number in with_bad_lines():
        message = str(faults(text))
        near = rf"line ({number}|{number + 1}),|end of the file"
        assert re.search(near, message), f"line {number}: {message}"


def test_scrambled_files_are_read_or_told(tmp_path: Path) -> None:
    path = tmp_path / "closet.toml"
    told = 0
    for data in scrambled():
        path.write_bytes(data)
        try:
            read_scene(path)
        except SceneError as error:
            told += 1
            assert error.problems
            assert all(each.expected for each in error.problems)
            assert str(error).isprintable() or "\n" in str(error)
    assert told > 0.8 * len(scrambled())


def cases() -> Iterator[bytes]:
    """Yield damaged files of every kind for the command line."""
    chance = random.Random(5)
    for damaged, count in ((with_bad_keys, 4), (with_bad_values, 6), (with_bad_lines, 4)):
        yield from (text.encode() for text, _ in chance.sample(damaged(), count))
    yield from (b"", WHOLE.encode("utf-16"), WHOLE.encode("latin-1") + b"# f\xe9es\n")
    yield from (bytes(range(256)) * 10, WHOLE.encode()[: WHOLE.index("80 1/2")])
    yield from (b"x = " + b"[" * 1_900, b"x = [\n" + b"[\n" * 50_000)
    yield from (b"width = " + b"9" * 4_000 + b"\n", (b"# " + b"x" * 98 + b"\n") * 105_000)
    yield WHOLE.replace("30 1/8", "20").encode()
    yield WHOLE.replace('"5/8"', '"3"').encode()


def test_the_command_line_tells_each_and_exits_with_2(tmp_path: Path) -> None:
    paths = [tmp_path / "folder.toml", tmp_path / "missing.toml"]
    paths[0].mkdir()
    for number, each in enumerate(cases()):
        paths.append(tmp_path / f"closet_{number}.toml")
        paths[-1].write_bytes(each)
    for path in paths:
        shown = run("check", path)
        refused(shown, path.name)
        assert len(shown.stderr) < 20_000


@pytest.mark.parametrize(
    "setting", ["slab.setback=5/16", "slab.width=wide", "hinge.slab.setback[9]=1", "slab=3"]
)
def test_bad_settings_are_told(setting: str) -> None:
    shown = run("check", "-", "--set", setting, text=WHOLE)
    refused(shown, f"--set {setting.partition('=')[0]}")


@pytest.mark.parametrize("data", [b"\x00\x01", b"\xff\xfe["])
def test_a_damaged_scene_at_standard_input_is_told(data: bytes) -> None:
    process = started("check", "-", stdin=subprocess.PIPE)
    _, errors = process.communicate(data, timeout=60)
    assert process.returncode == 2
    assert b"standard input" in errors and b"Traceback" not in errors
