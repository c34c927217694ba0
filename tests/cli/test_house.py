"""``swingcheck house`` from the outside: what it prints, keeps, resumes and refuses."""

from __future__ import annotations

import json
import os
import pty
import re
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swingcheck.advice.answer import Answer, answered
from swingcheck.cli import main
from swingcheck.errors import GeometryError
from swingcheck.job.answer import RESULTS
from swingcheck.model import Scene

FORTY = Path(__file__).parents[2] / "scenes" / "house_of_forty.csv"

HEADER = "door,opening width,opening height,slab width,jamb setback,slab setback\n"
GOOD = "Closet,30 1/8,80 1/2,29 7/8,5/16,1/4\n"
BAD = "Pantry,30 1/8,80 1/2,29 7/8,1/4,5/16\n"


def run(*args: str, text: str | None = None) -> Result:
    return CliRunner().invoke(main, ["house", *args], input=text)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Return a schedule of one door that swings and one that does not."""
    path = tmp_path / "small_job.csv"
    path.write_text(HEADER + GOOD + BAD, encoding="utf-8")
    return path


def lines_of(folder: Path) -> list[Any]:
    """Return the whole lines of results that a folder holds."""
    path = folder / RESULTS
    text = path.read_text(encoding="utf-8") if path.exists() else ""
    return [json.loads(line) for line in text.splitlines(keepends=True) if line.endswith("\n")]


def test_a_job_is_summed_up_and_exits_1_where_one_does_not_swing(job: Path) -> None:
    shown = run(str(job))
    assert shown.exit_code == 1, shown.output
    flat = " ".join(shown.stdout.split())
    assert flat.startswith("small job: 2 doors: 1 swings, 1 does not")
    assert "Pantry (row 3)" in flat and "First cure" in flat
    assert "To order" in flat and "Jig 1" in flat
    assert shown.stderr == ""


def test_a_job_that_all_swings_exits_0(tmp_path: Path) -> None:
    path = tmp_path / "job.csv"
    path.write_text(HEADER + GOOD, encoding="utf-8")
    assert run(str(path)).exit_code == 0


def test_a_bad_schedule_exits_2_with_every_fault_by_row_and_column(tmp_path: Path) -> None:
    path = tmp_path / "job.csv"
    path.write_text(HEADER + "A,wide,80,,,\nB,30,80,8-Mar,,\n", encoding="utf-8")
    shown = run(str(path), "-o", str(tmp_path / "out"))
    assert shown.exit_code == 2 and shown.stdout == ""
    assert 'row 2 (A), opening width = "wide"' in shown.stderr
    assert 'row 3 (B), slab width = "8-Mar": a date' in shown.stderr
    assert not (tmp_path / "out").exists()


def test_an_opening_that_cannot_be_built_exits_2_after_the_rest_is_done(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refusing(scene: Scene) -> Answer:
        if scene.title == "Pantry":
            raise GeometryError("slab", "nothing is left of it")
        return answered(scene)

    monkeypatch.setattr("swingcheck.job.answer.answered", refusing)
    shown = run(str(job))
    assert shown.exit_code == 2
    assert shown.stdout.startswith("small job: 2 doors: 1 swings, 1 cannot be worked out")
    assert "Pantry (row 3): slab: nothing is left of it" in " ".join(shown.stdout.split())
    found = json.loads(run(str(job), "--json").stdout)
    assert [each["name"] for each in found["refused"]] == ["Pantry"]
    assert found["swing"] == ["Closet"]


def test_a_slab_on_pivots_is_checked_and_said_to_have_no_cut_list(tmp_path: Path) -> None:
    for name, text in (("a", ""), ("b", 'stop = "none"\n'), ("c", "")):
        pivot = "[pivot]\n" if name == "b" else ""
        body = f'title = "{name}"\n{text}[opening]\nwidth = "30"\nheight = "80"\n{pivot}'
        (tmp_path / f"{name}.toml").write_text(body, encoding="utf-8")
    shown = run(str(tmp_path), "--json")
    found = json.loads(shown.stdout)
    assert [each["name"] for each in found["uncut"]] == ["b"]
    assert [each["name"] for each in found["doors"]] == ["a", "c"]
    assert sorted(found["swing"]) == ["a", "b", "c"] and shown.exit_code == 0


def test_a_schedule_comes_from_standard_input() -> None:
    shown = run("-", "--json", text=HEADER + GOOD)
    assert shown.exit_code == 0
    assert json.loads(shown.stdout)["swing"] == ["Closet"]


def test_a_folder_of_scenes_is_a_job(tmp_path: Path) -> None:
    for name in ("east", "west"):
        text = f'title = "{name}"\n[opening]\nwidth = "30"\nheight = "80"\n'
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    found = json.loads(run(str(tmp_path), "--json").stdout)
    assert [each["where"] for each in found["doors"]] == ["east.toml", "west.toml"]


def test_settings_and_units(job: Path) -> None:
    cured = ("--set", "hinge.jamb.setback=5/16", "--set", "hinge.slab.setback=1/4")
    shown = run(str(job), *cured, "--unit", "mm")
    assert shown.exit_code == 0
    assert "Cut list, mm" in shown.stdout


def test_the_template_is_written_once_and_is_a_schedule(tmp_path: Path) -> None:
    path = tmp_path / "new.csv"
    assert run("--template", str(path)).exit_code == 0
    before = path.read_bytes()
    assert b"opening width" in before
    again = run("--template", str(path))
    assert again.exit_code == 2 and "is there already" in again.output
    assert path.read_bytes() == before
    assert run("--template", "-").stdout_bytes == before
    with path.open("a", encoding="utf-8", newline="") as file:
        file.write("Hall,left,30 1/8,80 1/2\r\n")
    assert json.loads(run(str(path), "--json").stdout)["swing"] == ["Hall"]


def test_nothing_to_do_is_bad_input() -> None:
    shown = run()
    assert shown.exit_code == 2 and "SCHEDULE" in shown.output


def test_results_are_kept_and_not_worked_out_again(job: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    first = run(str(job), "-o", str(out))
    names = sorted(path.name for path in out.iterdir())
    assert names == ["house.json", "results.jsonl", "summary.txt"]
    kept = (out / RESULTS).read_bytes()
    assert first.stdout == (out / "summary.txt").read_text(encoding="utf-8")
    again = run(str(job), "-o", str(out))
    assert again.stdout == first.stdout and again.exit_code == first.exit_code
    assert again.stderr == "2 of 2 doors were checked before\n"
    assert (out / RESULTS).read_bytes() == kept


def test_a_changed_opening_alone_is_worked_out_again(job: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(str(job), "-o", str(out))
    job.write_text(HEADER + GOOD + BAD.replace("5/16", "9/32"), encoding="utf-8")
    again = run(str(job), "-o", str(out))
    assert again.stderr == "1 of 2 doors were checked before\n"
    assert len(lines_of(out)) == 3
    assert again.exit_code == 1 and again.stdout == run(str(job)).stdout


def test_damaged_results_are_told_and_worked_out_again(job: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    whole = run(str(job), "-o", str(out)).stdout
    lines = (out / RESULTS).read_bytes().splitlines(keepends=True)
    broken = lines[0].replace(b'"margins"', b'"margin_"')
    (out / RESULTS).write_bytes(broken + lines[1][:-40])
    again = run(str(job), "-o", str(out))
    assert again.stdout == whole
    assert "1 line of" in again.stderr and "checked again" in again.stderr
    assert run(str(job), "-o", str(out)).stderr.startswith("2 of 2")


def test_a_folder_that_cannot_be_written_is_told(job: Path, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file", encoding="utf-8")
    shown = run(str(job), "-o", str(tmp_path / "out"))
    assert shown.exit_code == 2 and "out" in shown.stderr
    assert "Traceback" not in shown.output


# In processes of their own


def started(*args: str, **options: Any) -> subprocess.Popen[bytes]:
    """Start swingcheck house in a process and a group of its own."""
    return subprocess.Popen(
        [sys.executable, "-m", "swingcheck", "house", *args],
        stdout=subprocess.PIPE,
        stderr=options.pop("stderr", subprocess.PIPE),
        start_new_session=True,
        **options,
    )


def wait_for_lines(run: subprocess.Popen[bytes], folder: Path, count: int) -> None:
    """Return once a folder holds so many results and the run still goes on."""
    end = time.monotonic() + 60
    while len(lines_of(folder)) < count:
        assert run.poll() is None, "it was done before it could be stopped"
        assert time.monotonic() < end
        time.sleep(0.005)


def is_running(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


def children(pid: int) -> list[int]:
    found = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="utf-8")
    return [int(child) for child in found.split()]


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder that the house of forty was checked into, without a stop."""
    out = tmp_path_factory.mktemp("house")
    run = started(str(FORTY), "-o", str(out), "--json")
    printed, _ = run.communicate(timeout=120)
    assert run.returncode == 1
    assert printed == (out / "house.json").read_bytes()
    assert len(lines_of(out)) == 40
    return out


