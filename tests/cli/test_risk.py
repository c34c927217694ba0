"""``swingcheck risk``: its first line, its exit codes, its data, and Ctrl-C."""

from __future__ import annotations

import os
import pty
import re
import signal
from pathlib import Path

import pytest

from swingcheck.chance.odds import wilson_interval
from tests.commands import CLOSET, data, refused, run, started

CROSS = '[opening.hinge_leg]\ncross = ["0", "1/32", "1/16"]\n'
"""A frame that a plan does not show."""
TIGHT = ("--set", "hinge.slab.setback=19/64", "--as-cut")


def test_the_first_line_is_the_answer_and_then_what_is_to_blame_and_what_to_set(
    closet: str,
) -> None:
    shown = run("risk", closet, *TIGHT).output
    first = shown.splitlines()[0]
    found = re.fullmatch(r"Linen closet: works in ([\d.]+) of 100 \(([\d.]+) to ([\d.]+)\)", first)
    assert found, first
    chance, low, high = map(float, found.groups())
    assert low <= chance <= high and high - low < 2
    assert "20,000 slabs, in plan (seed 0)" in shown
    assert re.search(r"To blame +off by up to +decides +fails if +works, held to 1/4", shown)
    assert re.search(r"  jamb setback +1/32 in +\d+ % +under +\d+", shown)
    assert "Worst     With every error as great as it can be it pinches at" in shown
    assert "This is enough to stop it: jamb setback 1/32 in under" in " ".join(shown.split())
    assert "Surer     'swingcheck setback' says which mark does best" in shown


def test_it_exits_with_0_only_where_it_works_often_enough_and_the_same_seed_prints_the_same(
    closet: str,
) -> None:
    free = ("--set", "hinge.slab.setback=3/16", "--as-cut")
    for settings, code in ((free, 0), (TIGHT, 1), ((*TIGHT, "--at-least", "50"), 0)):
        assert run("risk", closet, *settings, "--draws", "2000").exit_code == code
    first, again, other = (
        run("risk", closet, *TIGHT, "--draws", "500", "--seed", seed).output for seed in (5, 5, 6)
    )
    assert first == again != other


def test_as_it_will_be_it_swings_as_often_as_its_check_says(closet: str) -> None:
    wide = ("--set", "slab.width=29 7/8", "--set", "slab.construction=stile and rail")
    told = data("check", closet, *wide)["fit"]
    found, as_cut = (data("risk", closet, *wide, *more) for more in ((), ("--as-cut",)))
    low, high = wilson_interval(round(told["chance"] * told["drawn"]), told["drawn"])
    assert 0.5 < low <= found["works"] <= high
    assert found["works"] < as_cut["works"] and not found["as_cut"]


def test_the_data_hold_everything_and_the_scenes_own_tolerances_are_taken(closet: str) -> None:
    """Twice as careful, and less is off: the same scene, more often."""
    loose = data("risk", closet, *TIGHT)
    assert loose["schema"] == "swingcheck.risk/1"
    assert (loose["draws"], loose["asked"], loose["stopped"]) == (20_000, 20_000, False)
    assert round(loose["works"] * 20_000) == 20_000 - sum(loose["verdicts"].values())
    assert loose["interval"][0] < loose["works"] < loose["interval"][1]
    assert loose["nominal"] == "swings" and loose["worst"]["verdict"] == "pinches"
    assert loose["worst"]["enough"][0]["key"] == "hinge.jamb.setback"
    shares = [each["decides"] for each in loose["blame"]]
    assert shares == sorted(shares, reverse=True) and sum(shares) <= 1.02
    careful = data("risk", closet, *TIGHT, "--set", "shop.tolerance.measuring=1/64")
    assert careful["works"] > loose["works"]
    held = {each["key"]: each for each in careful["tolerances"]}
    assert held["hinge.jamb.setback"]["plus_or_minus_in"] == 1 / 64
    assert held["slab.strike_edge.bevel"]["plus_or_minus_deg"] == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (["--draws", "3"], "100<=x<=1000000"),
        (["--seed", "-1"], "Invalid value for '--seed'"),
        (["--at-least", "101"], "0<=x<=100"),
        (["--set", "slab.widht=30"], "did you mean slab.width?"),
        (["--cluster", "gopher://x:1"], "an address is tcp://HOST:PORT"),
    ],
)
def test_bad_input_is_refused(closet: str, args: list[str], said: str) -> None:
    refused(run("risk", closet, *args), said)


@pytest.mark.skipif(os.name == "nt", reason="signals are sent otherwise there")
def test_ctrl_c_says_what_was_found_until_then(tmp_path: Path) -> None:
    measured = tmp_path / "measured.toml"
    measured.write_text(CLOSET + CROSS, encoding="utf-8")
    ours, theirs = pty.openpty()
    process = started("risk", measured, "--draws", "90000", stderr=theirs, start_new_session=True)
    os.close(theirs)
    bar = b""
    while not re.search(rb"Drawing.* [1-9]\d?%", bar):
        bar += os.read(ours, 4096)
    os.killpg(process.pid, signal.SIGINT)  # as a terminal does: the workers too
    out, _ = process.communicate(timeout=60)
    err = os.read(ours, 65536)
    os.close(ours)
    assert process.returncode == 130, err
    assert b"Traceback" not in err and err.split()[-1] == b"stopped"
    first = " ".join(out.decode().split())
    assert re.match(r"Linen closet: stopped after [\d,]+ of 90,000 draws: so far it works", first)
