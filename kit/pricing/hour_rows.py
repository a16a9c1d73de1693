"""What does an hour of the own crew cost? Rows from the wage to the rate, with the burden as a share or worked out from its parts.

From its parts the burden follows the wage: what stops at a limit, or is plain money a year, is a smaller share of a higher wage. The same
year is added up by `kit.lists.add_up_burden` for the lists; a test holds the two together.
"""

from collections.abc import Sequence

from kit.lists.burden import SHARE_PLACES
from kit.lists.money_rows import BurdenPart, CountedAs
from kit.money import CENT_PLACES
from kit.pricing.job_terms import BurdenFigure, PriceTerms, burden_input
from kit.records import BuildUp

__all__ = ["hour_rows"]


def hour_rows(terms: PriceTerms) -> list[BuildUp]:
    """The rows that end in `labor-rate` [USD/h]."""
    burden = "burden" if terms.burden_parts else "in:burden"
    return [
        *(_burden_rows(terms.burden_parts) if terms.burden_parts else ()),
        BuildUp("burden-factor", "Wage and burden, as a factor", "sum", ("1", burden)),
        BuildUp("labor-rate", "Cost per hour", "times", ("in:wage", "burden-factor"), CENT_PLACES),
    ]


def _burden_rows(parts: Sequence[BurdenPart]) -> list[BuildUp]:
    """A year of one worker, over the hours worked in it, as a share of the wage."""
    further = [part for part in parts if part.counted_as in {"of-pay", "of-plain-pay", "a-year", "a-worked-hour"}]
    return [
        *_pay_rows(parts),
        *(row for part in further for row in _part_rows(part)),
        BuildUp("year", "A year of one worker: pay and parts", "sum", ("pay", *(f"burden:{part.part}" for part in further))),
        BuildUp("wages-worked", "Wage of the hours worked", "times", ("in:wage", "hours-worked")),
        BuildUp("on-top", "What a year costs beyond wages", "sum", ("year", "-wages-worked")),
        BuildUp("burden", "Burden on the wage, from its parts", "divide", ("on-top", "wages-worked"), SHARE_PLACES),
    ]


def _pay_rows(parts: Sequence[BurdenPart]) -> list[BuildUp]:
    """Hours and pay of the year."""
    paid, off, overtime = _named(parts, "paid-hours", "hours"), _named(parts, "hours-off", "hours"), _named(parts, "overtime-hours", "hours")
    on_top = [part for part in parts if part.counted_as == "overtime-hours"]
    return [
        BuildUp("hours-paid", "Hours paid at the wage in the year, overtime among them", "sum", (*paid, *overtime)),
        BuildUp("hours-worked", "Hours worked in the year", "sum", ("hours-paid", *(f"-{name}" for name in off))),
        BuildUp("pay-hours", "Pay for the hours at the wage", "times", ("in:wage", "hours-paid")),
        BuildUp("pay-plain", "Pay without the overtime premium", "sum", ("pay-hours", *_named(parts, "pay-added", "amount")), CENT_PLACES),
        *(
            BuildUp(f"pay:{part.part}", f"{part.name}: premium", "times", ("in:wage", burden_input(part, "hours"), burden_input(part, "share")))
            for part in on_top
        ),
        BuildUp("pay", "Pay of the year", "sum", ("pay-plain", *(f"pay:{part.part}" for part in on_top)), CENT_PLACES),
    ]


def _named(parts: Sequence[BurdenPart], counted_as: CountedAs, figure: BurdenFigure) -> list[str]:
    return [burden_input(part, figure) for part in parts if part.counted_as == counted_as]


def _part_rows(part: BurdenPart) -> list[BuildUp]:
    """What one part costs in the year."""
    name = f"burden:{part.part}"
    if part.counted_as == "a-year":
        return [BuildUp(name, part.name, "sum", (burden_input(part, "amount"),), CENT_PLACES)]
    if part.counted_as == "a-worked-hour":
        return [BuildUp(name, part.name, "times", (burden_input(part, "amount"), "hours-worked"), CENT_PLACES)]
    pay = "pay" if part.counted_as == "of-pay" else "pay-plain"
    if part.up_to is None:
        return [BuildUp(name, part.name, "times", (pay, burden_input(part, "share")), CENT_PLACES)]
    return [
        BuildUp(f"up-to:{part.part}", f"{part.name}: pay on which it falls", "min", (pay, burden_input(part, "up-to"))),
        BuildUp(name, part.name, "times", (f"up-to:{part.part}", burden_input(part, "share")), CENT_PLACES),
    ]
