"""From key press to new text on the screen, measured inside the page: the estimator's total beside an empty slider that is echoed by a label."""

import json
import math
import statistics
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

ECHO = "echo.ipynb"
ECHO_CODE = """import ipywidgets as widgets
slider = widgets.FloatSlider(min=0, max=100, step=1, value=50, description="Echo")
label = widgets.HTML("<b>50</b>")
label.add_class("echo")
slider.observe(lambda change: setattr(label, "value", f"<b>{change.new}</b>"), names="value")
screen = widgets.VBox([slider, label, widgets.Button(description="-")])
screen.add_class("sk-screen")
screen"""
MORE_MS = 30.0
PAUSE_MS = 100

WATCH = """place => {
  const node = document.querySelector(place);
  window.sk_times = [];
  let start = null, before = null;
  if (window.sk_stop) window.sk_stop();
  const press = () => { start = performance.now(); before = node.textContent; };
  const seen = () => {
    if (start === null || node.textContent === before) return;
    window.sk_times.push(performance.now() - start);
    start = null;
  };
  const observer = new MutationObserver(seen);
  observer.observe(node, { subtree: true, childList: true, characterData: true });
  const begins = ["keydown", "click"];
  for (const name of begins) window.addEventListener(name, press, true);
  window.sk_stop = () => { observer.disconnect(); for (const name of begins) window.removeEventListener(name, press, true); };
}"""


def write_echo(home: Path) -> None:
    """The empty echo as a notebook beside the others."""
    cell = {"cell_type": "code", "execution_count": None, "id": "echo", "metadata": {}, "outputs": [], "source": ECHO_CODE}
    kernel = {"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"}}
    document = {"cells": [cell], "metadata": kernel, "nbformat": 4, "nbformat_minor": 5}
    (home / "notebooks" / ECHO).write_text(json.dumps(document), encoding="utf-8")


def time_presses(page: Any, handle: Any, place: str, presses: int, *, rest: str | None = None) -> list[float]:
    """Milliseconds from each key press on a slider's handle to the first change of the text at `place`; before each the screen comes to `rest`."""
    page.evaluate(WATCH, place)
    for number in range(presses):
        page.wait_for_timeout(PAUSE_MS)  # or a press would wait for the one before it
        if rest is not None:
            page.wait_for_selector(rest)
        handle.press("ArrowRight" if number % 10 < 5 else "ArrowLeft")
        page.wait_for_function("count => window.sk_times.length > count", arg=number)
    return [float(each) for each in page.evaluate("() => window.sk_times")]


def time_acts(page: Any, place: str, acts: Iterable[Callable[[], object]]) -> list[float]:
    """Milliseconds from each click or last key press to the first change of the text at `place`."""
    page.evaluate(WATCH, place)
    for number, act in enumerate(acts):
        page.wait_for_timeout(PAUSE_MS)
        act()
        page.wait_for_function("count => window.sk_times.length > count", arg=number)
    return [float(each) for each in page.evaluate("() => window.sk_times")]


def time_settling(page: Any, handle: Any, place: str) -> tuple[float, int]:
    """A drag of a second: milliseconds from letting go to the last change of the text at `place`, and how many changes there were in all."""
    page.evaluate(
        """place => {
          const node = document.querySelector(place);
          window.sk_drag = { count: 0, last: 0, up: 0 };
          let text = node.textContent;
          new MutationObserver(() => {
            if (node.textContent === text) return;
            text = node.textContent; window.sk_drag.count += 1; window.sk_drag.last = performance.now();
          }).observe(node, { subtree: true, childList: true, characterData: true });
          window.addEventListener("mouseup", () => { window.sk_drag.up = performance.now(); }, true);
        }""",
        place,
    )
    handle.scroll_into_view_if_needed()  # a pointer reaches only what is in sight
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(60):
        page.mouse.move(x + (step if step % 20 < 10 else -step), y)
        page.wait_for_timeout(16)
    page.mouse.up()
    page.wait_for_timeout(1500)
    found = page.evaluate("() => window.sk_drag")
    return max(float(found["last"]) - float(found["up"]), 0.0), int(found["count"])


def percentile(times: list[float], share: float) -> float:
    """The value that this share of the times does not exceed."""
    return sorted(times)[math.ceil(share * len(times)) - 1]


def limit_ms(echo: list[float]) -> float:
    """What the 95th percentile may reach: 30 ms more than the echo's."""
    return percentile(echo, 0.95) + MORE_MS


def told(what: str, times: list[float]) -> str:
    """One row of figures."""
    return f"{what:34s} median {statistics.median(times):6.1f} ms   95th {percentile(times, 0.95):6.1f} ms   of {len(times)}"