@pytest.fixture
def whole(kept: Path) -> bytes:
    """Return the data of the house of forty."""
    return (kept / "house.json").read_bytes()


def test_the_house_of_forty(whole: bytes) -> None:
    found = json.loads(whole)
    assert len(found["doors"]) == 40
    assert found["do_not"] == ["G11 Scullery", "G12 Back door", "G13 Cellar stair"]
    verdicts = {each["name"]: each["check"]["verdict"] for each in found["doors"]}
    assert verdicts["G12 Back door"] == "strikes"
    assert verdicts["G13 Cellar stair"] == "hinge-bound"


def test_the_house_of_forty_has_forty_cards(kept: Path, tmp_path: Path) -> None:
    out = tmp_path / "cards.pdf"
    shown = CliRunner().invoke(
        main, ["card", str(FORTY), "-o", str(out), "--no-pictures", "--house", str(kept)]
    )
    assert shown.exit_code == 0, shown.output
    assert shown.stderr == "40 of 40 doors were checked before\n"
    assert len(re.findall(rb"/Type /Page\b", out.read_bytes())) == 40


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="finds processes in /proc")
def test_killed_in_the_middle_and_resumed_it_says_the_same(whole: bytes, tmp_path: Path) -> None:
    cut_off = started(str(FORTY), "-o", str(tmp_path), "--json", "-j", "2")
    wait_for_lines(cut_off, tmp_path, 5)
    workers = children(cut_off.pid)
    cut_off.send_signal(signal.SIGKILL)
    assert cut_off.wait(timeout=10) == -signal.SIGKILL
    kept = lines_of(tmp_path)
    assert 5 <= len(kept) < 40
    assert [path.name for path in tmp_path.iterdir()] == [RESULTS]
    end = time.monotonic() + 10
    while any(map(is_running, workers)):
        assert time.monotonic() < end, "its processes outlive it"
        time.sleep(0.05)

    resumed = started(str(FORTY), "-o", str(tmp_path), "--json")
    printed, said = resumed.communicate(timeout=120)
    assert printed == whole and resumed.returncode == 1
    assert said.decode().splitlines()[0] == f"{len(kept)} of 40 doors were checked before"
    lines = lines_of(tmp_path)
    assert lines[: len(kept)] == kept
    assert len({line["key"] for line in lines}) == len(lines) == 40


