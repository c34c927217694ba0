"""What to take care of: one sentence each, and only what applies to the scene.

Every caution defers to the local code, the listing or the licensed trade; none
is advice on how to comply. The figures are from memory: the load constant of
the NIOSH lifting equation (51 lb), guards and protection (OSHA 29 CFR 1926.102
and .300 to .304), lead paint in housing built before 1978 (EPA 40 CFR 745).
"""

from __future__ import annotations

from swingcheck.model import Scene

ONE_PERSON_LIFT = 50.0
"""Pounds that one person is taken to lift; the NIOSH load constant is 51 lb, from memory."""


def cautions(scene: Scene, weight: float | None) -> tuple[str, ...]:
    """Return the cautions that apply, the site's before the bench's.

    ``weight`` is the slab's in pounds, ``None`` where it is not known.
    """
    site = scene.site
    construction = scene.slab.construction.casefold().replace("-", " ")
    found = (
        (
            site.fire_rated,
            "Fire-rated opening: trim, bevel and mortise only as far as the slab's listing allows,"
            " leave its label on, and ask the authority having jurisdiction.",
        ),
        (
            site.exit,
            "This is an exit: clear width, swing and hardware are set by the local code.",
        ),
        (
            site.old_paint,
            "Paint from before 1978 may hold lead: have it tested before it is cut or sanded,"
            " and where the rules ask for a certified firm, use one.",
        ),
        (
            site.glass,
            "Glass in or beside a door must be safety glazing as the local code says;"
            " do not cut or rout near it.",
        ),
        (
            "mineral" in construction,
            "Cutting a mineral core makes silica dust: follow the maker's data sheet, cut with"
            " extraction and a fitted respirator.",
        ),
        (weight is None, "The slab's weight is not known: weigh it before one person lifts it."),
        (
            weight is not None and weight > ONE_PERSON_LIFT,
            f"The slab weighs about {weight or 0.0:.0f} lb: two people lift and hang it.",
        ),
        (
            True,
            "Router and saw: guards on, eyes and ears protected, unplugged to change a bit"
            " or blade.",
        ),
    )
    return tuple(words for applies, words in found if applies)
