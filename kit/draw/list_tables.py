"""Price lists as HTML tables: what is in use, what came in, its faults, what changes, and what that does to the jobs on hand."""

import datetime as dt
from collections.abc import Mapping, Sequence
from decimal import Decimal
from html import escape

from kit.draw.level_marks import level_sign
from kit.draw.tables import count_words, draw_table, row_and_column, signed_money
from kit.errors import Fault
from kit.job.field_names import list_words
from kit.lists import Lists
from kit.lists.facts import list_facts, price_ages
from kit.lists.list_changes import ListChange
from kit.lists.list_files import LISTS
from kit.lists.take_in import IncomingLists
from kit.money import format_money
from kit.repricing import Repriced
from kit.units import format_day, say_cell

__all__ = ["draw_came_in", "draw_list_changes", "draw_list_faults", "draw_list_summary", "draw_lists_facts", "draw_lists_in_use", "draw_repriced", "list_title"]

MOST_ROWS = 300
PRICE_DATE = ("company.csv", "price date")


def draw_lists_facts(lists: Lists, folder: str, day: dt.date) -> str:
    """The lists of a folder in one line: folder, region, currency, date, and how many prices are too old."""
    company, ages = lists.company, price_ages(lists, day)
    currencies = ", ".join(sorted({price.currency for prices in lists.prices.values() for price in prices}))
    facts = (("In use", folder), ("Region", company.region), ("Currency", currencies), ("Lists dated", company.dated))
    old = f"\u25b3 {ages.stale} of {ages.holding} prices are older than {ages.most_days} days" if ages.stale else f"none older than {ages.most_days} days"
    return _facts(*facts, ("Age", old))


def _facts(*facts: tuple[str, str]) -> str:
    spans = "".join(f"<span class='sk-fact'>{escape(name)}: <b>{escape(value)}</b></span>" for name, value in facts)
    return f"<div class='sk-headline'>{spans}</div>"


def draw_list_summary(changes: Sequence[ListChange], repriced: Sequence[Repriced], titles: Mapping[str, str], on_hand: str) -> str:
    """What new lists come to: how many changes, how far prices and jobs move, which of those `on_hand`, by what they go by, would lose their price."""
    prices = [change for change in changes if change.file == "prices.csv"]
    lost = [titles.get(one.name, one.name) for one in repriced if one.before is not None and one.after is None]
    moves = [one.difference for one in repriced if one.difference is not None]
    others = [change for change in changes if change.file != "prices.csv" and (change.file, change.name) != PRICE_DATE]
    counts = [count_words(len(some), what) for some, what in ((prices, "price"), (others, "other cell")) if some]
    if len(changes) > len(prices) + len(others):
        counts.append("the date of the lists" if counts else "only the date of the lists")
    lose = f"\u25a0 {len(lost)} of {len(repriced)} would have no price: {', '.join(lost)}" if lost else "each keeps a price" if repriced else "no jobs"
    moved = sorted({min(moves), max(moves)}) if moves else []
    shares = [change.share for change in prices if change.share is not None]
    move = "the same price" if moved == [0] else " to ".join(signed_money(amount) for amount in moved) or ("" if lost else "none priced")
    return _facts(
        ("Changes", list_words(counts) or "none"),
        *([("Prices move by", _range(shares))] if shares else []),
        (on_hand, "; ".join(filter(None, (move, lose)))),
    )


def _range(shares: Sequence[Decimal]) -> str:
    """From the least to the most of shares, in percents."""
    low, high = (f"{share:+.1%}" if round(share, 3) else "0%" for share in (min(shares), max(shares)))
    return low if low == high else f"{low} to {high}"


def draw_lists_in_use(lists: Lists, titles: Mapping[str, str], day: dt.date) -> str:
    """The lists of a folder: how old their prices are, and file by file what it holds and whether it says that it is invented."""
    ages = price_ages(lists, day)
    stale = f"\u25b3 {ages.stale} of them are older than {ages.most_days} days" if ages.stale else f"none older than {ages.most_days} days"
    oldest = f", the oldest from {format_day(ages.oldest)}" if ages.oldest else ""
    later = f"{ages.coming or 'None'} {'starts' if ages.coming < 2 else 'start'} later."
    ages_text = f"{count_words(ages.holding, 'price')} in force on {format_day(day)}{oldest}; {stale}. {later}"
    facts_by_list = list_facts(lists)
    rows = [(titles.get(fact.file, list_title(fact.file)), str(fact.rows), "invented" if fact.invented else "-", fact.file) for fact in facts_by_list]
    table = draw_table(f"{len(rows)} lists in use", ("What it holds", "Rows", "Marked as", "File"), rows, numbers=(1,), heads=True, cards=True)
    made_up = "<p>\u25b3 invented: the company of this folder is made up. Put in your own figures before you price a real job.</p>"
    invented = any(fact.invented for fact in facts_by_list if fact.file == "company.csv")
    return f"{made_up if invented else ''}<p>{escape(ages_text)}</p>{table}"


