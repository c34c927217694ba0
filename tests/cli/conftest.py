"""Scenes and schedules in files, for every command."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import CLOSET, JOB


@pytest.fixture
def closet(tmp_path: Path) -> str:
    """Return the file of the closet that swings."""
    path = tmp_path / "closet.toml"
    path.write_text(CLOSET, encoding="utf-8")
    return str(path)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Return the file of the schedule of two doors."""
    path = tmp_path / "small_job.csv"
    path.write_text(JOB, encoding="utf-8")
    return path
