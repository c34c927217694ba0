"""``swingcheck house`` from the outside: what it prints, keeps, resumes and refuses."""

from __future__ import annotations

import json
import os
import pty
import re
import signal
import subprocess
import time
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from swingcheck.advice.answer import Answer, answered
from swingcheck.errors import GeometryError
from swingcheck.job.answer import RESULTS
from swingcheck.model import Scene
from tests.commands import CLOSET, JOB, data, flat, gone, refused, run, started
from tests.scene_files import SCENES

FORTY = SCENES / "house_of_forty.csv"
CLOSET_ALONE, PANTRY = JOB.rsplit("\n", 2)[0] + "\n", JOB.splitlines()[-1]


def house(*args: object) -> Result:
    return run("house", *args)


def lines_of(folder: Path) -> list[Any]:
    """Return the whole lines of results that a folder holds."""
    path = folder / RESULTS
    text = path.read_text(encoding="utf-8") if path.exists() else ""
    return [json.loads(line) for line in text.splitlines(keepends=True) if line.endswith("\n")]


def test_a_job_of_a_file_or_standard_input_exits_1_where_one_does_not_swing(job: Path) -> None:
    shown = run("house", "-", "--json", text=CLOSET_ALONE)
    assert shown.exit_code == 0
    assert json.loads(shown.stdout)["swing"] == ["Closet"]
    shown = house(job)
    assert shown.exit_code == 1, shown.output
    words = flat(shown)
    assert words.startswith("small job: 2 doors: 1 good, 1 bad")
    assert "Pantry (row 3)" in words and "First cure" in words
    assert "To order" in words and "Jig 1" in words
    assert shown.stderr == ""
    cured = ("--set", "hinge.jamb.setback=5/16", "--set", "hinge.slab.setback=1/4")
    shown = house(job, *cured, "--unit", "mm")
    assert shown.exit_code == 0 and "Cut list, mm" in shown.stdout


def test_a_bad_schedule_is_refused_with_every_fault_by_row_and_column(tmp_path: Path) -> None:
    path = tmp_path / "job.csv"
    path.write_text(JOB.splitlines()[0] + "\nA,wide,80,,,\nB,30,80,8-Mar,,\n", encoding="utf-8")
    shown = house(path, "-o", tmp_path / "out")
    refused(shown, 'row 2 (A), opening width = "wide"', 'row 3 (B), slab width = "8-Mar": a date')
    assert not (tmp_path / "out").exists()
    refused(house(), "SCHEDULE")


