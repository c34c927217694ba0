"""From the schedule of a job to its openings, with every fault at once; and a sheet to fill in."""

from swingcheck.schedule.openings import Listed, read_openings
from swingcheck.schedule.sheet import blank_sheet

__all__ = ["Listed", "blank_sheet", "read_openings"]
