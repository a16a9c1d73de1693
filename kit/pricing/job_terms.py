"""The terms of one job: the company's, unless the job's own or the state's preset say otherwise."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, get_args

from kit.errors import Fault, JobError
from kit.job import FilledJob
from kit.lists import Lists
from kit.lists.burden import SHARE_PLACES as BURDEN_PLACES
from kit.lists.company import Company
from kit.lists.money_rows import NO_PRESET, BurdenPart, HiredAs, OverheadAs, ProfitAs, State, StatePreset, TaxMode, TaxRounding, TaxWhenBought
from kit.money import CENT, to_decimal
from kit.units import format_trials

__all__ = ["BurdenFigure", "Input", "PriceTerms", "burden_input", "find_preset", "resolve_terms"]

SHARE_PLACES = 10  # working back looks as fine, so that a job file can hold what it finds

BurdenFigure = Literal["hours", "share", "amount", "up-to"]

_OVERHEAD: dict[OverheadAs, str] = {"of-cost": "Overhead on direct cost", "of-price": "Overhead as a share of the price"}
_PROFIT: dict[ProfitAs, str] = {
    "markup": "Profit as a markup on cost with overhead",
    "margin": "Profit as a share of the price",
    "of-cost": "Profit on direct cost, beside overhead",
}
_TAX: dict[TaxMode, str] = {
    "material-cost": "Sales tax that we pay on material (ask your tax adviser)",
    "material-price": "Sales tax on the stated price of material, and on the cost of what the work uses up (ask your tax adviser)",
    "everything": "Sales tax on the whole price, and on the cost of what the work uses up (ask your tax adviser)",
    "exempt": "Sales tax, exempt (ask your tax adviser)",
}

_FIGURES: dict[BurdenFigure, tuple[str, Literal["share", "money", "hours"]]] = {
    "hours": ("hours in the year", "hours"),
    "share": ("share", "share"),
    "amount": ("amount", "money"),
    "up-to": ("up to so much pay", "money"),
}


@dataclass(frozen=True, slots=True)
class Input:
    """A number that the price depends on and that a person may change: in the sheet it is a marked, named cell."""

    id: str
    label: str
    value: Decimal
    kind: Literal["share", "money", "hours"]


@dataclass(frozen=True, slots=True)
class PriceTerms:
    """The inputs of the build-up, and the choices that shape it.

    Overhead and profit of ten percent each have three readings: side by side on cost (`of-cost` and `of-cost`, 1.20 times the cost), one
    on top of the other (`of-cost` and `markup`, 1.21), and as shares of the price (`of-price` and `margin`, 1.25). A price may be asked
    in other ways too: each choice holds by itself. `deposit_share` and `hold_share` are for the draws only. With
    `burden_parts` the burden is worked out from them, so that it follows the wage; without, it is the share `in:burden`.
    """

    inputs: tuple[Input, ...]
    profit_as: ProfitAs
    tax_on: TaxMode
    deposit_share: Decimal
    hold_share: Decimal
    overhead_as: OverheadAs = "of-cost"
    hired_as: HiredAs = "as-own"
    tax_rounding: TaxRounding = "invoice"
    packs_charged: Literal["whole", "by-use"] = "whole"
    preset: StatePreset | None = None
    tax_when_bought: TaxWhenBought = "resale"
    burden_parts: tuple[BurdenPart, ...] = ()

    def value(self, name: str) -> Decimal:
        """The value of an input by its id, such as `in:overhead`."""
        return self.input(name).value

    def input(self, name: str) -> Input:
        """An input by its id."""
        return next(term for term in self.inputs if term.id == name)

    def has(self, name: str) -> bool:
        """Whether the build-up reads such an input."""
        return any(term.id == name for term in self.inputs)


def find_preset(job: FilledJob, lists: Lists) -> StatePreset | None:
    """The preset of the job, else of the company; None where neither names one.

    Raises JobError if the job names one that the lists don't hold, or one of another state.
    """
    name = job.terms.state_preset or lists.company.state_preset
    if name == NO_PRESET:
        return None
    preset, place = lists.state_presets.get(name), "terms.state_preset"
    if preset is None:
        raise JobError(Fault(place, f'"{name}" is not in state_presets.csv. Known: {", ".join(lists.state_presets)}, or {NO_PRESET}.'))
    if preset.state != job.site.state and job.site.state in get_args(State):
        raise JobError(Fault(place, f'"{name}" is a preset of {preset.state}, but site.state is "{job.site.state}".'))
    return preset


def resolve_terms(job: FilledJob, lists: Lists) -> PriceTerms:
    """The job's own terms where it has some, then the preset's, then the company's. Raises JobError as `find_preset`."""
    terms, company, preset = job.terms, lists.company, find_preset(job, lists)
    profit_as, overhead_as = terms.profit_as or company.profit_as, terms.overhead_as or company.overhead_as
    hired_as = terms.hired_as or company.hired_as
    tax_on = terms.tax_on or (preset.tax_on if preset else company.tax_on)
    parts = lists.burden if company.burden_from == "parts" else ()
    inputs = [
        Input("in:wage", "Wage per hour", company.wage, "money"),
        *(burden_inputs(parts) if parts else (Input("in:burden", "Burden on the wage", _share(None, company.burden), "share"),)),
        Input("in:tax", _TAX[tax_on], _share(terms.tax_share, company.tax), "share"),
        _contingency(job, company),
        Input("in:warranty", "Warranty reserve", _share(terms.warranty_share, company.warranty), "share"),
        Input("in:overhead", _OVERHEAD[overhead_as], _share(terms.overhead_share, company.overhead), "share"),
        Input("in:profit", _PROFIT[profit_as], _share(terms.profit_share, company.profit), "share"),
        Input("in:least", "Minimum charge", company.least_charge, "money"),
    ]
    if tax_on == "material-price":
        inputs.append(
            Input("in:material-markup", "Markup in the stated price of material", _share(terms.material_markup_share, company.material_markup), "share")
        )
    if hired_as != "as-own":
        inputs.append(Input("in:handling", "Handling on hired trades", _share(terms.handling_share, company.handling), "share"))
    step = company.round_to if terms.round_to is None else terms.round_to
    if step > CENT:
        inputs.append(Input("in:round-to", "The price is rounded to the nearest", step, "money"))
    return PriceTerms(
        inputs=tuple(inputs),
        profit_as=profit_as,
        tax_on=tax_on,
        overhead_as=overhead_as,
        hired_as=hired_as,
        tax_rounding=terms.tax_rounding or company.tax_rounding,
        packs_charged=terms.packs_charged or company.packs_charged,
        deposit_share=_share(terms.deposit_share, company.deposit),
        hold_share=_share(terms.hold_share, company.hold),
        preset=preset,
        tax_when_bought=(preset.tax_when_bought if preset else None) or company.tax_when_bought,
        burden_parts=parts,
    )


