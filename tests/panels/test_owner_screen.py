"""The owner's screen, driven from Python."""

import re
import threading
from collections.abc import Iterator
from decimal import Decimal
from html.parser import HTMLParser
from typing import Any

import pytest
from turning import walk

import kit
from kit.compare.options import compare_alternates
from kit.errors import KitError
from kit.money import format_money
from kit.outlook import assess_risk, plan_schedule
from kit.panels import Owner
from kit.panels import owner as owner_module
from kit.panels.screen import PageTools
from kit.panels.work_back_panel import CREW_DAY, MARGIN, PRICE
from kit.units import format_days

FIRST = "stone_apron_single_bowl"


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Owner:
    """The alternates of the first example, writing into a folder of its own, all tried."""
    screen = Owner(folder=tmp_path_factory.mktemp("owner") / "jobs")
    screen.wait()
    return screen


@pytest.fixture
def screen(opened: Owner) -> Iterator[Owner]:
    """That screen at the terms of its job, put back to them afterwards."""
    yield opened
    opened._as_in_job()


class OptionRows(HTMLParser):
    """For each alternate of a table the two lines of its cells, by the label of the cell; what it takes under ""."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: dict[str, dict[str, list[str]]] = {}
        self.lines: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        if tag == "tr" and named.get("data-option"):
            self.found[str(named["data-option"])] = {}
        elif tag == "td":
            self.lines = list(self.found.values())[-1].setdefault(named.get("data-label") or "", [""])
        elif tag == "th":
            self.lines = [""]
        elif tag == "span" and named.get("class") == "sk-second":
            self.lines.append("")

    def handle_data(self, data: str) -> None:
        if self.lines:
            self.lines[-1] += data


def test_every_alternate_shows_its_own_figures_or_its_reason(screen: Owner) -> None:
    """Read from the rows shown, held against the alternates worked out again and each estimated from its own job; no row is another's."""
    rows, used = OptionRows(screen.table.value).found, kit.load_lists(kit.shipped("price_lists"))
    options = compare_alternates(kit.read_job(kit.shipped("examples") / f"{FIRST}.toml"), used)
    own = next(option.estimate.price for option in options if option.chosen and option.estimate is not None)
    assert list(rows) == [option.id for kept in (True, False) for option in options if option.counter_kept is kept]
    shown = [tuple(map(tuple, row.values())) for row in rows.values() if row["Price"] != ["-"]]
    assert len(set(shown)) == len(shown) > 5
    for option in options:
        row = rows[option.id]
        if not option.usable:
            assert option.reason in row[""][0]
        if option.estimate is None:
            assert {tuple(row[name]) for name in row if name} == {("-",)}
            continue
        made = kit.estimate(option.job, used)
        schedule, risk = plan_schedule(made), assess_risk(made)
        hand_crew_days = sum(task.duration_h for task in made.tasks) / made.job.site.work_day_h
        hand_lead_days = (schedule.finish - schedule.ordered).total_seconds() / 86_400
        hand_added = made.price - own
        assert row["Price"][0] == format_money(made.price)
        assert row["Price"][1] == (f"adds {format_money(hand_added)}" if hand_added > 0 else f"saves {format_money(-hand_added)}" if hand_added else "the same")
        assert row["Direct cost"] == [format_money(made.cost), f"4 in 5 at most {format_money(risk.cost_at(0.8))}"]
        assert row["Margin"] == [format_money(made.price - made.amount("tax-collected") - made.cost), f"{made.margin:.1%}"]
        per_crew_day = float(row["Margin per crew-day"][0].replace("$", "").replace(",", ""))
        assert abs(per_crew_day * hand_crew_days - float(made.amount("gross"))) < 0.01 * hand_crew_days
        assert row["Own hours"] == [f"{made.hours:.1f}", f"{len(made.trips)} trips"]
        assert row["Days without a sink"] == [format_days(schedule.days_without_sink), f"{format_days(hand_lead_days)} to done"]
        assert row["Chance of a loss"][0] == f"{risk.chance_to_lose:.1%}"


def test_the_headline_says_what_the_job_brings_and_what_would_bring_most(screen: Owner) -> None:
    """Price, margin and crew-day of the job itself; the usable alternate whose margin per crew-day is the largest of all."""
    own = next(screen.figures[option.id] for option in screen.options if option.chosen)
    hand_best = max((option for option in screen.options if option.usable), key=lambda option: screen.figures[option.id].per_crew_day)
    for says in (format_money(own.price), f"{own.margin:.1%}", format_money(own.per_crew_day), format_money(screen.figures[hand_best.id].per_crew_day)):
        assert f">{says}</b>" in screen.headline.value
    assert hand_best.short_name in screen.headline.value


