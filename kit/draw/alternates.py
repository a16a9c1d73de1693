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


def draw_alternates(options: Sequence[Option], figures: Mapping[str, Figures]) -> str:
    """Every alternate in its order, its money and then its days; `figures` by its id, without those that are not priced."""
    money = [(_name(option), *_money(figures.get(option.id))) for option in options]
    days = [(_name(option), *_days(option, figures.get(option.id))) for option in options]
    first = "Alternates: lawful ones first, the counter kept before another, then by price"
    return draw_table(first, ("Alternate", *_MONEY), money, numbers=range(1, len(_MONEY) + 1), heads=True) + draw_table(
        "When they are done, and what stands against them", ("Alternate", *_DAYS), days, numbers=(1, 2, 3), heads=True
    )


_MONEY = ("Price", "Direct cost", "Margin", "Margin %", "Margin a crew-day", "Cost, P80", "Hired", "Own hours", "Cash we front")
_DAYS = ("Trips", "Days without a sink", "Lead time [days]", "Allowed", "Worst finding", "Cut-out by")


def _name(option: Option) -> str:
    return f"{option.name}{' (this job)' if option.chosen else ''}"


def _money(found: Figures | None) -> tuple[str, ...]:
    if found is None:
        return ("-",) * len(_MONEY)
    return (
        format_money(found.price),
        format_money(found.cost),
        format_money(found.gross),
        f"{found.margin:.1%}",
        "-" if found.per_crew_day is None else format_money(found.per_crew_day),
        format_money(found.p80),
        format_money(found.hired),
        f"{found.own_hours:.1f}",
        format_money(found.fronted),
    )


def _days(option: Option, found: Figures | None) -> tuple[str, ...]:
    if found is None:
        return ("-", "-", "-", f"no: {option.reason}", "-", "-")
    return (
        str(found.trips),
        "-" if found.days_without_sink is None else f"{found.days_without_sink:.1f}",
        f"{found.lead_days:.1f}",
        f"yes: {option.reason}" if option.lawful else f"not buildable: {option.reason}",
        "-" if found.worst is None else f"{level_sign(found.worst.level)}: {found.worst.check}",
        found.cut_out_by,
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
