"""How long do drawings take? Prints milliseconds for each example; run by hand: `python tests/bench/draw.py`."""

import statistics
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import kit
from kit.draw.drawings import list_drawings, render_pngs
from kit.draw.front_elevation import draw_front
from kit.draw.plan import draw_plan
from kit.draw.section import draw_section

ROUNDS = 40


def milliseconds(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Median of some rounds after one to warm up."""
    work()
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1e3)
    return statistics.median(times)


def show(path: Path, lists: kit.Lists) -> None:
    """One line of figures for one job file."""
    made = kit.estimate(kit.read_job(path), lists)
    three = [milliseconds(partial(draw, made)) for draw in (draw_front, draw_section, draw_plan)]
    everything = milliseconds(lambda: list(list_drawings(made)))
    size = sum(len(draw(made)) for draw in (draw_front, draw_section, draw_plan)) / 1000
    picture = milliseconds(lambda: render_pngs([draw_section(made)]), 5)
    print(f"{path.stem:32} {three[0]:7.2f} {three[1]:7.2f} {three[2]:7.2f} {sum(three):7.2f} {everything:7.2f} {size:6.1f} {picture:8.1f}")


def main() -> None:
    lists = kit.load_lists(kit.shipped("price_lists"))
    print(f"{'example':32} {'front':>7} {'section':>7} {'plan':>7} {'three':>7} {'all':>7} {'kB':>6} {'one PNG':>8}  [ms]")
    for path in sorted(kit.shipped("examples").glob("*.toml")):
        show(path, lists)


if __name__ == "__main__":
    main()