def _share(own: float | None, general: float) -> Decimal:
    return to_decimal(general if own is None else own, SHARE_PLACES)


def _contingency(job: FilledJob, company: Company) -> Input:
    """An amount where the job's terms hold one, else a share of direct cost."""
    terms = job.terms
    if terms.contingency_amount is None:
        return Input("in:contingency", "Contingency on direct cost", _share(terms.contingency_share, company.contingency), "share")
    known = [] if terms.contingency_confidence_share is None else [f"enough in {format_trials(terms.contingency_confidence_share)}"]
    known += [] if terms.contingency_seed is None else [f"seed {terms.contingency_seed}"]
    label = "Contingency as an amount" + (f" ({', '.join(known)})" if known else "")
    return Input("in:contingency", label, terms.contingency_amount, "money")


def burden_input(part: BurdenPart, figure: BurdenFigure) -> str:
    """The id of the input that holds one figure of a part."""
    return f"in:burden-{part.part}-{figure}"


def burden_inputs(parts: Sequence[BurdenPart]) -> Iterator[Input]:
    """An input for each figure of each part of the burden."""
    for part in parts:
        for figure, (says, kind) in _FIGURES.items():
            value = getattr(part, figure.replace("-", "_"))
            if value is not None:
                yield Input(burden_input(part, figure), f"{part.name}: {says}", value if kind == "money" else to_decimal(value, BURDEN_PLACES), kind)
