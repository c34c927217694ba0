"""What JSON tells of each class: one table, by the class's name; and of what takes more than one.

Inches, degrees and pounds, named so. Points are in the opening frame seen with
the hinges on the left: ``x`` from the hinge leg toward the strike leg, ``y``
toward the pull side from the jamb's edge, ``z`` up from the floor. What was
not worked out is null. The number in a schema's name rises when a key changes
its meaning or goes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import degrees
from typing import TYPE_CHECKING, Any

from swingcheck.advice.answer import Answer
from swingcheck.bench.cautions import cautions
from swingcheck.bench.weight import slab_weight
from swingcheck.chance.measurements import Measurement
from swingcheck.model import Scene
from swingcheck.report.bench_words import lock_warning, refusal, warning
from swingcheck.report.words import Lengths
from swingcheck.swing.trial import wanted_of
from swingcheck.units.plain import Shape, measured, plain, rounded, shaped

if TYPE_CHECKING:
    from swingcheck.advice.bevel import LeastBevel, MarginTable
    from swingcheck.advice.setback import Setback, Setting
    from swingcheck.advice.window import Fault, Interval, Window
    from swingcheck.chance.tolerances import Tolerance
    from swingcheck.job.house import Job
    from swingcheck.swing.found import OtherFound
    from swingcheck.swing.trial import Trial


def window_data(scene: Scene, window: Window, setting: Setting | None) -> dict[str, Any]:
    """Return a window as nested dicts, lists, texts and numbers, in a fixed order."""
    free = window.measurement
    value = None if setting is None else setting.value
    return {
        "schema": "swingcheck.leeway/1",
        "scene": scene.title,
        "key": free.key,
        "what": free.words,
        **of_measurement(free, now=window.now),
        "works_now": window.works_now,
        **of_measurement(free, setting=value),
        "set": {} if value is None else dict(free.settings(scene, value)),
        **spans(window),
        "wanted": data_of(wanted_of(scene)),
    }


def measurements_data(scene: Scene, free: Sequence[Measurement]) -> list[dict[str, Any]]:
    """Return the dimensions of a scene that can be left free, with what they are now."""
    return [
        {"key": each.key, "what": each.words, **of_measurement(each, now=each.value(scene))}
        for each in free
    ]


def bevel_data(
    scene: Scene, edges: Sequence[LeastBevel], tables: Sequence[MarginTable]
) -> dict[str, Any]:
    """Return the least bevel of each edge, and the least strike margin against bevel."""
    return {
        "schema": "swingcheck.bevel/1",
        "scene": scene.title,
        "edges": {
            f"{edge.edge}_edge": {
                **measured("least", edge.least, is_angle=True),
                **window_data(scene, edge.window, edge.setting),
            }
            for edge in edges
        },
        "strike_margin": plain(tables, SHAPES),
    }


def data_of(value: Any) -> dict[str, Any]:
    """Return what a command found as nested dicts, lists, texts and numbers, in a fixed order.

    A check's ``blocked_by`` is there only where the start pose overlaps,
    ``curve`` only where a step was asked for, ``push_side`` and ``edges`` only
    of a slab that swings both ways, and ``others`` only where further slabs
    swing beside this one; ``decided_by`` names the one that the verdict is
    about. The check of a job's door is of the slab that its cuts leave;
    ``uncut`` are openings without bench numbers, checked as told. Shares are 0 to 1.
    """
    data: dict[str, Any] = plain(value, SHAPES)
    return data


def of_measurement(free: Measurement, **values: float | None) -> dict[str, float | None]:
    """Return values of a dimension under their names: degrees of an angle, else inches."""
    found: dict[str, float | None] = {}
    for name, value in values.items():
        found |= measured(name, value, is_angle=free.is_angle)
    return found


def _margins(answer: Answer) -> dict[str, Any]:
    of = "lip" if answer.found.scene.slab.lip else "flush"
    shape = (*SHAPES["Margins"], f"{of}_hinge=flush {of}_strike=flush_strike")
    return shaped(answer.found.margins, shape, SHAPES, "in")


def _clearance(answer: Answer) -> dict[str, Any]:
    found = answer.found.clearances
    least = min(found, key=lambda each: each.least, default=None)
    nothing = dict.fromkeys(("least_in", "angle_deg", "against"))
    return {**(nothing if least is None else data_of(least)), "by_part": plain(found, SHAPES)}


def _opened(answer: Answer) -> dict[str, Any] | None:
    opened = answer.found.opened
    if opened is None:
        return None
    data = data_of(opened)
    if not opened.by_slab:
        data["slab"] = plain(opened.slab, SHAPES)
    if answer.hinges is not None:
        data["hinges"] = data_of(answer.hinges)
    return data


def _touch_of_other(name: str) -> tuple[str, Any]:
    """Return the row of a further slab's touch, whose strike edge is not told."""

    def told(other: OtherFound) -> dict[str, Any] | None:
        touch = getattr(other, name)
        return None if touch is None else shaped(touch, _OTHER_TOUCH, SHAPES)

    return name, told


