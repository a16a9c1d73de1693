"""The inspector's visits and the permit, where the work asks for one; the local office decides."""

from kit.records import Line
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import n, total

__all__ = ["count_inspection"]


def count_inspection(sheet: Sheet) -> list[Line]:
    """Someone is there for the rough and the final visit; the fee is the job's own, else the list's."""
    if not sheet.design.duties.permit:
        return []
    step, stated = Step.INSPECT, sheet.job.terms.permit_fee
    fee = sheet.fee(step, "permit", "fee", n(1, "permit")) if stated is None else sheet.fee(step, "permit-stated", "fee", n(float(stated), "USD as stated"))
    return [sheet.do(step, "inspection-visit", "be there", total([n(1, "rough visit"), n(1, "final visit")])), fee]
