"""Alternates side by side: mounts and counters for the same scope and size, and what changes between two of them."""

from kit.compare.mounts import Alternate, compare_mounts
from kit.compare.swaps import changes_for_counter, changes_for_sink, nearest_sink

__all__ = ["Alternate", "changes_for_counter", "changes_for_sink", "compare_mounts", "nearest_sink"]
