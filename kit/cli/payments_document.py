"""When the customer pays, and how much of our own money is in the job day by day, as plain data."""

from typing import Any

from kit.document import money_text, plain
from kit.estimate import Estimate
from kit.outlook import cash_of
from kit.pricing import plan_draws

__all__ = ["payments_document"]


def payments_document(estimate: Estimate) -> dict[str, Any]:
    """`draws`, which sum to the price, and `cash` by day; a draw's `step` is None where it is due at signing."""
    if not estimate.price:
        return {"draws": [], "cash": None}
    draws, cash = plan_draws(estimate), cash_of(estimate)
    return {
        "draws": [
            {
                "number": number,
                "label": draw.label,
                "step": None if draw.step is None else str(draw.step),
                "day": day.isoformat(),
                "earned": money_text(draw.earned),
                "held": money_text(draw.held),
                "due": money_text(draw.due),
            }
            for number, (draw, day) in enumerate(zip(draws.draws, cash.draw_days, strict=True), 1)
        ],
        "cash": {
            "most_fronted": money_text(cash.most_fronted),
            "worst_day": cash.worst.day.isoformat(),
            "days": plain(cash.days),
            "flows": plain(cash.flows),
        },
    }
