"""A door's bench numbers as plain data, ready for JSON: inches, degrees and pounds, named so."""

from __future__ import annotations

from collections.abc import Iterable
from math import degrees
from typing import Any

from swingcheck.bench.door import BenchNumbers
from swingcheck.bench.hinges import Hanging
from swingcheck.bench.layout import HingeMarks, Layout, LeafMark
from swingcheck.bench.lock import BoltMarks
from swingcheck.bench.mortise import SetUp
from swingcheck.bench.ripping import EdgeCut, EndCut, Ripping
from swingcheck.bench.season import SeasonMargins
from swingcheck.report.bench_words import lock_warning, refusal, warning
from swingcheck.report.data import inches
from swingcheck.report.lengths import Lengths

SCHEMA = "swingcheck.bench/1"
"""Name and version of the data; the number rises when a key changes its meaning or goes."""

_LENGTHS = Lengths(unit="in")


def bench_data(numbers: BenchNumbers) -> dict[str, Any]:
    """Return bench numbers as nested dicts, lists, texts and numbers, in cutting order."""
    return {
        "schema": SCHEMA,
        "scene": numbers.scene.title,
        "can_be_done": numbers.can_be_done,
        "cuts": _cuts(numbers.cuts),
        "check_with": dict(numbers.settings),
        "leaves": _leaves(numbers.leaves),
        "mortises": [_set_up(set_up) for set_up in numbers.mortises.set_ups],
        "lock": [_bolt(bolt) for bolt in numbers.bolts],
        "hanging": _hanging(numbers.hanging),
        "season": season_data(numbers.season),
        "assumed": [
            {"key": item.key, "value": item.value, "why": item.why} for item in numbers.assumed
        ],
        "cautions": list(numbers.cautions),
    }


def season_data(season: SeasonMargins) -> dict[str, Any]:
    """Return the margins across the year as plain data."""
    species = season.species
    return {
        "moving_width_in": inches(season.moving),
        "species": None if species is None else species.species,
        "moisture_now_percent": season.now,
        "film_in": inches(season.film),
        "thickens_in": inches(season.through),
        "unpainted_strike_in": _inches(season.unpainted),
        "tightest": season.tightest,
        "widest": season.widest,
        "closes": season.closes,
        "falls_short": season.falls_short,
        "least_in": inches(season.least),
        "leave_in": inches(season.leave),
        "past_valid": season.past_valid,
        "months": [
            {
                "month": month.month,
                "temperature_f": month.temperature,
                "humidity_percent": month.humidity,
                "moisture_percent": round(month.moisture, 6),
                "gained_in": inches(month.gained),
                "hinge_in": _inches(month.hinge),
                "strike_in": _inches(month.strike),
            }
            for month in season.months
        ],
    }


def _inches(values: Iterable[float]) -> list[float]:
    return [inches(value) for value in values]


def _cuts(cuts: Ripping) -> dict[str, Any]:
    slab = cuts.finished
    return {
        "delivered_in": _inches((cuts.delivered.width, cuts.delivered.height)),
        "edges": [_edge(cut) for cut in cuts.edges],
        "ends": [_end(cut) for cut in cuts.ends],
        "finished_in": {
            "width": _inches(slab.width),
            "narrow_width": _inches(cuts.narrow_width),
            "height": _inches(slab.height),
        },
        "margins_in": {
            "hinge": _inches(cuts.margins.hinge),
            "strike": _inches(cuts.margins.strike),
            "head": _inches(cuts.margins.head),
            "bottom": _inches(cuts.margins.bottom),
            "strike_least_and_most": _inches(cuts.strike_run),
            "over_floor": inches(cuts.over_floor),
        },
        "warnings": [
            {
                "concern": warned.concern.name.lower(),
                "place": warned.place,
                "amount_in": inches(warned.amount),
                "limit_in": inches(warned.limit),
                "words": warning(warned, _LENGTHS),
            }
            for warned in cuts.warned
        ],
    }


def _edge(cut: EdgeCut) -> dict[str, Any]:
    return {
        "edge": cut.edge,
        "needed": cut.is_needed,
        "tapered": cut.is_tapered,
        "tilt_deg": degrees(cut.tilt),
        "drop_in": inches(cut.drop),
        "at_crown": cut.at_crown,
        "marks": [
            {
                "down_in": inches(mark.down),
                "off_in": inches(mark.off),
                "wide_face_in": inches(mark.left),
                "narrow_face_in": inches(mark.narrow),
            }
            for mark in cut.marks
        ],
    }


