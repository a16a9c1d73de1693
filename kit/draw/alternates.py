"""Alternates side by side as HTML tables and bars: what they cost, what stands against them, what changes between two."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from kit.compare import Difference, Fact, Figures, Option
from kit.draw.bars import draw_bars
from kit.draw.tables import draw_table, level_sign
from kit.estimate import Estimate
from kit.money import EXACT, format_money

__all__ = ["draw_alternate_bars", "draw_alternates", "draw_differences", "draw_worked_back"]

SHOWN = 6
_NUMBERS = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)


def draw_alternates(options: Sequence[Option], figures: Mapping[str, Figures]) -> str:
    """Every alternate in its order; `figures` by its id, without those that are not priced."""
    columns = (
        "Alternate",
        "Price",
        "Direct cost",
        "Margin",
        "Margin %",
        "Margin a crew-day",
        "Own hours",
        "Hired",
        "Trips",
        "Cash we front",
        "Cost, P80",
        "Days without a sink",
        "Lead time [days]",
        "Worst finding",
        "Cut-out by",
        "Allowed",
    )
    rows = [_row(option, figures.get(option.id)) for option in options]
    return draw_table("Alternates: lawful ones first, the counter kept before another, then by price", columns, rows, numbers=_NUMBERS, heads=True)


def _row(option: Option, found: Figures | None) -> tuple[str, ...]:
    name = f"{option.name}{' (this job)' if option.chosen else ''}"
    if found is None:
        return (name, *["-"] * 14, f"no: {option.reason}")
    allowed = f"yes: {option.reason}" if option.lawful else f"not buildable: {option.reason}"
    return (
        name,
        format_money(found.price),
        format_money(found.cost),
        format_money(found.gross),
        f"{found.margin:.1%}",
        "-" if found.per_crew_day is None else format_money(found.per_crew_day),
        f"{found.own_hours:.1f}",
        format_money(found.hired),
        str(found.trips),
        format_money(found.fronted),
        format_money(found.p80),
        "-" if found.days_without_sink is None else f"{found.days_without_sink:.1f}",
        f"{found.lead_days:.1f}",
        "-" if found.worst is None else f"{level_sign(found.worst.level)}: {found.worst.check}",
        found.cut_out_by,
        allowed,
    )


def draw_alternate_bars(options: Sequence[Option], made: Mapping[str, Estimate]) -> str:
    """The price of the first few alternates as bars of its parts; `made` holds the estimates by id."""
    rows = [(option.name, _parts(made[option.id])) for option in options if option.id in made][:SHOWN]
    return draw_bars("What the price is made of", rows)


def _parts(made: Estimate) -> list[tuple[str, Decimal]]:
    material, hired, labour = (made.amount(row) for row in ("material", "hired", "labour"))
    known = EXACT.add(EXACT.add(material, hired), labour)
    return [
        ("material", material),
        ("hired trades and fabricator", hired),
        ("own labour", labour),
        ("fees, tax and the rest of cost", EXACT.subtract(made.cost, known)),
        ("over direct cost", EXACT.subtract(made.price, made.cost)),
    ]


def draw_differences(old: str, new: str, rows: Sequence[Difference], facts: Sequence[Fact]) -> str:
    """What changes from one alternate to another, by their names."""
    told = draw_table(
        f"What is built otherwise: {old} against {new}", ("What", "First", "Second"), [(fact.what, fact.before, fact.after) for fact in facts], heads=True
    )
    table = [(row.what, format_money(row.before), format_money(row.after), _signed(row.amount), f"{row.hours:+.2f}" if row.hours else "-") for row in rows]
    total = EXACT.add(Decimal("0.00"), sum((row.amount for row in rows), Decimal(0)))
    hours = sum(row.hours for row in rows)
    table.append(("Price", "", "", _signed(total), f"{hours:+.2f}"))
    return told + draw_table("What changes, largest first", ("What", "First", "Second", "Change [USD]", "Own hours"), table, numbers=(1, 2, 3, 4), heads=True)


def _signed(amount: Decimal) -> str:
    return f"{'+' if amount > 0 else '-' if amount < 0 else ''}{format_money(abs(amount))}"


def draw_worked_back(margin: float, rows: Sequence[tuple[str, Decimal, Decimal]]) -> str:
    """For each alternate its name, its price now and the price that leaves the wanted margin (0 to 1)."""
    table = [(name, format_money(now), format_money(wanted), _signed(EXACT.subtract(wanted, now))) for name, now, wanted in rows]
    columns = ("Alternate", "Price now", "Price at that margin", "Change")
    return draw_table(f"Worked back: the lowest price that leaves {margin:.1%} over direct cost", columns, table, numbers=(1, 2, 3), heads=True)
