"""The owner's screen, driven from Python."""

from collections.abc import Iterator
from decimal import Decimal
from html.parser import HTMLParser

import pytest

import kit
from kit.compare.longer import explain_alternates, explain_days
from kit.compare.options import compare_alternates
from kit.errors import KitError
from kit.money import format_money
from kit.outlook import schedule_of
from kit.panels import Owner

FIRST = "stone_apron_single_bowl"


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Owner:
    """The alternates of the first example, writing into a folder of its own."""
    return Owner(folder=tmp_path_factory.mktemp("owner") / "jobs")


@pytest.fixture
def screen(opened: Owner) -> Iterator[Owner]:
    """That screen at the terms of its job, put back to them afterwards."""
    yield opened
    opened._as_in_job()


class Tables(HTMLParser):
    """The cells of every row of some tables."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.rows: list[list[str]] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: object) -> None:
        if tag == "tr":
            self.rows.append([])
        elif tag in {"td", "th"}:
            self.rows[-1].append("")

    def handle_data(self, data: str) -> None:
        if self.rows and self.rows[-1]:
            self.rows[-1][-1] += data


def shown_rows(html: str) -> dict[str, dict[str, str]]:
    """What the screen shows of each alternate, by its name and the head of the column."""
    found: dict[str, dict[str, str]] = {}
    heads: list[str] = []
    for first, *cells in Tables(html).rows:
        if first == "Alternate":
            heads = cells
        else:
            found.setdefault(first.removesuffix(" (this job)"), {}).update(zip(heads, cells, strict=True))
    return found


def test_every_alternate_shows_its_own_figures_or_its_reason(screen: Owner) -> None:
    """Read from the rows shown, held against the alternates worked out again and each estimated from its own job; no row is another's."""
    rows, job, used = shown_rows(screen.table.value), kit.read_job(kit.shipped("examples") / f"{FIRST}.toml"), kit.load_lists(kit.shipped("price_lists"))
    options = compare_alternates(job, used)
    assert list(rows) == [option.name for option in options]
    shown = [tuple(row.values()) for row in rows.values() if row["Price"] != "-"]
    assert len(set(shown)) == len(shown) > 5
    for option in options:
        row = rows[option.name]
        if option.estimate is None:
            assert (row["Price"], row["Own hours"], row["Days without a sink"], row["Can it be had"]) == ("-", "-", "-", f"{option.verdict}: {option.reason}")
            continue
        made = kit.estimate(option.job, used)
        schedule = schedule_of(made)
        hand_crew_days = sum(task.duration_h for task in made.tasks) / made.job.site.work_day_h
        hand_a_day = Decimal(row["Margin a crew-day"].replace("$", "").replace(",", ""))
        assert row["Price"] == format_money(made.price)
        assert row["Direct cost"] == format_money(made.cost)
        assert row["Margin"] == format_money(made.price - made.amount("tax-collected") - made.cost)
        assert row["Margin %"] == f"{made.margin:.1%}"
        assert row["Own hours"] == f"{made.hours:.1f}"
        assert float(hand_a_day) * hand_crew_days == pytest.approx(float(made.amount("gross")), abs=0.01 * hand_crew_days)
        assert row["Days without a sink"] == f"{schedule.days_without_sink:.1f}"
        assert row["Lead time [days]"] == f"{(schedule.finish - schedule.ordered).total_seconds() / 86_400:.1f}"
        assert row["Trips"] == str(len(made.trips))
        assert row["Can it be had"] == f"{option.verdict}: {option.reason}"
        assert row["Can it be had"].startswith("usable") == made.buildable


def test_why_an_alternate_takes_longer_is_said_in_the_words_of_the_command(screen: Owner) -> None:
    """A row for each alternate that differs, as `sinkset compare` prints it; the pair that is picked has its own, one way and the other."""
    rows, why = shown_rows(screen.table.value), explain_alternates(screen.options, screen.figures)
    said = {option.name: why[option.id] for option in screen.options if option.id in why}
    assert {name for name, row in rows.items() if "Because of" in row} == set(said)
    assert len(said) >= 3
    for name, row in said.items():
        assert (rows[name]["Days"], rows[name]["Because of"]) == (f"{row.days:+.1f}", "; ".join(row.because))
    own = next(option for option in screen.options if option.chosen)
    other = next(option for option in screen.options if option.id in why)
    for first, second in ((own, other), (other, own)):
        screen.first.value, screen.second.value = first.id, second.id
        words = explain_days(first.estimate, second.estimate, screen.figures[first.id], screen.figures[second.id])
        assert words
        assert [says for says in words if f">{says}<" not in screen.changes.value] == []


def test_profit_and_overhead_act_on_all(screen):
    """Higher overhead raises every price; the button puts the job's own terms back."""
    before = {name: found.price for name, found in screen.figures.items()}
    screen.overhead.value = 40
    assert all(screen.figures[name].price > price for name, price in before.items())
    screen.profit.value = 30
    screen._as_in_job()
    assert {name: found.price for name, found in screen.figures.items()} == before


def test_moved_terms_give_what_a_job_with_these_terms_gives(screen):
    """The figures of a slider are those of a job that holds these terms itself."""
    screen.profit.value, screen.overhead.value = 20, 30
    for option in [option for option in screen.options if option.estimate is not None][:3]:
        job = kit.job.change_job(option.job, {"terms.profit": "20 %", "terms.overhead": "30 %"})
        made = kit.estimate(job, option.estimate.lists)
        assert (screen.figures[option.id].price, screen.figures[option.id].margin) == (made.price, made.margin)


def test_picking_two_tells_what_changes(screen):
    """Drain, cabinet, hours and money of the pair stand there, summed to the difference of their prices."""
    screen.first.value, screen.second.value = "under_stone-3cm", "top_stone-3cm"
    assert "Front of the cabinet" in screen.changes.value
    made = {option.id: option.estimate for option in screen.options}
    difference = made["top_stone-3cm"].price - made["under_stone-3cm"].price
    assert f"-{format_money(abs(difference))}" in screen.changes.value


def test_working_back_gives_the_wanted_margin(screen):
    """At the price shown the margin is reached, and a cent less misses it."""
    screen.margin.value = 35
    option = screen.options[0]
    price = screen._price_at(option.id, Decimal("0.35"))
    assert format_money(price) in screen.back.value
    cost = option.estimate.cost
    assert (price - cost) / price >= Decimal("0.35") > (price - Decimal("0.01") - cost) / (price - Decimal("0.01"))


def test_a_job_that_is_none_leaves_the_screen(screen):
    """A wrong name is refused and the alternates stay."""
    before = screen.table.value
    with pytest.raises(KitError, match="is not a plain file name"):
        screen.open("../../x")
    screen.note.guard(lambda: screen.open("missing.toml"))(None)
    assert "alert" in screen.note.box.value
    assert screen.table.value == before


def test_an_alternate_is_saved_as_a_job(screen):
    """The saved file prices as the alternate on the screen."""
    screen.first.value, screen.second.value = "under_stone-3cm", "flush_stone-3cm"
    screen.save()
    saved = kit.read_job(screen.files.folder / "stone_apron_single_bowl_flush_stone-3cm.toml")
    option = next(option for option in screen.options if option.id == "flush_stone-3cm")
    assert kit.estimate(saved, option.estimate.lists).price == option.estimate.price
