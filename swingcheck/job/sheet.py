"""A sheet to fill in: the column names, and notes on how to write under them."""

from __future__ import annotations

import csv
from io import StringIO

COLUMNS = (
    ("door", "its name, each another", "Linen closet"),
    ("hinges on", "left or right, seen from the pull side", "left"),
    ("opening width", "leg to leg; or top, middle, bottom", "30 1/8"),
    ("opening height", "floor to head; or hinge side, strike side", "80 1/2"),
    ("rabbet", "jamb's pull-side edge to the stop's face", "1 7/16"),
    ("slab width", "on the pull-side face", "29 7/8"),
    ("slab height", "as it will hang", "79 3/4"),
    ("thickness", "of the slab", "1 3/8"),
    ("hinge edge", "square, or degrees of bevel", "2"),
    ("strike edge", "square, or degrees of bevel", "2"),
    ("head margin", "head to the slab's top", "1/8"),
    ("delivered width", "slab as it came", "30"),
    ("delivered height", "slab as it came", "80"),
    ("wood", "such as red oak", "red oak"),
    ("construction", "solid, hollow core, stile and rail", "solid"),
    ("hinges", "how many", "3"),
    ("leaf length", "along the barrel", "3 1/2"),
    ("corner radius", "of a leaf's corners; 0 is square", "5/8"),
    ("jamb setback", "stop's face to the leaf's buried edge", "5/16"),
    ("slab setback", "stop-side face to the leaf's buried edge", "1/4"),
    ("hinge leg plumb", "out of plumb into the opening: top, middle, bottom", "0, 1/32, 1/16"),
    ("hinge leg twist", "degrees out of square", "0.5"),
    ("lock", "yes or no", "yes"),
    ("backset", "strike edge to the bore's centre", "2 3/8"),
    ("lock height", "floor to the bore's centre", "36"),
    ("floor covering", "how thick", "0"),
    ("old paint", "from before 1978: yes or no", "no"),
)
"""The columns of a blank sheet: name, how to fill it in, an example."""

_HOW = (
    "note: rows that begin with note are not read. Set the format of every cell to Text first,"
    " or a spreadsheet makes dates of fractions. Leave out columns and cells as you like:"
    " the usual value is taken, and the report says so.",
    "note: readings at top, middle and bottom go in one cell: 30 1/8, 30, 30 1/8. same takes the"
    " cell above. Any key of a scene is a column too, such as hinge.slab.depth.",
)


def blank_sheet() -> str:
    r"""Return a schedule without openings, to fill in on a phone or in a spreadsheet.

    Examples
    --------
    >>> blank_sheet().split("\r\n")[2].startswith("door,hinges on,opening width")
    True
    """
    out = StringIO()
    write = csv.writer(out).writerow
    names, notes, examples = zip(*COLUMNS, strict=True)
    for line in _HOW:
        write([line])
    write(names)
    write([f"note: {notes[0]}", *notes[1:]])
    write([f"note: for example {examples[0]}", *examples[1:]])
    return out.getvalue()
