"""What does a job go by in a list to choose from? By its customer and number, an example by its kind, never by the name of a file alone."""

import tomllib
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

__all__ = ["name_example", "name_job", "tell_apart"]


def name_job(path: Path) -> str:
    """Customer and job number of a job file; its file name where it can't be read. Only these two are read: a folder may hold hundreds."""
    try:
        stat = path.stat()
    except OSError:
        return path.stem
    return _read_name(path, stat.st_mtime_ns, stat.st_size)


@lru_cache(maxsize=4096)
def _read_name(path: Path, *_: int) -> str:
    try:
        identity = tomllib.loads(path.read_text(encoding="utf-8"))["identity"]
        return f"{identity.get('customer', 'customer not named yet')}, {identity['job_number']}"
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return path.stem


def name_example(path: Path) -> str:
    """An example by its kind.

    Examples
    --------
    >>> name_example(Path("stone_apron_single_bowl.toml"))
    'Example: stone apron single bowl'
    """
    return f"Example: {path.stem.replace('_', ' ')}"


def tell_apart(named: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """Pairs of name and file; jobs of one name get their file beside it.

    Examples
    --------
    >>> tell_apart([("K. Sample, 7", "a.toml"), ("K. Sample, 7", "b.toml")])
    [('K. Sample, 7 (a)', 'a.toml'), ('K. Sample, 7 (b)', 'b.toml')]
    """
    often = Counter(name for name, _ in named)
    return [(f"{name} ({Path(file).stem})" if often[name] > 1 else name, file) for name, file in named]