def test_an_opening_that_cannot_be_built_exits_2_after_the_rest_is_done(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refusing(scene: Scene) -> Answer:
        if scene.title == "Pantry":
            raise GeometryError("slab", "nothing is left of it")
        return answered(scene)

    monkeypatch.setattr("swingcheck.job.answer.answered", refusing)
    shown = house(job)
    assert shown.exit_code == 2
    assert shown.stdout.startswith("small job: 2 doors: 1 good, 1 cannot be worked out")
    assert "Pantry (row 3): slab: nothing is left of it" in flat(shown)
    found = data("house", job)
    assert [each["name"] for each in found["refused"]] == ["Pantry"]
    assert found["swing"] == ["Closet"]


def test_a_folder_of_scenes_is_a_job_and_the_template_a_schedule(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(CLOSET.replace("Linen closet", "a"), encoding="utf-8")
    servery = 'title = "b"\nstop = "none"\n[opening]\nwidth = 30\nheight = 80\n[pivot]\n'
    (tmp_path / "b.toml").write_text(servery, encoding="utf-8")
    shown = house(tmp_path, "--json")
    found = json.loads(shown.stdout)
    assert [each["name"] for each in found["uncut"]] == ["b"]
    assert [each["where"] for each in found["doors"]] == ["a.toml"]
    assert sorted(found["swing"]) == ["a", "b"] and shown.exit_code == 1
    assert (found["good"], found["tight"]) == (["a"], ["b"])
    path = tmp_path / "new.csv"
    assert house("--template", path).exit_code == 0
    before = path.read_bytes()
    assert b"opening width" in before
    refused(house("--template", path), "is there already")
    assert path.read_bytes() == before
    assert house("--template", "-").stdout_bytes == before
    with path.open("a", encoding="utf-8", newline="") as file:
        file.write("Hall,left,30 1/8,80 1/2\r\n")
    assert data("house", path)["swing"] == ["Hall"]


def test_results_are_kept_and_a_changed_opening_alone_is_worked_out_again(
    job: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    first = house(job, "-o", out)
    names = sorted(path.name for path in out.iterdir())
    assert names == ["house.json", "results.jsonl", "summary.txt"]
    kept = (out / RESULTS).read_bytes()
    assert first.stdout == (out / "summary.txt").read_text(encoding="utf-8")
    again = house(job, "-o", out)
    assert again.stdout == first.stdout and again.exit_code == first.exit_code
    assert again.stderr == "2 of 2 doors were checked before\n"
    assert (out / RESULTS).read_bytes() == kept
    job.write_text(CLOSET_ALONE + PANTRY.replace("5/16", "9/32"), encoding="utf-8")
    again = house(job, "-o", out)
    assert again.stderr == "1 of 2 doors were checked before\n"
    assert len(lines_of(out)) == 3
    assert again.exit_code == 1 and again.stdout == house(job).stdout != first.stdout


def test_damaged_results_are_worked_out_again_and_a_folder_that_cannot_be_written_is_told(
    job: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    whole = house(job, "-o", out).stdout
    lines = (out / RESULTS).read_bytes().splitlines(keepends=True)
    broken = lines[0].replace(b'"margins"', b'"margin_"')
    (out / RESULTS).write_bytes(broken + lines[1][:-40])
    again = house(job, "-o", out)
    assert again.stdout == whole
    assert "1 line of" in again.stderr and "checked again" in again.stderr
    assert house(job, "-o", out).stderr.startswith("2 of 2")
    (tmp_path / "taken").write_text("a file", encoding="utf-8")
    refused(house(job, "-o", tmp_path / "taken"), "taken")


# In processes of their own


def wait_for_lines(run: subprocess.Popen[bytes], folder: Path, count: int) -> None:
    """Return once a folder holds so many results and the run still goes on."""
    end = time.monotonic() + 60
    while len(lines_of(folder)) < count:
        assert run.poll() is None, "it was done before it could be stopped"
        assert time.monotonic() < end
        time.sleep(0.005)


def children(pid: int) -> list[int]:
    found = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="utf-8")
    return [int(child) for child in found.split()]


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder that the house of forty was checked into, without a stop."""
    out = tmp_path_factory.mktemp("house")
    whole = started("house", FORTY, "-o", out, "--json")
    printed, _ = whole.communicate(timeout=120)
    assert whole.returncode == 1
    assert printed == (out / "house.json").read_bytes()
    assert len(lines_of(out)) == 40
    return out


def test_the_house_of_forty_and_its_forty_cards(kept: Path, tmp_path: Path) -> None:
    found = json.loads((kept / "house.json").read_bytes())
    assert len(found["doors"]) == 40
    assert found["do_not"] == ["G11 Scullery", "G12 Back door", "G13 Cellar stair"]
    verdicts = {each["name"]: each["check"]["verdict"] for each in found["doors"]}
    assert verdicts["G12 Back door"] == "strikes"
    assert verdicts["G13 Cellar stair"] == "hinge-bound"
    out = tmp_path / "cards.pdf"
    shown = run("card", FORTY, "-o", out, "--no-pictures", "--house", kept)
    assert shown.exit_code == 1, shown.output
    assert shown.stderr == "40 of 40 doors were checked before\n"
    assert len(re.findall(rb"/Type /Page\b", out.read_bytes())) == 40


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="finds processes in /proc")
def test_killed_in_the_middle_and_resumed_it_says_the_same(kept: Path, tmp_path: Path) -> None:
    cut_off = started("house", FORTY, "-o", tmp_path, "-j", "2", start_new_session=True)
    wait_for_lines(cut_off, tmp_path, 3)
    workers = children(cut_off.pid)
    cut_off.send_signal(signal.SIGKILL)
    cut_off.communicate(timeout=10)
    assert cut_off.returncode == -signal.SIGKILL
    found = lines_of(tmp_path)
    assert 3 <= len(found) < 40
    assert [path.name for path in tmp_path.iterdir()] == [RESULTS]
    end = time.monotonic() + 10
    while not all(map(gone, workers)):
        assert time.monotonic() < end, "its processes outlive it"
        time.sleep(0.05)

    # The rest of the whole run's lines, but for three that are left for it to check.
    have, written = {line["key"] for line in found}, (tmp_path / RESULTS).read_bytes()
    more = [line for line in lines_of(kept) if line["key"] not in have][:-3]
    whole = written.rfind(b"\n") + 1  # what is after it was cut off
    added = "".join(json.dumps(line) + "\n" for line in more).encode()
    (tmp_path / RESULTS).write_bytes(written[:whole] + added + written[whole:])
    resumed = run("house", FORTY, "-o", tmp_path, "--json")
    assert resumed.stdout_bytes == (kept / "house.json").read_bytes() and resumed.exit_code == 1
    assert resumed.stderr.splitlines()[0] == "37 of 40 doors were checked before"
    lines = lines_of(tmp_path)
    assert lines[: len(found)] == found
    assert len({line["key"] for line in lines}) == len(lines) == 40


def test_ctrl_c_keeps_what_was_found_and_shows_no_traceback(tmp_path: Path) -> None:
    stopped = started("house", FORTY, "-o", tmp_path, "--json", "-j", "2", start_new_session=True)
    wait_for_lines(stopped, tmp_path, 3)
    os.killpg(stopped.pid, signal.SIGINT)
    printed, said = stopped.communicate(timeout=30)
    assert stopped.returncode == 130 and printed == b""
    words = said.decode()
    assert "of 40 doors are kept" in words and "Traceback" not in words
    assert not (tmp_path / "house.json").exists()
    assert 3 <= len(lines_of(tmp_path)) < 40


def test_a_bar_goes_along_on_a_terminal_alone(job: Path) -> None:
    ours, theirs = pty.openpty()
    watched = started("house", job, stderr=theirs)
    os.close(theirs)
    printed, _ = watched.communicate(timeout=60)
    shown = os.read(ours, 65536)
    os.close(ours)
    assert watched.returncode == 1
    assert b"2/2" in shown and b"Doors" in shown
    assert b"Doors" not in printed.replace(b"2 doors", b"")