def test_figures_are_there_before_the_trials(opened: Owner) -> None:
    """A screen that has just been opened shows prices, and says of the risk that it is not known yet."""
    screen = Owner(folder=opened.files.folder)
    assert {name: found.price for name, found in screen.figures.items()} == {name: found.price for name, found in opened.figures.items()}
    screen.wait()
    assert screen.figures == opened.figures
    assert "..." not in screen.table.value


def test_it_says_from_which_day_the_days_count(opened: Owner) -> None:
    """From the day on which a signature is expected, five days after the visit: the page of a signed contract counts from another."""
    assert "Days count from a signature on Sat, Mar 7, 2026." in opened.note.box.value


def test_only_the_layout_that_a_page_shows_is_drawn(screen: Owner) -> None:
    """Both while no page has said its own; then that of the page in every chart, and the other one as soon as a page wants it."""
    places = (screen.chart, screen.changes, screen.days)

    def shown() -> set[tuple[bool, bool]]:
        return {("sk-drawing sk-at-desk'" in place.value, "sk-drawing sk-on-phone'" in place.value) for place in places}

    def say(*, narrow: bool) -> None:
        tools = next(one for one in walk(screen.screen) if isinstance(one, PageTools))
        tools._receive(None, {"type": "layout", "narrow": narrow}, None)

    assert shown() == {(True, True)}
    before = [place.value for place in places]
    say(narrow=False)
    assert [place.value for place in places] == before
    screen._show()
    assert shown() == {(True, False)}
    say(narrow=True)
    assert shown() == {(True, True)}


def test_what_changes_sums_in_money_and_in_days(screen: Owner) -> None:
    """The pair that is picked, one way and the other: the last rows are the differences of prices and of lead times."""
    for first, second in (("under_stone-3cm", "top_stone-3cm"), ("top_stone-3cm", "under_stone-3cm")):
        screen.first.value, screen.second.value = first, second
        one, other = screen.figures[first], screen.figures[second]
        assert "Front of the cabinet" in screen.changes.value
        titles = {option.id: option.title for option in screen.options}
        for caption in ("Why the days differ", "What changes, largest first", "What is built differently"):
            table = screen.changes.value.split(f">{caption}</caption>")[1]
            assert re.findall(r"<th[^>]*>([^<]*)</th>", table)[1:3] == [titles[first], titles[second]]
        assert f"{'+' if other.price > one.price else ''}{format_money(other.price - one.price)}</td>" in screen.changes.value
        hand_halves = round((other.lead_days - one.lead_days) * 2) / 2
        assert f"{hand_halves:+g}</td></tr></tbody>" in screen.changes.value
        table = screen.changes.value.split("<caption>Why the days differ")[1].split("</table>")[0]
        *rows, total = (float(text) for text in re.findall(r"([+-][\d.]+)</td></tr>", table))
        assert sum(rows) == total == hand_halves


def test_profit_and_overhead_act_on_all(screen):
    """Higher overhead raises every price; the button puts the job's own terms back."""
    before = {name: found.price for name, found in screen.figures.items()}
    screen.overhead.move(40)
    screen.wait()
    assert all(screen.figures[name].price > price for name, price in before.items())
    screen.profit.move(30)
    screen._as_in_job()
    assert {name: found.price for name, found in screen.figures.items()} == before


def test_a_move_while_the_last_one_is_drawn_is_followed(screen, monkeypatch):
    """A slider goes on while the table of where it was is being drawn: the table comes to where it is, however slow the drawing was."""
    drawing, moved_on = threading.Event(), threading.Event()
    draw = owner_module.draw_decisions

    def draw_slowly(*given: Any) -> str:
        drawing.set()
        assert moved_on.wait(60)
        return draw(*given)

    monkeypatch.setattr(owner_module, "draw_decisions", draw_slowly)
    screen.profit.move(30.5)
    assert drawing.wait(60)
    screen.profit.move(31)
    moved_on.set()
    screen.wait()
    terms = {"in:profit": Decimal("0.31"), "in:overhead": screen._terms.value("in:overhead")}
    for option in screen.options:
        if option.estimate is not None:
            assert screen.figures[option.id].price == kit.revalue(option.estimate, {}, {}, terms).price
            assert format_money(screen.figures[option.id].price) in screen.table.value
    assert format_money(screen._estimates[screen.second.value].price) in screen.changes.value


