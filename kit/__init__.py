"""Estimating and material takeoff for a kitchen-sink-and-counter job."""

from kit.estimate import Estimate, estimate, revalue
from kit.job import Job, read_job
from kit.lists import Lists, load_lists
from kit.shipped import shipped

__all__ = ["Estimate", "Job", "Lists", "estimate", "load_lists", "read_job", "revalue", "shipped"]
__version__ = "0.1.0"