def _end(cut: EndCut) -> dict[str, Any]:
    return {
        "end": cut.end,
        "needed": cut.is_needed,
        "off_in": _inches(cut.off),
        "height_in": _inches(cut.left),
    }


def _leaves(leaves: Layout) -> dict[str, Any]:
    return {
        "hinges": [_hinge(hinge) for hinge in leaves.hinges],
        "screw": {
            "number": leaves.screw.number,
            "length_in": leaves.screw.length,
            "pilot_in": leaves.pilot,
            "wood": leaves.wood,
        },
    }


def _hinge(hinge: HingeMarks) -> dict[str, Any]:
    return {
        "name": hinge.name,
        "jamb": _leaf(hinge.jamb),
        "slab": _leaf(hinge.slab),
        "told_in": inches(hinge.told),
        "too_low_in": inches(hinge.too_low),
        "apart_in": inches(hinge.apart),
        "off_line_in": inches(hinge.off_line),
        "lines_up": hinge.lines_up,
    }


def _leaf(leaf: LeafMark) -> dict[str, Any]:
    return {
        "top_in": inches(leaf.top),
        "bottom_in": inches(leaf.bottom),
        "setback_in": inches(leaf.setback),
        "arris_to_line_in": inches(leaf.run),
        "depth_in": inches(leaf.depth),
        "holes_in": [_inches((hole.down, hole.from_arris)) for hole in leaf.holes],
    }


def _set_up(set_up: SetUp) -> dict[str, Any]:
    tools = set_up.tools
    return {
        "side": set_up.side,
        "hinges": [k + 1 for k in set_up.hinges],
        "setback_in": inches(set_up.setback),
        "depth_in": inches(set_up.depth),
        "lean_deg": degrees(set_up.lean),
        "corner_radius_in": inches(set_up.corner_radius),
        "bit_in": inches(tools.bit),
        "bushing_in": inches(tools.bushing),
        "template_corner_in": inches(tools.template_corner),
        "offset_in": inches(tools.offset),
        "leaf_in": _inches((set_up.leaf.length, set_up.leaf.run)),
        "template_in": _inches((set_up.opening.length, set_up.opening.run)),
        "jig_off_in": None if set_up.jig_off is None else inches(set_up.jig_off),
        "chisel": set_up.is_squared_by_chisel,
        "refused": [refusal(reason, set_up, _LENGTHS) for reason in set_up.refused],
    }


def _bolt(bolt: BoltMarks) -> dict[str, Any]:
    backset, strike = bolt.backset, bolt.strike
    return {
        "name": bolt.name,
        "backset_in": {
            "middle": inches(backset.middle),
            "wide_face": inches(backset.wide),
            "narrow_face": inches(backset.narrow),
        },
        "from_top_in": inches(bolt.from_top),
        "from_bottom_in": inches(bolt.from_bottom),
        "bore_in": inches(bolt.bore),
        "edge_bore_in": inches(bolt.edge_bore),
        "edge_centre_in": inches(bolt.edge_centre),
        "face_in": _inches(bolt.face),
        "face_down_in": _inches((bolt.face_top, bolt.face_bottom)),
        "face_from_wide_in": _inches((bolt.face_near, bolt.face_far)),
        "strike": {
            "up_in": inches(strike.up),
            "down_in": inches(strike.down),
            "from_stop_in": inches(strike.from_stop),
            "from_edge_in": inches(strike.from_edge),
            "gap_in": inches(strike.gap),
            "throw_in": inches(bolt.throw),
            "hold_in": inches(strike.hold),
            "least_lip_in": inches(strike.lip),
        },
        "warnings": [lock_warning(concern, bolt, _LENGTHS) for concern in bolt.concerns],
    }


def _hanging(held: Hanging) -> dict[str, Any]:
    loads, rules = held.loads, held.rules
    return {
        "weight_lb": held.weight,
        "balance_in": _inches(held.balance),
        "loads": None
        if loads is None
        else {
            "reach_in": inches(loads.reach),
            "pull_lb": list(loads.pull),
            "upright_lb": loads.upright,
            "worst_lb": loads.worst,
        },
        "rules": {
            "count": rules.count,
            "older_count": rules.older_count,
            "leaf_length_in": rules.leaf_length,
            "open_width_in": inches(rules.open_width),
            "stock_width_in": inches(rules.stock_width),
            "trim_in": inches(rules.trim),
            "adjusted_mass_kg": rules.adjusted_mass,
            "grade": rules.grade,
        },
    }