def test_moved_terms_give_what_a_job_with_these_terms_gives(screen):
    """The figures of a slider are those of a job that holds these terms itself."""
    screen.profit.move(20)
    screen.overhead.move(30)
    screen.wait()
    for option in [option for option in screen.options if option.estimate is not None][:3]:
        job = kit.job.change_job(option.job, {"terms.profit": "20 %", "terms.overhead": "30 %"})
        made = kit.estimate(job, option.estimate.lists)
        assert (screen.figures[option.id].price, screen.figures[option.id].margin) == (made.price, made.margin)


def test_was_and_now_of_the_job_itself(screen):
    """Sliders work on a copy: the price of the job, the price at the sliders, and the difference."""
    was = next(option.estimate.price for option in screen.options if option.chosen)
    screen.overhead.move(30)
    screen.wait()
    now = next(screen.figures[option.id].price for option in screen.options if option.chosen)
    assert now > was
    for amount in (format_money(was), format_money(now), f"+{format_money(now - was)}"):
        assert f">{amount}</td>" in screen.what_if.value


def test_working_back_gives_what_is_wanted(screen):
    """At the price shown a margin is reached, and a cent less misses it; so does a crew-day; a wanted price is met by the profit beside it."""
    option = screen.options[0]
    cost, crew_days = option.estimate.cost, screen.figures[option.id].crew_days
    screen.back.kind.value, screen.back.wanted.value = MARGIN, "35"
    price = next(found.price for key, found in screen.back._found.items() if key[:3] == (MARGIN, Decimal(35), option.title))
    assert format_money(price) in screen.back.table.value
    assert (price - cost) / price >= Decimal("0.35") > (price - Decimal("0.01") - cost) / (price - Decimal("0.01"))
    screen.back.kind.value, screen.back.wanted.value = CREW_DAY, "$1,000"
    price = next(found.price for key, found in screen.back._found.items() if key[:3] == (CREW_DAY, Decimal(1000), option.title))
    assert format_money(price) in screen.back.table.value
    assert abs(float(price - cost) / crew_days - 1000) < 0.02
    screen.back.kind.value, screen.back.wanted.value = PRICE, "7500"
    assert screen.back.table.value.count("<td class='sk-number' data-label='Price needed'>$7,500.00</td>") > 5
    screen.back.wanted.value = "much"
    assert "is not a figure to work back from" in screen.back.table.value


def test_a_job_that_is_none_leaves_the_screen(screen):
    """A wrong name is refused and the alternates stay."""
    before = screen.table.value
    with pytest.raises(KitError, match="is not a plain file name"):
        screen.open("../../x")
    screen.note.guard(lambda: screen.open("missing.toml"))(None)
    assert "alert" in screen.note.box.value
    assert screen.table.value == before


def test_a_job_of_one_visit_is_one_trip(opened: Owner) -> None:
    """The plain swap of the examples, as the walked examples tell it: one visit of one person."""
    screen = Owner("examples/counter_stays_sink_only.toml", folder=opened.files.folder)
    own = next(option.id for option in screen.options if option.chosen)
    assert OptionRows(screen.table.value).found[own]["Own hours"][1] == "1 trip"


def test_an_alternate_is_saved_as_a_job(screen):
    """The saved file prices as the alternate on the screen."""
    screen.first.value, screen.second.value = "under_stone-3cm", "flush_stone-3cm"
    screen.save()
    saved = kit.read_job(screen.files.folder / "stone_apron_single_bowl_flush_stone-3cm.toml")
    option = next(option for option in screen.options if option.id == "flush_stone-3cm")
    assert kit.estimate(saved, option.estimate.lists).price == option.estimate.price


def test_a_slider_says_what_the_profit_is_a_share_of(screen):
    """Margin and markup are not the same: the words of the job's terms stand at the field, here as beside the estimator's sliders."""
    from kit.panels.controls import profit_label

    assert screen.profit.label == profit_label(screen._terms.profit_as)
    assert [profit_label(way) for way in ("markup", "margin")] == ["Profit, markup on cost and overhead [%]", "Profit, margin on the price [%]"]
    screen.back.wanted.value = "30"
    counted = screen.profit.label.removesuffix(" [%]")
    assert f"Profit to set, {counted.removeprefix('Profit, ')}" in screen.back.table.value
