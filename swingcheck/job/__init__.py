"""From the schedule of a job to its openings, with every fault at once; and a sheet to fill in."""

from swingcheck.job.columns import blank_sheet
from swingcheck.job.openings import Listed, read_openings
