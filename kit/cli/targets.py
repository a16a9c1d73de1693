"""Working back: what is wanted, the price and profit that give it, and what the owner then gets; as report and JSON."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from kit.cli.job_source import collect_faults
from kit.cli.report_text import Page, days_text, share_text
from kit.compare.figures import Figures, weigh_option, weigh_terms
from kit.document import lists_document, money_text, plain_job
from kit.errors import Fault, KitError, PriceError
from kit.estimating import Estimate, revalue
from kit.job import change_job
from kit.job.field_names import say_choice
from kit.money import EXACT, format_money, parse_money, to_decimal
from kit.pricing.work_back import WorkedBack, find_price, find_price_for_crew_days, find_price_for_margin
from kit.units import parse_quantity

__all__ = ["PriceTarget", "TargetAnswer", "TargetAnswers", "answer_targets", "read_targets", "target_document", "target_report"]

Kind = Literal["margin", "price", "crew_day"]
_PLACES = 6


@dataclass(frozen=True, slots=True)
class PriceTarget:
    """What the price is to reach: a share, or an amount [USD]."""

    kind: Kind
    value: Decimal

    @property
    def words(self) -> str:
        """What is asked for, as people say it."""
        match self.kind:
            case "margin":
                return f"Margin of {float(self.value) * 100:.10g}%"
            case "price":
                return f"Price of {format_money(self.value)}"
            case "crew_day":
                return f"{format_money(self.value)} for each crew-day"


@dataclass(frozen=True, slots=True)
class TargetAnswer:
    """A target, the price and profit that reach it, and the figures at that price."""

    target: PriceTarget
    price: WorkedBack
    figures: Figures


@dataclass(frozen=True, slots=True)
class TargetAnswers:
    """The estimate as its terms say, its figures, and the answer to each target."""

    estimate: Estimate
    figures: Figures
    answers: tuple[TargetAnswer, ...]


def read_targets(*, margin: str | None, price: str | None, crew_day: str | None) -> tuple[PriceTarget, ...]:
    """What the options say. Raises KitError with every one that can't be read."""
    targets: list[PriceTarget] = []
    faults: list[Fault] = []
    readers: tuple[tuple[Kind, str | None, Callable[[str], Decimal]], ...] = (
        ("margin", margin, _share),
        ("price", price, parse_money),
        ("crew_day", crew_day, parse_money),
    )
    for kind, text, read in readers:
        if text is not None:
            with collect_faults(faults, f"--{kind.replace('_', '-')}"):
                targets.append(PriceTarget(kind, read(text)))
    if faults:
        raise KitError(faults)
    return tuple(targets)


def _share(text: str) -> Decimal:
    return to_decimal(parse_quantity(text, "share"), _PLACES)


def answer_targets(estimate: Estimate, targets: Sequence[PriceTarget]) -> TargetAnswers:
    """The answer to each target. Raises PriceError with every target that no price reaches."""
    figures = weigh_option(estimate)
    answers: list[TargetAnswer] = []
    faults: list[Fault] = []
    for target in targets:
        with collect_faults(faults, target.words):
            price = _find_price(estimate, figures, target)
            answers.append(TargetAnswer(target, price, weigh_terms(figures, revalue(estimate, {}, {}, price.terms))))
    if faults:
        raise PriceError(faults)
    return TargetAnswers(estimate, figures, tuple(answers))


def _find_price(estimate: Estimate, figures: Figures, target: PriceTarget) -> WorkedBack:
    match target.kind:
        case "margin":
            return find_price_for_margin(estimate, target.value)
        case "price":
            return find_price(estimate, target.value)
        case "crew_day":
            return find_price_for_crew_days(estimate, target.value, to_decimal(figures.crew_days, _PLACES))


def target_document(result: TargetAnswers) -> dict[str, Any]:
    """`as_it_is`, and `targets` with what was wanted and what it takes; `profit` is the share that the terms then hold."""
    estimate = result.estimate
    return {
        "job": plain_job(estimate.job),
        "profit_as": estimate.terms.profit_as,
        "crew_days": round(result.figures.crew_days, _PLACES),
        "as_it_is": _figures(result.figures, estimate.terms.value("in:profit")),
        "targets": [
            {
                "wanted": one.target.kind,
                "value": float(one.target.value) if one.target.kind == "margin" else money_text(one.target.value),
                "exact": one.price.exact,
                **_figures(one.figures, one.price.profit),
            }
            for one in result.answers
        ],
        "lists": lists_document(estimate.lists),
    }


def _figures(figures: Figures, profit: Decimal) -> dict[str, Any]:
    amounts = {key: None if amount is None else money_text(amount) for key, _, amount in _amounts(figures)}
    return {"cost": money_text(figures.cost), **amounts, "margin": float(figures.margin), "profit": float(profit)}


def _amounts(figures: Figures) -> tuple[tuple[str, str, Decimal | None], ...]:
    """The money of an answer: its key in the document, its column in the report, the amount."""
    return (
        ("price", ">Price", figures.price),
        ("gross", ">Over direct cost", figures.gross),
        ("per_crew_day", ">Per crew-day", figures.per_crew_day),
        ("most_fronted", ">Our money out", figures.fronted),
    )


def target_report(result: TargetAnswers) -> str:
    """As in the terms and as wanted, a row each; then what to write into the job file."""
    estimate, page = result.estimate, Page()
    who = estimate.job.identity
    page.title(f"Worked back: {who.job_number}, {who.customer}", f"Direct cost {format_money(estimate.cost)}, {days_text(result.figures.crew_days)} crew-days")
    rows = [_row("As in the terms", result.figures, estimate.terms.value("in:profit"), met="")]
    rows += [_row(one.target.words, one.figures, one.price.profit, met="to the cent" if one.price.exact else "next possible") for one in result.answers]
    page.table("Prices", ("Target", *(column for _, column, _ in _amounts(result.figures)), ">Margin", ">Profit", "Met"), rows)
    if not all(one.price.exact for one in result.answers):
        page.note("Next possible: the minimum charge, rounding or tax leaves no price exactly on the target.")
    page.note(
        "Margin is the share of the price before tax collected that is over direct cost; overhead is still in it. "
        f"Profit is counted as {say_choice('terms.profit_as', estimate.terms.profit_as)}. To keep an answer, write its profit into the job file under [terms]:"
    )
    for one in result.answers:
        page.note(f"{one.target.words}: {_job_file_line(estimate, one.price.profit)}")
    return page.text()


def _row(target: str, figures: Figures, profit: Decimal, *, met: str) -> tuple[str, ...]:
    amounts = ("" if amount is None else format_money(amount) for _, _, amount in _amounts(figures))
    return (target, *amounts, share_text(float(figures.margin)), _percent(profit), met)


def _percent(profit: Decimal) -> str:
    """A share in percent with all the decimals it has."""
    return f"{EXACT.multiply(profit, Decimal(100)).normalize():f}%"


def _job_file_line(estimate: Estimate, profit: Decimal) -> str:
    """The line of a job file, or why it can't be one."""
    try:
        change_job(estimate.job_as_read, {"terms.profit": _percent(profit)})
    except KitError as error:
        return f"a job file can't say it: {error.faults[0].message}"
    return f'profit = "{_percent(profit)}"'
