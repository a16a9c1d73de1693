"""The shell: `sinkset check | estimate | compare | lab | start`."""

from kit.cli.commands import main

__all__ = ["main"]
