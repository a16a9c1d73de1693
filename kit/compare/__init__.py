"""Alternates side by side: mounts and counters for the same scope and size, and what changes between two of them."""
