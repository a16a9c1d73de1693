"""How fast does it start? Run by hand: python tests/bench/start.py (prints seconds; asserts nothing).

Wanted: `import kit` under 0.5 s, the first command under 2.5 s. Every trial is a fresh process; the very first one after
a boot or an install also reads the files from disk, so compare `first` with `median`.
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from kit import shipped

TRIALS = 7
COMMAND = "import sys; from kit.cli import main; sys.argv[0] = 'sinkset'; main()"


def compiled_in(folder: str) -> dict[str, str]:
    """The environment of a process that keeps compiled modules in a folder, as an installed kit has them, whatever this one was told."""
    return {**{name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}, "PYTHONPYCACHEPREFIX": folder}


def seconds(cache: str, *words: str) -> float:
    """How long a process takes that keeps compiled modules in a folder."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *words], check=True, capture_output=True, env=compiled_in(cache))
    return time.perf_counter() - start


def main() -> None:
    """One line for each thing that is started."""
    job = str(min(shipped("examples").glob("*.toml")))
    with tempfile.TemporaryDirectory() as folder:
        cases = {
            "python alone": ("-c", "pass"),
            "import kit": ("-c", "import kit"),
            "sinkset --version": ("-c", COMMAND, "--version"),
            "sinkset check JOB": ("-c", COMMAND, "check", job),
            "sinkset estimate JOB --json": ("-c", COMMAND, "estimate", job, "--json"),
            "sinkset estimate JOB": ("-c", COMMAND, "estimate", job),
            "sinkset compare JOB": ("-c", COMMAND, "compare", job),
            "sinkset estimate JOB --out": ("-c", COMMAND, "estimate", job, "--out", str(Path(folder) / "out")),
        }
        print(f"{'':30} {'nothing compiled':>18} {'first':>8} {'median':>8}   [s]")
        for name, words in cases.items():
            with tempfile.TemporaryDirectory() as cache:
                cold, *took = [seconds(cache, *words) for _ in range(TRIALS + 1)]
            print(f"{name:30} {cold:18.2f} {took[0]:8.2f} {median(took):8.2f}")


if __name__ == "__main__":
    main()
