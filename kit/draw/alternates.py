"""Alternates side by side as HTML tables and bars: what they cost, what stands against them, what changes between two."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from kit.compare.differences import Difference, Fact
from kit.compare.figures import Figures
from kit.compare.longer import WhyDays
from kit.compare.options import Option
from kit.draw.bars import draw_bars
from kit.draw.levels import level_sign
from kit.draw.tables import draw_table, signed_money
from kit.estimate import Estimate
from kit.money import EXACT, format_money, sum_money

__all__ = ["draw_alternate_bars", "draw_alternates", "draw_differences", "draw_worked_back"]

SHOWN = 6


def draw_alternates(options: Sequence[Option], figures: Mapping[str, Figures], why: Mapping[str, WhyDays]) -> str:
    """Every alternate in its order: its money, its days, and why they differ; `figures` by its id, without those that are not priced."""
    money = [(_name(option), *_money(figures.get(option.id))) for option in options]
    days = [(_name(option), *_days(option, figures.get(option.id))) for option in options]
    because = [(_name(option), f"{row.days:+.1f}", "; ".join(row.because)) for option in options if (row := why.get(option.id))]
    tables = [
        draw_table("Alternates: usable ones first, then by price", ("Alternate", *_MONEY), money, numbers=range(1, len(_MONEY) + 1), heads=True),
        draw_table("When they are done, and what stands against them", ("Alternate", *_DAYS), days, numbers=(1, 2, 3), heads=True),
    ]
    if because:
        tables.append(draw_table("Why the days differ from this job", ("Alternate", "Days", "Because of"), because, numbers=(1,), heads=True))
    return "".join(tables)


_MONEY = ("Price", "Direct cost", "Margin", "Margin %", "Margin a crew-day", "Cost, P80", "Hired", "Own hours", "Cash we front")
_DAYS = ("Trips", "Days without a sink", "Lead time [days]", "Can it be had", "Worst finding", "Cut-out by")


def _name(option: Option) -> str:
    return f"{option.name}{' (this job)' if option.chosen else ''}"


def _money(figures: Figures | None) -> tuple[str, ...]:
    if figures is None:
        return ("-",) * len(_MONEY)
    return (
        format_money(figures.price),
        format_money(figures.cost),
        format_money(figures.gross),
        f"{figures.margin:.1%}",
        "-" if figures.per_crew_day is None else format_money(figures.per_crew_day),
        format_money(figures.p80),
        format_money(figures.hired),
        f"{figures.own_hours:.1f}",
        format_money(figures.fronted),
    )


def _days(option: Option, figures: Figures | None) -> tuple[str, ...]:
    if figures is None:
        return ("-", "-", "-", f"{option.verdict}: {option.reason}", "-", "-")
    return (
        str(figures.trips),
        "-" if figures.days_without_sink is None else f"{figures.days_without_sink:.1f}",
        f"{figures.lead_days:.1f}",
        f"{option.verdict}: {option.reason}",
        "-" if figures.worst is None else f"{level_sign(figures.worst.level)}: {figures.worst.check}",
        figures.cut_out_by,
    )


def draw_alternate_bars(options: Sequence[Option], estimates: Mapping[str, Estimate]) -> str:
    """The price of the first few alternates as bars of its parts; those that are not priced are left out."""
    rows = [(option.name, _parts(estimates[option.id])) for option in options if option.id in estimates][:SHOWN]
    return draw_bars("What the price is made of", rows)


def _parts(estimate: Estimate) -> list[tuple[str, Decimal]]:
    material, hired, labour = (estimate.amount(row) for row in ("material", "hired", "labour"))
    known = EXACT.add(EXACT.add(material, hired), labour)
    return [
        ("material", material),
        ("hired trades and fabricator", hired),
        ("own labour", labour),
        ("fees, tax and the rest of cost", EXACT.subtract(estimate.cost, known)),
        ("over direct cost", EXACT.subtract(estimate.price, estimate.cost)),
    ]


def draw_differences(old: str, new: str, rows: Sequence[Difference], facts: Sequence[Fact], why: Sequence[str] = ()) -> str:
    """What changes from one alternate to another, by their names; `why` says in words what moves its days."""
    built = [(fact.what, fact.before, fact.after) for fact in facts]
    because = draw_table("Why the days differ", ("Because of",), [(says,) for says in why], heads=True) if why else ""
    table = [(row.what, format_money(row.before), format_money(row.after), signed_money(row.amount), f"{row.hours:+.2f}" if row.hours else "-") for row in rows]
    total, hours = sum_money([row.amount for row in rows]), sum(row.hours for row in rows)
    table.append(("Price", "", "", signed_money(total), f"{hours:+.2f}"))
    columns = ("What", "First", "Second", "Change [USD]", "Own hours")
    return (
        draw_table(f"What is built otherwise: {old} against {new}", ("What", "First", "Second"), built, heads=True)
        + because
        + draw_table("What changes, largest first", columns, table, numbers=(1, 2, 3, 4), heads=True)
    )


def draw_worked_back(margin: float, rows: Sequence[tuple[str, Decimal, Decimal]]) -> str:
    """For each alternate its name, its price now and the price that leaves the wanted margin (0 to 1)."""
    table = [(name, format_money(now), format_money(wanted), signed_money(EXACT.subtract(wanted, now))) for name, now, wanted in rows]
    columns = ("Alternate", "Price now", "Price at that margin", "Change")
    return draw_table(f"Worked back: the lowest price that leaves {margin:.1%} over direct cost", columns, table, numbers=(1, 2, 3), heads=True)