def _summary(job: Job) -> dict[str, Any]:
    from swingcheck.job.house import bore_set_ups, jig_set_ups, names_by, order, saw_set_ups

    set_ups = {"jig": jig_set_ups, "saw": saw_set_ups, "bore": bore_set_ups}
    return {
        **names_by(job),
        "refused": plain(job.refused, SHAPES),
        "uncut": plain(job.bare, SHAPES),
        "order": {
            kind: [{**data_of(size), "count": count} for size, count in sizes]
            for kind, sizes in order(job.doors).items()
        },
        "set_ups": {name: plain(of(job.doors), SHAPES) for name, of in set_ups.items()},
    }


def spans(window: Window) -> dict[str, Any]:
    """Return what was looked at of a window, what of it works, and the nearest miss."""
    free, miss = window.measurement, window.miss
    low, high = window.span
    near = miss and {**of_measurement(free, value=miss.value), "faults": plain(miss.faults, SHAPES)}
    return {
        "looked_at": of_measurement(free, low=low, high=high),
        "works": [_interval(free, each) for each in window.works],
        "swings": [_interval(free, each) for each in window.swings],
        "near_miss": near,
    }


def _interval(free: Measurement, interval: Interval) -> dict[str, Any]:
    return {
        **of_measurement(free, low=interval.low.value, high=interval.high.value),
        "below": plain(interval.low.beyond, SHAPES),
        "above": plain(interval.high.beyond, SHAPES),
    }


def _against(fault: Fault) -> tuple[str, ...]:
    if fault.touch is None:
        return fault.blocked_by or ((fault.slab,) if fault.slab else ())
    return fault.touch.against, *fault.touch.also


def _least(name: str) -> Any:
    """Return what finds the least of a margin of the closed slab, none without a stop."""

    def found(fit: Trial) -> float | None:
        values = getattr(fit.margins, name)
        return None if values is None else min(values)

    return found


def _set(found: Setback) -> dict[str, str]:
    setting = found.setting
    settings = setting and found.window.measurement.settings(found.scene, setting.value)
    return dict(settings or ())


def _off(name: str, held: Tolerance, amount: float) -> dict[str, Any]:
    return {"key": held.measurement.key, **of_measurement(held.measurement, **{name: amount})}


_INCHES = Lengths(unit="in")

_OTHER_TOUCH = ("angle_deg against slab_feature=feature point_in",)

_FINISHED = ("width=finished.width narrow_width height=finished.height",)

_CUT_MARGINS = (
    "hinge=margins.hinge strike=margins.strike head=margins.head bottom=margins.bottom",
    "strike_least_and_most=strike_run over_floor",
)

