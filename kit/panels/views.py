"""What follows from a job as HTML: the picture beside a step, and the sheets of "Price and papers"; none knows a widget."""

from collections.abc import Callable, Mapping
from functools import partial
from types import MappingProxyType

from kit.draw.alternates import draw_price_parts
from kit.draw.calendar_chart import draw_calendar
from kit.draw.cash_chart import draw_cash, draw_cash_days
from kit.draw.cuts import draw_cut_plans
from kit.draw.drawings import list_views
from kit.draw.folds import draw_fold
from kit.draw.front_elevation import draw_front
from kit.draw.level_profile import draw_level_profile
from kit.draw.plan import draw_plan
from kit.draw.section import draw_section
from kit.draw.set_out import draw_set_out
from kit.draw.sink_sizes import draw_sink_sizes
from kit.draw.tables import draw_build_up, draw_dates, draw_hours, draw_lines, draw_purchases, draw_risk
from kit.draw.today import draw_today
from kit.draw.way_in_picture import draw_way_in
from kit.draw.widths import BOTH, OnShow, draw_for_widths
from kit.estimating import Estimate
from kit.outlook import assess_risk, cash_of, plan_schedule
from kit.panels.verdict import say_signed

__all__ = ["SHEETS", "Sheet", "draw_picture"]

Sheet = Callable[[Estimate, bool, OnShow], str]
"""An estimate, whether the job is at rest, and the layouts on show; gives HTML."""
_Picture = Callable[[Estimate, OnShow], str]


def _for_widths(draw: Callable[..., str]) -> _Picture:
    return lambda estimate, on_show: draw_for_widths(partial(draw, estimate), on_show)


_PICTURES: Mapping[str, _Picture] = MappingProxyType(
    {
        "way-in": _for_widths(draw_way_in),
        "front": _for_widths(draw_front),
        "today": _for_widths(draw_today),
        "sink": _for_widths(draw_sink_sizes),
        "plan": _for_widths(draw_plan),
        "section": _for_widths(draw_section),
        "level": _for_widths(draw_level_profile),
    }
)


def draw_picture(name: str, estimate: Estimate, on_show: OnShow = BOTH) -> str:
    """The picture of a step, by its name, in the layouts on show."""
    return _PICTURES[name](estimate, on_show) if name else ""


def _price(estimate: Estimate, at_rest: bool, on_show: OnShow) -> str:  # noqa: FBT001 - one shape for all sheets
    return (
        draw_price_parts(estimate, on_show)
        + draw_build_up(estimate.build_up, estimate.terms)
        + (draw_risk(assess_risk(estimate), on_show) if at_rest else "<p>How sure: worked out when you stop typing.</p>")
    )


def _purchases(estimate: Estimate, _: bool, on_show: OnShow) -> str:  # noqa: FBT001
    def draw(*, narrow: bool) -> str:
        return "".join(drawing for _, drawing in draw_cut_plans(estimate, narrow=narrow))

    return draw_purchases(estimate.purchases, estimate.lists) + draw_for_widths(draw, on_show)


def _calendar(estimate: Estimate, _: bool, on_show: OnShow) -> str:  # noqa: FBT001
    labels = estimate.step_names
    schedule = plan_schedule(estimate)
    cash = cash_of(estimate, schedule)
    by_day = draw_fold("Cash by day", draw_cash_days(cash))
    charts = "".join(draw_for_widths(draw, on_show) for draw in (partial(draw_calendar, schedule, labels), partial(draw_cash, cash)))
    return draw_dates(schedule, say_signed(estimate)) + charts + by_day + draw_hours(estimate.tasks, labels)


def _takeoff(estimate: Estimate, _: bool, __: OnShow) -> str:  # noqa: FBT001
    return draw_lines(estimate.lines, estimate.lists, estimate.step_names)


def _drawings(estimate: Estimate, _: bool, on_show: OnShow) -> str:  # noqa: FBT001
    def draw(*, narrow: bool) -> str:
        return "".join((*draw_set_out(estimate, narrow=narrow), *(drawing for _, drawing in list_views(estimate, narrow=narrow))))

    return draw_for_widths(draw, on_show)


SHEETS: Mapping[str, tuple[str, Sheet]] = MappingProxyType(
    {
        "made-of": ("What the price is made of", _price),
        "purchases": ("Purchases and cut plans", _purchases),
        "calendar": ("Days, cash and hours", _calendar),
        "takeoff": ("Quantities and their working", _takeoff),
        "drawings": ("All drawings", _drawings),
    }
)
"""The sheets by their id, each with its name."""
