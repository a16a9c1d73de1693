"""How a test finds a field on the estimator's screen: it turns to the part of the job, as a person does, and takes the widget."""

from typing import Any

from kit.panels import Estimator


def control(screen: Estimator, place: str) -> Any:
    """The widget of a field by its place, such as "cabinet.width"."""
    screen.panel.part.value = place.partition(".")[0].partition("[")[0]
    return screen.panel.controls[place].widget


def slider(screen: Estimator, place: str) -> Any:
    """The what-if slider of a field."""
    screen.panel.part.value = "what if"
    return screen.panel.sliders[place].widget
