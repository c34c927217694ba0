"""What to take care of: one sentence each, and only what applies to the scene.

Every caution defers to the local code, the listing or the licensed trade; none
is advice on how to comply. From memory: guards and protection (OSHA 29 CFR
1926.102 and .300 to .304), lead paint in housing built before 1978 (EPA 40 CFR 745).

Lifting: 51 lb is the most for one worker, now and then, close to the body, at waist
height, with good handholds and no twist (NIOSH, as an OSHA page has it: read); by its
equation (from memory) a slab held at 15 in without handles is 30 lb. Two lift about
two thirds of what each lifts alone (HSE L23, from memory), 68 lb at the best: so no
number of people is told to be enough.
"""

from __future__ import annotations

from math import inf

from swingcheck.model import Scene

LIFTING = (
    (30.0, ""),
    (50.0, "one fit person may lift it, and help is better"),
    (70.0, "not to be lifted alone"),
    (
        inf,
        "more people or a lifting device; the weight alone does not say how many,"
        " so judge the way, the stairs and the handholds before it is lifted",
    ),
)
"""What is told of a slab up to each weight in pounds, nothing where that is empty."""


def cautions(scene: Scene, weight: float | None) -> tuple[str, ...]:
    """Return the cautions that apply, the site's before the bench's.

    ``weight`` is the slab's in pounds, ``None`` where it is not known.
    """
    site = scene.site
    lifting = next(words for most, words in LIFTING if (weight or 0.0) <= most)
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
        (weight is None, "The slab's weight is not known: weigh it before anybody lifts it."),
        (bool(lifting), f"The slab weighs about {weight or 0.0:.0f} lb: {lifting}."),
        (
            True,
            "Router and saw: guards on, eyes and ears protected, unplugged to change a bit"
            " or blade.",
        ),
    )
    return tuple(words for applies, words in found if applies)