def draw_came_in(taken: IncomingLists, old: Lists) -> str:
    """Which list each picked file or sheet is, and by what it is known."""
    rows = []
    for one in taken.sources:
        effect = "the same as the one in use" if one.text == old.texts[one.file] else "replaces the whole list"
        if one.merged is not None:
            effect = f"{count_words(one.merged, 'row')} merged into the list in use"
        if taken.lists is None:
            effect = "not taken in"
        rows.append((one.source, list_title(one.file), one.known_by, effect))
    rows += [(source, "-", "neither name nor header is that of a list", "left out") for source in taken.left_out]
    return draw_table("What came in", ("Picked", "Is the list", "Known by", "And"), rows, heads=True) if rows else ""


def draw_list_faults(taken: IncomingLists) -> str:
    """Every fault by list and row, in one report."""
    rows = [_fault_row(taken, fault) for fault in taken.faults[:MOST_ROWS]]
    return draw_table(_counted(len(taken.faults), "fault"), ("List", "Row", "Column", "What is wrong"), rows, numbers=(1,), heads=True)


def _fault_row(taken: IncomingLists, fault: Fault) -> tuple[str, str, str, str]:
    row, column = row_and_column(fault)
    source = taken.source_of(fault.file)
    origin = "" if source in {"", fault.file} else f", from {source}"
    return f"{fault.file}{origin}" or "-", row, column, fault.message


def draw_list_changes(changes: Sequence[ListChange], day: dt.date) -> str:
    """What the lists change, prices with the share by which they move."""
    if not changes:
        return f"<p>Nothing changes on {format_day(day)}.</p>"
    rows = [
        (
            list_title(change.file),
            change.name,
            say_cell(change.before) or "(none)",
            say_cell(change.after) or "(none)",
            "-" if change.share is None else f"{change.share:+.1%}",
        )
        for change in changes[:MOST_ROWS]
    ]
    caption = f"{_counted(len(changes), 'change')}; prices are those that hold on {format_day(day)} or begin later"
    return draw_table(caption, ("List", "What", "In use", "New", "Moves by"), rows, numbers=(4,), heads=True, cards=True)


def list_title(file: str) -> str:
    """What people call a list."""
    return LISTS[file].title.partition(":")[0] if file in LISTS else "Company"


def draw_repriced(jobs: Sequence[Repriced], in_use: Mapping[str, str], titles: Mapping[str, str]) -> str:
    """The jobs on hand before and after, in their order; by the file of each, `in_use` names the lists that it uses now, `titles` what people call it."""
    columns = ("Job", "Its lists now", "Price now", "Price then", "Difference", "What comes up")
    rows = [(titles.get(one.name, one.name), *_job_row(one, in_use.get(one.name, ""))) for one in jobs]
    return draw_table(f"{_counted(len(rows), 'job')}, the largest difference first", columns, rows, numbers=(2, 3, 4), heads=True, cards=True)


def _job_row(one: Repriced, lists: str) -> tuple[str, ...]:
    money = [("no price" if price is None else format_money(price)) for price in (one.before, one.after)]
    difference = "-"
    if one.difference is not None:
        difference = signed_money(one.difference)
        difference += f" ({one.difference / one.before:+.2%})" if one.before and one.difference else ""
    news = "; ".join(f"{level_sign(finding.level)}: {finding.check}: {finding.measured}" for finding in one.news)
    return lists, *money, difference, "; ".join(part for part in (one.problem, news) if part) or "nothing new"


def _counted(count: int, word: str) -> str:
    shown = f", the first {MOST_ROWS}" if count > MOST_ROWS else ""
    return f"{count_words(count, word)}{shown}"
