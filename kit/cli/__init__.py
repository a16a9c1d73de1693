"""The shell: `sinkset check | estimate | compare | issue | change | target | lab | pages | start`."""

from kit.cli import contract as contract  # its commands join those of the shell
from kit.cli.commands import main

__all__ = ["main"]