def test_ctrl_c_keeps_what_was_found_and_shows_no_traceback(tmp_path: Path) -> None:
    stopped = started(str(FORTY), "-o", str(tmp_path), "--json", "-j", "2")
    wait_for_lines(stopped, tmp_path, 3)
    os.killpg(stopped.pid, signal.SIGINT)
    printed, said = stopped.communicate(timeout=30)
    assert stopped.returncode == 130 and printed == b""
    words = said.decode()
    assert "of 40 doors are kept" in words and "Traceback" not in words
    assert not (tmp_path / "house.json").exists()
    kept = len(lines_of(tmp_path))
    assert 3 <= kept < 40


def test_a_bar_goes_along_on_a_terminal_alone(job: Path) -> None:
    ours, theirs = pty.openpty()
    watched = started(str(job), stderr=theirs)
    os.close(theirs)
    shown = b""
    while True:
        try:
            piece = os.read(ours, 4096)
        except OSError:
            break
        if not piece:
            break
        shown += piece
    os.close(ours)
    assert watched.wait(timeout=60) == 1
    assert watched.stdout is not None
    printed = watched.stdout.read()
    watched.stdout.close()
    assert b"2/2" in shown and b"Doors" in shown
    assert b"Doors" not in printed.replace(b"2 doors", b"")
