"""Promises: an estimate that was given out, with everything that made it and everything that was sent, never overwritten.

One JSON file a revision lies beside the job file, and a folder of the same name keeps the papers, workbook, rows and drawings that went out.
"""

from kit.issued.file_names import issued_path, kept_folder, list_issued
from kit.issued.giving_out import MakeFiles, issue_estimate, office_day
from kit.issued.opening import open_issued
from kit.issued.promise import Issued
from kit.issued.promised_figures import PromisedFigures
from kit.issued.todays_rules import Difference, Differences
from kit.issued.what_changed import list_job_changes

__all__ = [
    "Difference",
    "Differences",
    "Issued",
    "MakeFiles",
    "PromisedFigures",
    "issue_estimate",
    "issued_path",
    "kept_folder",
    "list_issued",
    "list_job_changes",
    "office_day",
    "open_issued",
]
