"""One alternate from ordering to the last payment: how sure its cost and its last day are, its cash, its calendar."""

from functools import partial

from kit.draw.calendar_chart import draw_calendar
from kit.draw.cash_chart import draw_cash, draw_cash_days
from kit.draw.folds import draw_fold
from kit.draw.spread import draw_cost_spread, draw_finish_spread
from kit.draw.widths import BOTH, OnShow, draw_for_widths
from kit.estimating import Estimate
from kit.labor.job_schedule import JobSchedule
from kit.outlook import JobRisk, cash_of

__all__ = ["draw_one_alternate"]


def draw_one_alternate(estimate: Estimate, schedule: JobSchedule, risk: JobRisk | None, on_show: OnShow = BOTH) -> str:
    """Its charts beside each other where there is room, as HTML; without the spread while nothing has been tried."""
    cash = cash_of(estimate, schedule)
    spread = [partial(draw_cost_spread, risk), partial(draw_finish_spread, risk)] if risk is not None else []
    calendar = draw_for_widths(partial(draw_calendar, schedule, estimate.step_names), on_show)
    charts = "".join(f"<div>{draw_for_widths(draw, on_show)}</div>" for draw in (*spread, partial(draw_cash, cash)))
    waiting = "" if spread else "<p>How sure cost and finish are: being worked out.</p>"
    days = f"<div>{draw_fold('Cash by day', draw_cash_days(cash), opened=False in on_show)}</div>"  # at a desk there is room for it beside the chart
    return f"{calendar}<div class='sk-charts'>{charts}{days}</div>{waiting}"
