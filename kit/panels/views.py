"""What follows from a job, one view a question; each gives HTML and knows no widget."""

from collections.abc import Callable, Mapping
from html import escape
from types import MappingProxyType

from kit.draw.calendar_chart import draw_calendar
from kit.draw.cuts import draw_cut_plans
from kit.draw.front import draw_front
from kit.draw.plan import draw_plan
from kit.draw.section import draw_section
from kit.draw.tables import draw_assumptions, draw_build_up, draw_dates, draw_findings, draw_hours, draw_lines, draw_purchases, draw_risk
from kit.estimate import Estimate
from kit.outlook import risk_of, schedule_of

__all__ = ["VIEWS", "View", "say_failure"]

View = Callable[[Estimate, bool, bool], str]
"""An estimate, whether cost is hidden, whether the job is at rest; gives HTML."""

HIDDEN = "<p>Cost, wage, margin and risk are hidden while the customer looks on. F2 shows them again.</p>"


def _findings(made: Estimate, _: bool, __: bool) -> str:  # noqa: FBT001 - one shape for all views
    return draw_findings(made.findings) + draw_assumptions(made.assumptions)


def _drawings(made: Estimate, _: bool, __: bool) -> str:  # noqa: FBT001
    return "".join(f"<div class='sk-drawing'>{draw(made)}</div>" for draw in (draw_front, draw_section, draw_plan))


def _takeoff(made: Estimate, _: bool, __: bool) -> str:  # noqa: FBT001
    return draw_lines(made.lines, made.lists)


def _purchases(made: Estimate, private: bool, _: bool) -> str:  # noqa: FBT001
    plans = [f"<div class='sk-drawing'>{drawing}</div>" for _, drawing in draw_cut_plans(made.purchases)]
    return draw_purchases(made.purchases, made.lists, private=private) + "".join(plans)


def _hours(made: Estimate, private: bool, _: bool) -> str:  # noqa: FBT001
    labels = {step: row.name for step, row in made.lists.steps.items()}
    schedule = schedule_of(made)
    chart = f"<div class='sk-drawing'>{draw_calendar(schedule, labels)}</div>"
    return draw_dates(schedule) + chart + ("" if private else draw_hours(made.tasks, labels))


def _price(made: Estimate, private: bool, at_rest: bool) -> str:  # noqa: FBT001
    if private:
        return HIDDEN
    return draw_build_up(made.build_up, made.terms) + (draw_risk(risk_of(made)) if at_rest else "<p>How sure: worked out when the job is at rest.</p>")


VIEWS: Mapping[str, View] = MappingProxyType(
    {"Findings": _findings, "Drawings": _drawings, "Takeoff": _takeoff, "Purchases": _purchases, "Hours and calendar": _hours, "Price and risk": _price}
)


def say_failure(what: str, error: Exception) -> str:
    """A message in the place of what failed, in words."""
    return f"<div class='sk-faults' role='alert'>{escape(what)} could not be shown: {escape(str(error) or type(error).__name__)} The rest works on.</div>"
