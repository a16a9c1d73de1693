"""Alternates side by side: mounts and counters for the same scope and size, and what changes between two of them."""

from kit.compare.differences import Difference, Fact, list_differences, list_facts
from kit.compare.options import Figures, Option, compare_alternates, weigh_option, weigh_terms
from kit.compare.swaps import changes_for_counter, changes_for_sink, nearest_sink

__all__ = [
    "Difference",
    "Fact",
    "Figures",
    "Option",
    "changes_for_counter",
    "changes_for_sink",
    "compare_alternates",
    "list_differences",
    "list_facts",
    "nearest_sink",
    "weigh_option",
    "weigh_terms",
]
