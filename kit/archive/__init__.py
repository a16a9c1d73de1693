"""Finished jobs and what they taught: what was really spent, against what was estimated."""
