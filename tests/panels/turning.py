"""How a test finds a field on the estimator's screen: it turns to the step of the visit, as a person does, and takes the widget."""

import time
from collections.abc import Callable, Iterator
from typing import Any

from kit.panels import Estimator
from kit.panels.visit_steps import step_of_field


def control(screen: Estimator, place: str) -> Any:
    """The widget of a field by its place, such as "cabinet.width"; where it lies under "More", that is opened."""
    screen.go(f"{step_of_field(place)}/{place}")
    return screen.panel.controls[place].widget


def slider(screen: Estimator, place: str) -> Any:
    """The what-if slider of a field."""
    screen.go("options")
    return screen.options.what_if.sliders[place].widget


def wait_for(there: Callable[[], object], most_s: float = 60.0) -> None:
    """Wait until another thread has done its part."""
    end = time.monotonic() + most_s
    while not there():
        assert time.monotonic() < end
        time.sleep(0.01)


def walk(box: Any) -> Iterator[Any]:
    """A widget and all that it holds."""
    yield box
    for child in getattr(box, "children", ()):
        yield from walk(child)
