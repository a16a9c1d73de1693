"""Why does the kitchen go without a sink for as long as it does? One sentence for owner and customer alike, by how counter and sink are set."""

from kit.design.named_goods import counter_kind
from kit.estimating import Estimate
from kit.outlook import plan_schedule

__all__ = ["why_sink_out"]


def why_sink_out(estimate: Estimate) -> str:
    """The sentence, with whom else the kitchen waits for while it is open; "" where no sink comes out."""
    if plan_schedule(estimate).days_without_sink is None:
        return ""
    design = estimate.design
    firm = " The asbestos firm works in between." if design.abatement.parts else ""
    inspector = " The inspector comes before anything covers the new work." if design.duties.permit else ""
    return f"{_by_setting(estimate)}{firm}{inspector}"


def _by_setting(estimate: Estimate) -> str:
    job, setting = estimate.job, estimate.design.setting
    if not estimate.design.removal.counter_comes_off:
        return (
            "Clips hold the rim, so the sink can be used the same day." if setting.clipped else "The sink's bead cures for a day before the drain hangs on it."
        )
    if setting.laid_in_place:
        return "The tile is laid, grouted and left to cure in the house."
    if job.counter.made_by == "us":
        coats = counter_kind(job, estimate.lists).finish_item is not None
        return f"The countertop is cut to fit{', coated' if coats else ''} and set in the house{', each coat left to dry' if coats else ''}."
    if setting.cradled:
        return "The shop measures over the new sink once it is set, so no sink works while it makes the countertop."
    if counter_kind(job, estimate.lists).cast_item is not None:
        return "The countertop is cast and cured while the old kitchen stays in use."
    return "The shop measures and makes the countertop while the old kitchen stays in use."
