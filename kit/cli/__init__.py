"""The shell: `sinkset check | estimate | compare | issue | change | target | lab | pages | start`."""

from kit.cli.commands import main

__all__ = ["main"]
