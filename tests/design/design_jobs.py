"""The plain job of the takeoff's tests, for those of the design."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "takeoff"))

from takeoff_jobs import changed, lists, sheet_of

__all__ = ["changed", "lists", "sheet_of"]
