"""The plain job with a drain that leaves through the floor, its pipe 10 in from the outlet: 6 to the left of it and 8 behind it, measured and vented."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent / "takeoff"))

from takeoff_jobs import lists, plain_job, sheet_of, step_lines

__all__ = ["BY_NOBODY", "BY_US", "VENTED", "lists", "plain_job", "sheet_of", "step_lines"]

VENTED = {
    "plumbing.drain_leaves": "floor",
    "plumbing.floor_pipe_from_left": "12 in",
    "plumbing.floor_pipe_from_wall": "6 3/4 in",
    "plumbing.floor_pipe_vent": "wall",
    "plumbing.floor_inlet": "14 in",
    "plumbing.floor_vent": "24 in",
}
BY_US = {"scope.drain_move.supplied_by": "us", "scope.drain_move.installed_by": "us"}
BY_NOBODY = {"scope.drain_move.supplied_by": "excluded", "scope.drain_move.installed_by": "nobody"}
