"""Estimating and material takeoff for a kitchen-sink-and-counter job.

What stands in `__all__` is for people who type in a notebook; none of it has the name of a room. Each is loaded when it is first used.
Promises, contracts and lessons are in their rooms: `kit.issued`, `kit.contract`, `kit.learning`.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kit.compare.new_job import new_job
    from kit.estimating import Estimate, estimate, revalue
    from kit.job import Job, change_job, read_job, write_job
    from kit.lists import Lists, load_lists
    from kit.lists.change_cells import change_lists
    from kit.notebook.batches import batch
    from kit.notebook.comparison import compare_options
    from kit.notebook.files import issue, write_papers, write_workbook
    from kit.notebook.frames import frame
    from kit.notebook.pictures import draw_job
    from kit.notebook.pint_values import quantity_of
    from kit.notebook.sweeps import sweep
    from kit.notebook.why_text import why
    from kit.outlook import assess_risk, plan_schedule
    from kit.shipped_files import shipped

__all__ = [
    "Estimate",
    "Job",
    "Lists",
    "assess_risk",
    "batch",
    "change_job",
    "change_lists",
    "compare_options",
    "draw_job",
    "estimate",
    "frame",
    "issue",
    "load_lists",
    "new_job",
    "plan_schedule",
    "quantity_of",
    "read_job",
    "revalue",
    "shipped",
    "sweep",
    "why",
    "write_job",
    "write_papers",
    "write_workbook",
]
__version__ = "0.1.0"

_LOADED_WHEN_USED = {
    "kit.compare.new_job": ("new_job",),
    "kit.estimating": ("Estimate", "estimate", "revalue"),
    "kit.job": ("Job", "change_job", "read_job", "write_job"),
    "kit.lists": ("Lists", "load_lists"),
    "kit.lists.change_cells": ("change_lists",),
    "kit.notebook.batches": ("batch",),
    "kit.notebook.comparison": ("compare_options",),
    "kit.notebook.files": ("issue", "write_papers", "write_workbook"),
    "kit.notebook.frames": ("frame",),
    "kit.notebook.pictures": ("draw_job",),
    "kit.notebook.pint_values": ("quantity_of",),
    "kit.notebook.sweeps": ("sweep",),
    "kit.notebook.why_text": ("why",),
    "kit.outlook": ("assess_risk", "plan_schedule"),
    "kit.shipped_files": ("shipped",),
}


def __getattr__(name: str) -> object:
    for module, names in _LOADED_WHEN_USED.items():
        if name in names:
            value = globals()[name] = getattr(import_module(module), name)  # asked once
            return value
    message = f"module 'kit' has no attribute {name!r}"
    raise AttributeError(message)


def __dir__() -> list[str]:
    return sorted(__all__)
