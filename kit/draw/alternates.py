"""Alternates side by side as HTML: what they cost and add, what an owner weighs, what changes between two, and what a wanted figure asks for."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from functools import partial
from html import escape

from kit.compare.differences import Difference, Fact
from kit.compare.figures import Figures, PlannedFigures
from kit.compare.longer import Stretch, WhyDays
from kit.compare.options import Option
from kit.draw.cost_bars import draw_bars
from kit.draw.folds import draw_fold
from kit.draw.level_marks import LEVEL_WORDS
from kit.draw.option_rows import Figure, draw_option_rows
from kit.draw.price_steps import draw_price_steps
from kit.draw.tables import count_words, draw_table, signed_money
from kit.draw.widths import BOTH, OnShow, draw_for_widths
from kit.estimating import Estimate
from kit.money import EXACT, format_money, sum_money
from kit.outlook import plan_schedule
from kit.records import Level
from kit.units import format_days

__all__ = [
    "draw_alternate_bars",
    "draw_decision",
    "draw_decisions",
    "draw_differences",
    "draw_options",
    "draw_owner_headline",
    "draw_was_now",
    "draw_why_days",
    "draw_worked_back",
]

NOT_TRIED = "..."
_WORTH_A_ROW = 0.25  # days: less is no half day
_LEVELS = {level.word: LEVEL_WORDS[level] for level in Level}
_OPTIONS = ("Price", "Against this job", "Days without a sink", "Own hours")
_DECISIONS = ("Price", "Direct cost", "Margin", "Margin per crew-day", "Own hours", "Days without a sink", "Chance of a loss")
_ASIDE = ("Own hours",)
_WEIGHED_ASIDE = ("Direct cost", "Own hours", "Chance of a loss")


def draw_options(options: Sequence[Option]) -> str:
    """What a customer can have: price, what it adds or saves, days without a sink, hours, and what must be decided; no cost and no margin."""
    own = _own_price(options)
    figures = {option.id: _option_figures(option.estimate, own) for option in options if option.estimate is not None}
    return draw_option_rows("Options", options, _OPTIONS, figures, _ASIDE)


def _option_figures(estimate: Estimate, own: Decimal | None) -> list[Figure]:
    added = EXACT.subtract(estimate.price, own) if own is not None else None
    return [
        Figure(format_money(estimate.price), "", float(estimate.price)),
        Figure(_added(added), "", None if added is None else float(added)),
        _days(plan_schedule(estimate).days_without_sink),
        Figure(f"{estimate.hours:.1f}", "", estimate.hours),
    ]


def _own_price(options: Sequence[Option]) -> Decimal | None:
    return next((option.estimate.price for option in options if option.chosen and option.estimate is not None), None)


def _added(amount: Decimal | None) -> str:
    if amount is None:
        return "-"
    return f"adds {format_money(amount)}" if amount > 0 else f"saves {format_money(amount.copy_abs())}" if amount else "the same"


def _days(days: float | None, second: str = "") -> Figure:
    return Figure("-" if days is None else format_days(days), second, days)


def draw_decisions(options: Sequence[Option], figures: Mapping[str, PlannedFigures]) -> str:
    """What an owner weighs, one row an alternate; `figures` by its id, at the terms that are to count; what has not been tried yet says so."""
    own = next((figures[option.id].price for option in options if option.chosen and option.id in figures), None)
    return draw_option_rows("Alternates", options, _DECISIONS, {name: _decision_figures(plan, own) for name, plan in figures.items()}, _WEIGHED_ASIDE)


def draw_decision(plan: PlannedFigures) -> str:
    """The same of one alternate, side by side."""
    rows = zip(_DECISIONS, _decision_figures(plan, None), strict=True)
    cells = "".join(f"<div><dt>{head}</dt><dd>{escape(one.says)}<span class='sk-second'>{escape(one.second)}</span></dd></div>" for head, one in rows)
    return f"<dl class='sk-sums'>{cells}</dl>"


def draw_owner_headline(options: Sequence[Option], figures: Mapping[str, PlannedFigures]) -> str:
    """What the job itself brings, and which alternate that can be had brings most for a day of the crew."""
    own = next((option for option in options if option.chosen and option.id in figures), None)
    facts = []
    if own is not None:
        mine = figures[own.id]
        per_day = "-" if mine.per_crew_day is None else format_money(mine.per_crew_day)
        facts = [
            ("This job", f"<b class='sk-price'>{format_money(mine.price)}</b>"),
            ("margin", f"<b>{mine.margin:.1%}</b>"),
            ("per crew-day", f"<b>{per_day}</b>"),
        ]
    paying = [(plan.per_crew_day, option) for option in options if option.usable and (plan := figures.get(option.id)) and plan.per_crew_day is not None]
    if paying:
        most, best = max(paying, key=lambda pair: pair[0])
        facts.append(("Best per crew-day", f"<b>{format_money(most)}</b>, {escape(best.short_name)}"))
    said = "".join(f"<span class='sk-fact'>{name} {says}</span>" for name, says in facts)
    return f"<div class='sk-headline' role='status'>{said}</div>"


def _decision_figures(plan: PlannedFigures, own: Decimal | None) -> list[Figure]:
    added = "" if own is None else _added(EXACT.subtract(plan.price, own))
    per_day = plan.per_crew_day
    return [
        Figure(format_money(plan.price), added, float(plan.price)),
        Figure(format_money(plan.cost), f"4 in 5 at most {format_money(plan.p80) if isinstance(plan, Figures) else NOT_TRIED}", float(plan.cost)),
        Figure(format_money(plan.gross), f"{plan.margin:.1%}", float(plan.gross)),
        Figure("-" if per_day is None else format_money(per_day), f"{plan.crew_days:.1f} crew-days", None if per_day is None else float(per_day)),
        Figure(f"{plan.own_hours:.1f}", count_words(plan.trips, "trip"), plan.own_hours),
        _days(plan.days_without_sink, f"{format_days(plan.lead_days)} to done"),
        _chance_to_lose(plan),
    ]


def _chance_to_lose(plan: PlannedFigures) -> Figure:
    chance = plan.risk.chance_to_lose if isinstance(plan, Figures) else None
    return Figure(NOT_TRIED if chance is None else f"{chance:.1%}", f"our money out {format_money(plan.fronted)} at most", chance)


def draw_why_days(options: Sequence[Option], why: Mapping[str, WhyDays]) -> str:
    """Why the days of alternates differ from those of the job itself; "" where none do."""
    rows = [(option.title, _more_days(round(row.days, 1)), "; ".join(row.because)) for option in options if (row := why.get(option.id))]
    table = draw_table("Why the days differ from this job", ("Alternate", "Days", "Because of"), rows, numbers=(1,), heads=True, cards=True)
    return f"<details><summary>Why the days of the others differ</summary>{table}</details>" if rows else ""


def draw_alternate_bars(options: Sequence[Option], estimates: Mapping[str, Estimate], on_show: OnShow = BOTH) -> str:
    """What the price of each alternate is made of, side by side, and behind a fold the amounts; those that are not priced are left out."""
    rows = [(f"{option.title}{' (this job)' if option.chosen else ''}", _parts(estimates[option.id])) for option in options if option.id in estimates]
    parts = [name for name, _ in rows[0][1]] if rows else []
    cells = [(label, *(format_money(amount) for _, amount in amounts), format_money(sum_money([amount for _, amount in amounts]))) for label, amounts in rows]
    table = draw_table("What the price is made of, USD", ("Alternate", *parts, "Price"), cells, numbers=range(1, len(parts) + 2), heads=True)
    chart = draw_for_widths(partial(draw_bars, "What the price is made of", rows), on_show)
    return draw_fold("What the price of every alternate is made of", f"{chart}<div class='sk-scroll'>{table}</div>")


def draw_price_parts(estimate: Estimate, on_show: OnShow = BOTH) -> str:
    """What the price of one estimate is made of, as a bar with its amounts."""
    parts = [(f"{name}: {format_money(amount)}", amount) for name, amount in _parts(estimate)]
    return draw_for_widths(partial(draw_bars, "What the price is made of", [("price", parts)]), on_show)


def _parts(estimate: Estimate) -> list[tuple[str, Decimal]]:
    material, hired, labor = (estimate.amount(row) for row in ("material", "hired", "labor"))
    known = EXACT.add(EXACT.add(material, hired), labor)
    return [
        ("material", material),
        ("hired trades and countertop shop", hired),
        ("own labor", labor),
        ("fees, tax and the rest of cost", EXACT.subtract(estimate.cost, known)),
        ("over direct cost", EXACT.subtract(estimate.price, estimate.cost)),
    ]


def draw_differences(
    names: tuple[str, str],
    prices: tuple[Decimal, Decimal],
    rows: Sequence[Difference],
    facts: Sequence[Fact],
    days: Sequence[Stretch],
    on_show: OnShow = BOTH,
) -> str:
    """What changes from one alternate to another.

    Parameters
    ----------
    names, prices
        Of the first and of the second; the names head their columns.
    rows, facts, days
        What `list_differences`, `list_facts` and `list_stretches` say of the two.
    on_show
        The layouts of the chart to draw.

    Returns
    -------
    The chart that steps from the first price to the second, and its tables: money and hours, days until it is done, what is built differently.
    """
    chart = draw_for_widths(partial(draw_price_steps, names, prices, rows), on_show)
    built = [(fact.what, _LEVELS.get(fact.before, fact.before), _LEVELS.get(fact.after, fact.after)) for fact in facts]
    facts_table = draw_fold("What is built differently", draw_table("What is built differently", ("What", *names), built, heads=True, cards=True))
    money = f"<details><summary>Every change, line by line</summary>{_draw_money(names, rows)}</details>"
    return chart + _draw_stretches(names, days) + facts_table + money


def _more_days(days: float) -> str:
    """Days more or less; none has no sign."""
    return f"{days:+g}" if days else "0"


def _draw_money(names: tuple[str, str], rows: Sequence[Difference]) -> str:
    table = [(row.what, format_money(row.before), format_money(row.after), signed_money(row.amount), f"{row.hours:+.2f}" if row.hours else "-") for row in rows]
    total, hours = sum_money([row.amount for row in rows]), sum(row.hours for row in rows)
    table.append(("Price", "", "", signed_money(total), f"{hours:+.2f}"))
    columns = ("What", *names, "Change [USD]", "Own hours")
    return draw_table("What changes, largest first", columns, table, numbers=(1, 2, 3, 4), heads=True, total=True, cards=True)


def _draw_stretches(names: tuple[str, str], days: Sequence[Stretch]) -> str:
    """Every step and wait by which the two differ, to half a day; it sums to the difference of the days from ordering to done."""
    if not days:
        return ""
    shown = [(row.what, _halves(row.before), _halves(row.after)) for row in days if abs(row.days) >= _WORTH_A_ROW]
    whole = _halves(sum(row.days for row in days))
    rest = whole - sum(after - before for _, before, after in shown)
    table = [(what, f"{before:g}", f"{after:g}", _more_days(after - before)) for what, before, after in shown if after != before]
    if rest:
        table.append(("Smaller differences, less than half a day each", "", "", _more_days(rest)))
    table.append(("Days from ordering to done (elsewhere rounded up to whole days)", "", "", _more_days(whole)))
    return draw_table("Why the days differ", ("Because of", *names, "Change [days]"), table, numbers=(1, 2, 3), heads=True, total=True, cards=True)


def _halves(days: float) -> float:
    """Days to the nearest half: what is counted finer nobody plans by."""
    return round(days * 2.0) / 2.0


def draw_was_now(caption: str, was: PlannedFigures, now: PlannedFigures) -> str:
    """What other terms do to one alternate: was, now, difference."""
    rows = [_change_of_money(*row) for row in (("Price", was.price, now.price), ("Direct cost", was.cost, now.cost), ("Margin", was.gross, now.gross))]
    rows.append(_change_of_share("Margin of the price", float(was.margin), float(now.margin)))
    if was.per_crew_day is not None and now.per_crew_day is not None:
        rows.append(_change_of_money("Margin per crew-day", was.per_crew_day, now.per_crew_day))
    rows.append(_change_of_money("Our money out, at most", was.fronted, now.fronted))
    if isinstance(was, Figures) and isinstance(now, Figures):
        rows.append(_change_of_share("Chance of losing money", was.risk.chance_to_lose, now.risk.chance_to_lose))
    return draw_table(caption, ("What", "Was", "Now", "Difference"), rows, numbers=(1, 2, 3), heads=True, cards=True)


def _change_of_money(what: str, was: Decimal, now: Decimal) -> tuple[str, ...]:
    return what, format_money(was), format_money(now), signed_money(EXACT.subtract(now, was))


def _change_of_share(what: str, was: float, now: float) -> tuple[str, ...]:
    """The difference is that of the shares as shown: 30.2% and 30.4% are 0.2 points apart, whatever their further digits say."""
    points = Decimal(f"{now * 100:.1f}") - Decimal(f"{was * 100:.1f}")
    return what, f"{was:.1%}", f"{now:.1%}", f"{points:{'+' if points else ''}} points"


def draw_worked_back(target: str, profit_as: str, rows: Sequence[tuple[str, Decimal, Decimal | None, Decimal | None]]) -> str:
    """For each alternate its name, its price now, the price that gives what is wanted and the profit that makes it (0 to 1), None where none does.

    `profit_as` says what the profit is a share of.
    """
    table = []
    for name, now, price, profit in rows:
        if price is None or profit is None:
            table.append((name, format_money(now), "can't be reached", "-", "-"))
        else:
            table.append((name, format_money(now), format_money(price), signed_money(EXACT.subtract(price, now)), f"{profit * 100:.2f}%"))
    columns = ("Alternate", "Price now", "Price needed", "Change", f"Profit to set, {profit_as}")
    return draw_table(f"Worked back: {target}", columns, table, numbers=(1, 2, 3, 4), heads=True, cards=True)
