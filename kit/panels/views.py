"""What follows from a job, one view a question; each gives HTML and knows no widget."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from kit.draw.calendar_chart import draw_calendar
from kit.draw.cuts import draw_cut_plans
from kit.draw.drawings import list_pictures
from kit.draw.tables import draw_assumptions, draw_build_up, draw_dates, draw_findings, draw_hours, draw_lines, draw_purchases, draw_risk
from kit.estimate import Estimate
from kit.outlook import risk_of, schedule_of

__all__ = ["VIEWS", "View"]

View = Callable[[Estimate, bool, bool], str]
"""An estimate, whether cost is hidden, whether the job is at rest; gives HTML."""

HIDDEN = "<p>Cost, wage, margin and risk are hidden while the customer looks on. F2 shows them again.</p>"


def _findings(estimate: Estimate, _: bool, __: bool) -> str:  # noqa: FBT001 - one shape for all views
    return draw_findings(estimate.findings) + draw_assumptions(estimate.assumptions)


def _drawings(estimate: Estimate, _: bool, __: bool) -> str:  # noqa: FBT001
    return "".join(f"<div class='sk-drawing'>{drawing}</div>" for _, drawing in list_pictures(estimate))


def _takeoff(estimate: Estimate, _: bool, __: bool) -> str:  # noqa: FBT001
    return draw_lines(estimate.lines, estimate.lists)


def _purchases(estimate: Estimate, private: bool, _: bool) -> str:  # noqa: FBT001
    plans = [f"<div class='sk-drawing'>{drawing}</div>" for _, drawing in draw_cut_plans(estimate)]
    return draw_purchases(estimate.purchases, estimate.lists, private=private) + "".join(plans)


def _hours(estimate: Estimate, private: bool, _: bool) -> str:  # noqa: FBT001
    labels = {step: row.name for step, row in estimate.lists.steps.items()}
    schedule = schedule_of(estimate)
    chart = f"<div class='sk-drawing'>{draw_calendar(schedule, labels)}</div>"
    return draw_dates(schedule) + chart + ("" if private else draw_hours(estimate.tasks, labels))


def _price(estimate: Estimate, private: bool, at_rest: bool) -> str:  # noqa: FBT001
    if private:
        return HIDDEN
    return draw_build_up(estimate.build_up, estimate.terms) + (
        draw_risk(risk_of(estimate)) if at_rest else "<p>How sure: worked out when the job is at rest.</p>"
    )


VIEWS: Mapping[str, View] = MappingProxyType(
    {"Findings": _findings, "Drawings": _drawings, "Takeoff": _takeoff, "Purchases": _purchases, "Hours and calendar": _hours, "Price and risk": _price}
)