SHAPES: Mapping[str, Shape] = {
    # what a check finds
    "Answer": (
        ("schema", "swingcheck.check/1"),
        "scene=found.scene.title verdict=found.verdict fit=found.fit closing=found.closing",
        "opening=found.opening",
        ("margins_in", _margins),
        ("clearance", _clearance),
        "axis=found.axis clear_width_in=found.clear_width clear_width_by=found.scene.site.access",
        "remedies=cures assumed=found.scene.assumed",
        ("cautions", lambda a: cautions(a.found.scene, slab_weight(a.found.scene))),
        ("**", lambda a: {"decided_by": a.found.decided_by or None} if a.found.others else {}),
        "others?=found.others",
        ("opened?", _opened),
        "push_side?=found.push edges?=found.edges blocked_by?=found.blocked_by curve?=found.curve",
    ),
    "Fit": ("word chance drawn reasons",),
    "Reason": ("code measured_in limit_in source place",),
    "Touch": ("angle_deg opening_at_strike_in against slab_feature=feature point_in",),
    "Margins": ("hinge strike head bottom hinge_stop strike_stop",),
    "Clearance": ("least_in angle_deg against",),
    "CurvePoint": ("angle_deg clearance_in=distance against",),
    "AxisFound": ("point_in direction proud_in off_line_in",),
    "Side": ("blocked_by closing opening",),
    "Opened": ("clear_width_in",),
    "RoundEdge": (
        "edge radius_in from_axis_in=along run_out_in left_in least_radius_in=least",
        "greatest_radius_in=greatest left_by_least_in=least_left at_faces_in",
    ),
    "OtherFound": (
        "name relation verdict blocked_by",
        *(_touch_of_other(name) for name in ("closing", "opening", "held")),
        "opens_first=order together",
    ),
    "Together": (
        "least_in certain_in angles_deg reaches_deg hollows_filled=fills",
        "clear_as_wanted=within_wanted fouls",
    ),
    "Foul": ("angle_deg other_from_deg=low other_to_deg=high",),
    "Cure": ("words", ("set", lambda cure: dict(cure.settings)), "chance drawn"),
    "OpenWidth": ("wanted_deg least_in stock_in swings",),
    "Assumed": ("key value why",),
    # bench numbers
    "BenchNumbers": (
        ("schema", "swingcheck.bench/1"),
        "scene=scene.title can_be_done cuts",
        ("check_with", lambda numbers: dict(numbers.settings)),
        "leaves mortises=mortises.set_ups lock=bolts hanging season assumed cautions",
    ),
    "Ripping": (
        "delivered_in=delivered.width+delivered.height edges ends",
        ("finished_in", lambda cuts: shaped(cuts, _FINISHED, SHAPES, "in")),
        ("margins_in", lambda cuts: shaped(cuts, _CUT_MARGINS, SHAPES, "in")),
        "warnings=warned",
    ),
    "Warned": (
        ("concern", lambda warned: warned.concern.name.lower()),
        "place amount_in limit_in",
        ("words", lambda warned: warning(warned, _INCHES)),
    ),
    "EdgeCut": ("edge needed=is_needed tapered=is_tapered tilt_deg drop_in at_crown marks",),
    "Mark": ("down_in off_in wide_face_in=left narrow_face_in=narrow",),
    "EndCut": ("end needed=is_needed off_in height_in=left",),
    "Layout": (
        "hinges screw.number=screw.number screw.length_in=screw.length screw.pilot_in=pilot",
        "screw.wood=wood",
    ),
    "HingeMarks": ("name jamb slab told_in too_low_in apart_in off_line_in lines_up",),
    "LeafMark": (
        "top_in bottom_in setback_in arris_to_line_in=run depth_in",
        ("holes_in", lambda leaf: [(hole.down, hole.from_arris) for hole in leaf.holes]),
    ),
    "SetUp": (
        "side",
        ("hinges", lambda set_up: [k + 1 for k in set_up.hinges]),
        "setback_in depth_in lean_deg corner_radius_in bit_in=tools.bit bushing_in=tools.bushing",
        "template_corner_in=tools.template_corner offset_in=tools.offset",
        "leaf_in=leaf.length+leaf.run template_in=opening.length+opening.run",
        "jig_off_in chisel=is_squared_by_chisel",
        ("refused", lambda set_up: [refusal(each, set_up, _INCHES) for each in set_up.refused]),
    ),
    "BoltMarks": (
        "name backset_in=backset from_top_in from_bottom_in bore_in=lock.bore",
        "edge_bore_in=lock.edge_bore edge_centre_in",
        "face_in=lock.face_length+lock.face_width+lock.face_depth",
        "face_down_in=face_top+face_bottom face_from_wide_in=face_near+face_far",
        "strike.up_in=strike.up strike.down_in=strike.down strike.from_stop_in=strike.from_stop",
        "strike.from_edge_in=strike.from_edge strike.gap_in=strike.gap strike.throw_in=lock.throw",
        "strike.hold_in=strike.hold strike.least_lip_in=strike.lip",
        ("warnings", lambda bolt: [lock_warning(each, bolt, _INCHES) for each in bolt.concerns]),
    ),
    "Backset": ("middle wide_face=wide narrow_face=narrow",),
    "Hanging": ("weight_lb balance_in loads rules",),
    "Loads": ("reach_in pull_lb upright_lb worst_lb",),
    "HingeRules": (
        "count older_count leaf_length_in gauge_in open_width_in stock_width_in trim_in",
        "adjusted_mass_kg grade",
    ),
    "SeasonMargins": (
        "moving_width_in=moving board_width_in=board species=species.name",
        "moisture_now_percent=now film_in thickens_in=through unpainted_strike_in=unpainted",
        "tightest widest closes falls_short least_in leave_in past_valid months",
    ),
    "MonthMargins": (
        "month temperature_f humidity_percent moisture_percent gained_in hinge_in strike_in",
    ),
    # a job
    "Job": (("schema", "swingcheck.house/1"), "title", ("**", _summary), "doors"),
    "Door": ("name where check=answer bench",),
    "Bare": ("name where reason check=answer",),
    "Refused": ("name where reason",),
    "SlabSize": ("width_in height_in thickness_in material construction",),
    "HingeSize": ("leaf_length_in open_width_in leaf_thickness_in corner_radius_in",),
    "Screw": ("number length_in",),
    "BoltSize": ("name backset_in bore_in edge_bore_in face_length_in face_width_in",),
    "JigSetUp": (
        "side=set_up.side setback_in=set_up.setback depth_in=set_up.depth",
        "leaf_length_in=set_up.leaf.length corner_radius_in=set_up.corner_radius",
        "bit_in=set_up.tools.bit bushing_in=set_up.tools.bushing",
        "template_corner_in=set_up.tools.template_corner run_in=runs doors",
    ),
    "SawSetUp": ("tilt_deg doors",),
    "BoreSetUp": (("**", lambda bore: data_of(bore.size)), "doors"),
    "Served": ("name=door parts all=whole",),
    # windows and settings
    "Setback": (
        ("schema", "swingcheck.setback/1"),
        "scene=scene.title side setting_in=setting.value rounded_to_in=setting.step",
        "room_in=setting.room chance=share.swinging chance_now=share_now.swinging",
        ("set", _set),
        ("jig_in", lambda found: found.scene.shop.jig_setback if found.side == "slab" else None),
        "now_in",
        ("away_in", lambda found: found.setting and found.setting.value - found.now),
        ("least_change_in", lambda found: None if found.least is None else found.least - found.now),
        ("**", lambda found: spans(found.window)),
        "at_setting=setting.fit at_now",
        ("check", lambda found: found.result and Answer(found=found.result)),
        ("wanted", lambda found: wanted_of(found.scene)),
    ),
    "Wanted": ("least_margin_in hinge_stop_in flush_in",),
    "Trial": (
        "verdict fits",
        ("hinge_stop_in", _least("hinge_stop")),
        *((f"{each}_margin_in", _least(each)) for each in ("hinge", "strike", "head", "bottom")),
        "wide_face_in=margins.flush_all",
    ),
    "Fault": (
        "verdict limit short_in",
        ("against", _against),
        "slab_feature=touch.feature angle_deg=touch.angle",
        "opening_at_strike_in=touch.opening_at_strike",
    ),
    "MarginTable": (
        "thickness_in pin_proud_in=proud",
        ("**", lambda table: {"bevels_deg": [rounded(degrees(each)) for each in table.bevels]}),
        "rows",
    ),
    "MarginRow": ("width_in least_margin_in=margins",),
    # chances
    "Risk": (
        ("schema", "swingcheck.risk/1"),
        "scene=scene.title seed draws=drawn asked stopped as_cut",
        ("**", lambda risk: data_of(risk.answered)),
        "works=chance interval nominal",
        ("verdicts", lambda risk: {word.value: count for word, count in risk.verdicts}),
        (
            "tolerances",
            lambda risk: [_off("plus_or_minus", each, each.amount) for each in risk.tolerances],
        ),
        "blame worst",
    ),
    "Answered": (
        "in_plan how",
        ("together", lambda found: rounded(found.together)),
        ("one_at_a_time", lambda found: rounded(found.one_at_a_time)),
        ("because?", lambda found: found.why or None),
    ),
    "Blame": (
        "key=tolerance.measurement.key decides=share",
        ("fails_when", lambda blame: "over" if blame.over else "under"),
        "works_held_to_quarter=held",
    ),
    "Worst": (
        "corners swinging verdict angle_deg opening_at_strike_in=short",
        ("enough", lambda worst: [_off("off", *each) for each in worst.off]),
    ),
}
