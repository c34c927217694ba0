"""A file that is written whole or not at all: the one way in which anything is written.

And the tables of facts that come with a package, which are read.
"""

from __future__ import annotations

import csv
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import files
from pathlib import Path
from stat import S_IMODE
from tempfile import mkstemp

from swingcheck.errors import FileError


def table_rows(package: str, table: str) -> tuple[dict[str, str], ...]:
    """Return the rows of a table of facts among a package's assets, by its columns."""
    text = (files(package) / "assets" / f"{table}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@contextmanager
def whole_file(output: Path) -> Iterator[Path]:
    """Yield a scratch path of the same suffix, and put it in ``output``'s place when all went well.

    What goes wrong inside the block, Ctrl-C too, leaves ``output`` as it was and no
    scratch file. A link is written through, and what is no plain file, such as a
    pipe, is written to. Raises FileError where the file cannot be written, and why.
    """
    scratch: Path | None = None
    try:
        target = Path(os.path.realpath(output))
        plain = target.is_file() or not target.exists()
        # A short name of its own: the file's may be as long as a name can be.
        folder = target.parent if plain else None
        handle, name = mkstemp(prefix=".", suffix=output.suffix, dir=folder)
        os.close(handle)
        scratch = Path(name)
        yield scratch
        if plain:
            _in_place(scratch, target)
        else:
            with scratch.open("rb") as found, target.open("wb") as out:
                shutil.copyfileobj(found, out)
    except OSError as error:
        raise FileError.of(output, error) from error
    finally:
        if scratch is not None:
            scratch.unlink(missing_ok=True)


def write_whole(output: Path, content: bytes | str) -> None:
    """Write a file whole, text as UTF-8, or leave it as it was; see :func:`whole_file`."""
    with whole_file(output) as scratch:
        scratch.write_bytes(content.encode() if isinstance(content, str) else content)


def write_beside(folder: Path, stem: str, suffix: str, content: str) -> Path:
    """Write a file whole under the first free name, ``stem``, ``stem-2`` ..., and return it.

    Raises FileError where it cannot be written, and why.
    """
    count = 1
    while True:
        file = folder / f"{stem}{'' if count == 1 else f'-{count}'}{suffix}"
        try:
            os.close(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666))
            break
        except FileExistsError:
            count += 1
        except OSError as error:
            raise FileError.of(file, error) from error
    try:
        write_whole(file, content)
    except BaseException:
        file.unlink(missing_ok=True)
        raise
    return file


def _in_place(scratch: Path, target: Path) -> None:
    """Put a scratch file in a file's place once it is on the disk, with the rights it had."""
    with scratch.open("r+b") as found:
        os.fsync(found.fileno())
    scratch.chmod(S_IMODE(target.stat().st_mode) if target.exists() else 0o666 & ~_umask())
    scratch.replace(target)


def _umask() -> int:
    """Return the umask, which can only be read by setting it."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
