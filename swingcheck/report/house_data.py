"""A job as plain data, ready for JSON: inches and degrees, named so."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from math import degrees
from textwrap import indent
from typing import Any

from swingcheck.job.house import (
    Door,
    Job,
    Served,
    bore_set_ups,
    jig_set_ups,
    order,
    saw_set_ups,
    swings,
)
from swingcheck.report.bench_data import bench_data
from swingcheck.report.data import check_data, inches

SCHEMA = "swingcheck.house/1"
"""Name and version of the data; the number rises when a key changes its meaning or goes."""


def house_data(job: Job) -> dict[str, Any]:
    """Return a job as nested dicts, lists, texts and numbers, doors in the job's order.

    The ``check`` of a door is of the slab that its cuts leave; ``uncut`` are
    the openings without bench numbers, checked as they were told.
    """
    return {**_summary(job), "doors": [_door(door) for door in job.doors]}


def house_json(job: Job) -> str:
    """Return a job's data as JSON, of a job of any size a door at a time."""
    head = json.dumps(_summary(job), indent=2, allow_nan=False)
    texts = (json.dumps(_door(door), indent=2, allow_nan=False) for door in job.doors)
    inside = ",\n".join(indent(text, "    ") for text in texts)
    listed = f"[\n{inside}\n  ]" if inside else "[]"
    return f'{head.removesuffix(chr(10) + "}")},\n  "doors": {listed}\n}}'


def _summary(job: Job) -> dict[str, Any]:
    doors = job.doors
    found = order(doors)
    return {
        "schema": SCHEMA,
        "title": job.title,
        "swing": [door.name for door in job.checked if swings(door)],
        "do_not": [door.name for door in job.checked if not swings(door)],
        "refused": [asdict(each) for each in job.refused],
        "uncut": [
            {
                "name": each.name,
                "where": each.where,
                "reason": each.reason,
                "check": check_data(each.answer),
            }
            for each in job.bare
        ],
        "order": {
            "slabs": [_counted(size, count) for size, count in found.slabs],
            "hinges": [_counted(size, count) for size, count in found.hinges],
            "screws": [
                {"number": screw.number, "length_in": inches(screw.length), "count": count}
                for screw, count in found.screws
            ],
            "bolts": [_counted(size, count) for size, count in found.bolts],
        },
        "set_ups": _set_ups(doors),
    }


def _set_ups(doors: Sequence[Door]) -> dict[str, Any]:
    """Return what is set once for several doors: the jig, the saw's tilt, the bores."""
    jigs = [
        {
            "side": jig.side,
            "setback_in": inches(jig.setback),
            "depth_in": inches(jig.depth),
            "leaf_length_in": inches(jig.leaf_length),
            "corner_radius_in": inches(jig.corner_radius),
            "bit_in": inches(jig.tools.bit),
            "bushing_in": inches(jig.tools.bushing),
            "template_corner_in": inches(jig.tools.template_corner),
            "run_in": [inches(run) for run in jig.runs],
            "doors": _served(jig.doors),
        }
        for jig in jig_set_ups(doors)
    ]
    saws = [
        {"tilt_deg": degrees(saw.tilt), "doors": _served(saw.doors)} for saw in saw_set_ups(doors)
    ]
    bores = [{**_named(bore.size), "doors": _served(bore.doors)} for bore in bore_set_ups(doors)]
    return {"jig": jigs, "saw": saws, "bore": bores}


def _door(door: Door) -> dict[str, Any]:
    return {
        "name": door.name,
        "where": door.where,
        "check": check_data(door.answer),
        "bench": bench_data(door.bench),
    }


def _served(doors: Sequence[Served]) -> list[dict[str, Any]]:
    return [{"name": each.door, "parts": list(each.parts), "all": each.whole} for each in doors]


def _counted(size: Any, count: int) -> dict[str, Any]:
    return {**_named(size), "count": count}


def _named(size: Any) -> dict[str, Any]:
    """Return a size's fields, its lengths named as inches."""
    return {
        f"{name}_in" if isinstance(value, float) else name: value
        for name, value in asdict(size).items()
    }
