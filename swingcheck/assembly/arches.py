"""Arched heads: the head, its stop and its casing carried along the arc from leg to leg."""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, cos, sin

import numpy as np

from swingcheck.assembly.legs import FACE_SAGITTA, leg_plan
from swingcheck.geometry.solid import Floats
from swingcheck.geometry.solids import Skin, arc_facets
from swingcheck.model import Arc, Scene


def arc_points(arc: Arc) -> Floats:
    """Return the corners (k, 2) of an arc's facets, from its start to its end, both exact."""
    first, last = (atan2(up - arc.up, across - arc.across) for across, up in (arc.start, arc.end))
    count = arc_facets(arc.radius, first - last, FACE_SAGITTA)
    turns = [first + (last - first) * k / count for k in range(1, count)]
    inner = [(arc.across + arc.radius * cos(t), arc.up + arc.radius * sin(t)) for t in turns]
    return np.array([arc.start, *inner, arc.end])


def arched_head(scene: Scene, arc: Arc) -> Skin:
    """Return the head: all of the jamb's depth, from the arc up to a level top."""
    opening = scene.opening
    top = arc.crown + opening.thickness
    profile = np.concatenate([arc_points(arc), [(arc.end[0], top), (arc.start[0], top)]])
    faces = []
    for along in (0.0, opening.depth):
        plan = _across(scene, arc, profile[:, 0], np.full(len(profile), along))
        faces.append(np.column_stack([plan, profile[:, 1]]))
    return Skin("head", np.array(faces))


def arched_band(name: str, scene: Scene, arc: Arc, section: Callable[[float], Floats]) -> Skin:
    """Return a section carried along the arc.

    ``section`` gives it (k, 2) at a fraction of the way from the hinge leg to the strike
    leg: along the jamb's depth from its pull-side edge, and out of the head's ``arc``, away
    from its centre.
    """
    points = arc_points(arc)
    away = (points - [arc.across, arc.up]) / arc.radius
    bands = []
    for k, (point, out) in enumerate(zip(points, away, strict=True)):
        corners = section(k / (len(points) - 1))
        profile = point + corners[:, 1:] * out
        plan = _across(scene, arc, profile[:, 0], corners[:, 0])
        bands.append(np.column_stack([plan, profile[:, 1]]))
    return Skin(name, np.array(bands))


def _across(scene: Scene, arc: Arc, across: Floats, along: Floats) -> Floats:
    """Return plan points (k, 2), so far from leg to leg and so far along the legs' faces.

    ``across`` is measured at the jamb's pull-side edge; a leg that is twisted
    takes what is behind it along.
    """
    near, far = (leg_plan(scene.opening, side, scene.opening.height[side]) for side in (0, 1))
    share = ((across - arc.start[0]) / (arc.end[0] - arc.start[0]))[:, None]
    start = near.edge + along[:, None] * near.along
    end = far.edge + along[:, None] * far.along
    return start + share * (end - start)
