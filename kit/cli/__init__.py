"""The shell: `sinkset`, with its commands."""

from kit.cli.commands import main

__all__ = ["main"]
