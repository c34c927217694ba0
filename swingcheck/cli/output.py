"""Files that a command writes: whole, or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkstemp

import click

OUTPUT = "'-o' / '--output'"


@contextmanager
def whole_file(output: Path) -> Iterator[Path]:
    """Yield a scratch path beside ``output``, and put it in its place when all went well.

    What goes wrong inside the block, Ctrl-C too, leaves ``output`` as it was
    and no scratch file.

    Raises
    ------
    click.BadParameter
        Where the file cannot be written; says why.
    """
    scratch: Path | None = None
    try:
        handle, name = mkstemp(prefix=f".{output.stem}-", suffix=output.suffix, dir=output.parent)
        os.close(handle)
        scratch = Path(name)
        yield scratch
        scratch.chmod(0o666 & ~_umask())
        scratch.replace(output)
    except OSError as error:
        reason = error.strerror or str(error)
        raise click.BadParameter(
            f"cannot write {str(output)!r}: {reason}", param_hint=OUTPUT
        ) from error
    finally:
        if scratch is not None:
            scratch.unlink(missing_ok=True)


def suffix_of(output: Path, suffixes: tuple[str, ...]) -> str:
    """Return the file's suffix in lower case.

    Raises
    ------
    click.BadParameter
        Where it is none of ``suffixes``.
    """
    suffix = output.suffix.lower()
    if suffix not in suffixes:
        *most, last = suffixes
        expected = f"{', '.join(most)} or {last}" if most else last
        raise click.BadParameter(f"{str(output)!r} must end in {expected}.", param_hint=OUTPUT)
    return suffix


def _umask() -> int:
    """Return the umask, which can only be read by setting it."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
