"""Finished jobs and what they taught: what was really spent, against what was estimated."""

from kit.archive.compare_spent import CodeResult, SpentComparison, compare_spent
from kit.archive.lessons import Lesson, list_lessons
from kit.archive.spent import SpentRow, empty_spent_table, explain_spent_columns, find_doubled_rows, parse_spent, read_spent

__all__ = [
    "CodeResult",
    "Lesson",
    "SpentComparison",
    "SpentRow",
    "compare_spent",
    "empty_spent_table",
    "explain_spent_columns",
    "find_doubled_rows",
    "list_lessons",
    "parse_spent",
    "read_spent",
]
