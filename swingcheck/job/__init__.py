"""A house: from the schedule of a job to its openings, each worked out and kept."""
