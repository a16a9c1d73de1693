"""A new job: nothing is measured, nobody is invented, and there is no price before the answers that decide it are there."""

import datetime as dt
import re
from pathlib import Path

import pytest
from turning import control

import kit
from kit.compare.new_job import job_kinds, new_job, next_job_number
from kit.errors import IssueError, JobError
from kit.export.handoff import handoff_files
from kit.export.purchase_list import purchase_list_bytes
from kit.job import change_job, job_document, parse_job, read_job, write_job
from kit.job.open_fields import decides_price, open_fields
from kit.money import format_money
from kit.panels import Estimator
from kit.panels.sketch import sketch_job
from kit.panels.visit_steps import STEPS

DAY = dt.date(2026, 3, 2)
NAMES = {
    "identity.customer": "A customer of the test",
    "identity.address": "1 Test Street",
    "identity.tax_place": "Test County",
    "identity.measured_by": "The test",
}
DECIDING = {
    "cabinet.width": "36 in",
    "cabinet.construction": "face-frame",
    "cabinet.left.kind": "drawer",
    "cabinet.right.kind": "door",
    "old.sink_kind": "top",
    "old.counter_material": "laminate",
    "counter.runs[1].length": "96 in",
    "counter.runs[1].left_end": "wall",
    "counter.runs[1].right_end": "open",
    "counter.sink_center": "42 in",
    "plumbing.stub_height": "unknown",
    "plumbing.dishwasher": False,
}


@pytest.mark.parametrize("kind", job_kinds(), ids=lambda kind: kind.kind)
def test_a_kind_is_written_read_and_priced_once_it_is_measured(kind, tmp_path):
    """The file holds no stand-in; the last answer gives the price."""
    lists = kit.load_lists(kit.shipped("price_lists"))
    job = new_job(kind, lists, number="T-1", day=DAY)
    write_job(job, tmp_path / "job.toml")
    assert read_job(tmp_path / "job.toml") == job
    assert not {"customer", "address", "measured_by"} & job_document(job)["identity"].keys()
    assert "width" not in job_document(job)["cabinet"]
    with pytest.raises(JobError, match=r"cabinet\.width is still to be measured: there is no price until then"):
        kit.estimate(job, lists)
    for place in job.open_places:
        assert job.to_measure
        job = change_job(job, {place: (NAMES | DECIDING)[place]})
    assert job.to_measure is None
    made = kit.estimate(job, lists)
    assert made.price > 0
    assert (job.sink.mount, job.counter.made_by, job.identity.visit_date) == (kind.mount, kind.made_by, DAY)


def test_every_open_field_has_an_answer_here_and_may_be_left():
    """The table names fields of a job, and no others; twelve of them decide the price."""
    assert set(NAMES | DECIDING) == set(open_fields())
    assert {place for place in open_fields() if decides_price(place)} == set(DECIDING)
    assert len(DECIDING) <= 12
    document = {**job_document(kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")), "to_measure": "cabinet.depth"}
    with pytest.raises(JobError, match=r'"cabinet\.depth" is not a field that can be left to measure'):
        parse_job(document)


@pytest.mark.parametrize(("numbers", "hand_number"), [([], "2026-001"), (["K-009", "K-010"], "K-011"), (["2025-004", "none"], "2025-005"), (["A99"], "A100")])
def test_the_next_number_follows_the_highest(numbers, hand_number):
    """In the writing of that one; the first of the year where none ends in digits."""
    assert next_job_number(numbers, DAY) == hand_number


def test_the_screen_asks_first_and_then_shows_the_price(tmp_path: Path):
    """No price or finding stands anywhere before, but each picture does; what is missing is named."""
    screen = Estimator(folder=tmp_path / "jobs", day=DAY)
    screen.start.start()
    assert (screen.job.identity.job_number, screen.job.identity.visit_date) == ("2026-001", DAY)
    assert control(screen, "identity.customer").value == ""
    for step in ("cabinet", "sink", "check", "options", "papers"):
        screen.go(step)
        assert "$" not in screen.headline.value + screen.content.view.value + screen.content.picture.value + screen.options.table.value
    for step in ("start", "house", "cabinet", "there", "sink", "counter", "plumbing", "level", "scope"):
        screen.go(step)
        drawn = screen.content.picture.value
        assert "<svg" in drawn
        assert "data-level" not in drawn  # no finding of what only stands in for an answer
        assert "usual values where answers are still to come" in drawn
        assert ("Press an underlined ?" in drawn) == ("sk-unmeasured" in drawn) == (step not in {"house", "sink", "level"})
    with pytest.raises(JobError, match="There is no price yet: 12 answers that decide it are missing"):
        screen.papers.make("Proposal")
    assert all(button.disabled for button in (*screen.papers.buttons.values(), screen.promise.issue_button))
    assert "first answer what decides the price" in screen.papers.waits.value
    for place, answer in DECIDING.items():
        assert "No price yet" in screen.headline.value
        control(screen, place).value = answer
    assert screen.faults.value == ""
    assert screen.shown_price == format_money(kit.estimate(screen.job, screen.state.lists).price)


def test_an_old_material_that_no_list_knows_is_told_at_its_own_field(tmp_path: Path):
    """The last answer brings the price, and so the fault; the list above leads to the field in which it lies."""
    screen = Estimator(folder=tmp_path / "jobs", day=DAY)
    screen.start.start()
    for place, answer in {**DECIDING, "old.counter_material": "moonstone"}.items():
        control(screen, place).value = answer
    told = screen.faults.value
    assert re.findall(r"data-go='([^']*)'[^>]*>([^<]*)<", told) == [
        ("plumbing/plumbing.dishwasher", "Dishwasher drains into this sink"),
        ("there/old.counter_material", "Old countertop material"),
    ]
    assert "</button>: No countertop is of &quot;moonstone&quot;" in told
    control(screen, "old.counter_material").value = "laminate"
    assert screen.faults.value == ""
    assert "$" in screen.shown_price


def test_what_needs_a_price_says_that_it_waits(tmp_path: Path):
    """Options and sheets of an example give way to one sentence when a new job is started; sliders are not there before the price is."""
    screen = Estimator(folder=tmp_path / "jobs", day=DAY)
    screen.go("options")
    screen.state.settle()
    screen.start.start()
    for step, says in (("options", screen.options.table), ("papers", screen.content.view), ("check", screen.content.view)):
        screen.go(step)
        assert "This comes once the answers that decide the price are in" in says.value, step
    assert (screen.options.what_if.box.layout.display, screen.options._one.layout.display) == ("none", "none")


def test_the_picture_is_the_form_from_the_first_answer_on(tmp_path: Path):
    """What is still to be measured is a question mark that can be typed over, what hangs on it one that can't; the drawing follows each answer."""
    screen = Estimator(folder=tmp_path / "jobs", day=DAY)
    screen.start.start()
    screen.go("cabinet")
    before = screen.content.picture.value
    asks = r'aria-label="Sink base width, not measured yet: type it"[^>]*data-field="cabinet.width"><title>[^<]*</title><text[^>]*>\? in</text>'
    assert re.search(asks, before)
    assert re.search(r'aria-label="not measured yet: follows from [^"]*sink base width[^"]*"[^>]*><title>[^<]*</title><text[^>]*>\? in</text>', before)
    assert ">36 in<" not in before
    screen.content.picture._receive(None, {"type": "typed", "field": "cabinet.width", "text": "39 1/4"}, None)
    assert screen.job.cabinet.width_in == 39.25
    assert 'aria-label="Sink base width, 39 1/4 in: type another measure"' in screen.content.picture.value
    screen.go("counter")
    for field, typed, hand_left in (("counter.sink_center", "60", 60.0), ("counter.runs[1].length", "100", 60.0)):
        screen.panel.enter({field: typed})
        sketch = sketch_job(screen.job, screen.state.lists)
        assert sketch.job.counter.sink_center_in == hand_left
    assert "Run 1: length, 100 in: type another measure" in screen.content.picture.value
    assert "No price yet" in screen.headline.value


def test_words_of_a_sketch_ask_where_their_sizes_do(tmp_path: Path):
    """What hangs on an answer that is still to come has no usual figure, nor a usual choice, in any word of a picture; what is known has its figure."""
    screen = Estimator(folder=tmp_path / "jobs", day=DAY)
    screen.start.start()

    def drawn(step):
        screen.go(step)
        return screen.content.picture.value

    def words(step):
        return " ".join(re.findall(r"<text[^>]*>([^<]*)</text>", drawn(step)))

    house, front, today, plan = (words(step) for step in ("house", "cabinet", "there", "counter"))
    assert "? in x 1 3/16 in;" in house  # the run
    assert ("96 in" in house, "?, gap ? in" in front, "door, gap" in front, "door base" in plan) == (False, True, False, False)
    assert ("stile ? in" in front, "old countertop, ?, 1 1/2 in" in today, "laminate" in today, "drop-in" in today) == (True, True, False, False)
    assert not re.search(r"<text[^>]*>\?</text>", drawn("there").partition("sk-on-phone")[0])  # a choice that stands on two lines is asked for once
    stub = r'aria-label="Drain stub-out above the floor, not measured yet: type it".*?<text[^>]*>\? in</text>'
    assert re.search(stub, drawn("plumbing"))  # and not how high it may be at most, as if it had been measured there
    assert ("sink base ? in" in plan, "sink base 36 in" in plan, plan.count("? base")) == (True, False, 4)  # on each side, in both layouts
    assert ("35 11/16 in" in front, "bowl 29 1/2 in x 15 1/2 in" in plan) == (True, True)  # no answer that is still to come moves these
    for place, answer in DECIDING.items():
        control(screen, place).value = answer
    assert not [step for step in ("house", "cabinet", "there", "sink", "counter", "plumbing") if "?" in words(step)]


@pytest.mark.parametrize("kind", job_kinds(), ids=lambda kind: kind.kind)
def test_every_kind_is_drawn_in_every_step_before_anything_is_measured(kind, tmp_path: Path):
    """A picture is there, whatever words stand in it: also those with an apostrophe, as "the sink's ledge" of a job whose countertop stays."""
    screen = Estimator(folder=tmp_path / "jobs", day=DAY)
    screen.start.kind.value = kind
    screen.start.start()
    for step in STEPS:
        screen.go(step.id)
        assert "could not be shown" not in screen.content.picture.value, step.id
        assert ("<svg" in screen.content.picture.value) == bool(step.picture), step.id


def test_a_sketch_puts_the_sink_into_the_run(lists):
    """In the middle of 96 in where nothing is measured, in that of a run that is, and at its own place in a run long enough."""
    job = new_job("apron-under-stone", lists, number="T-1", day=DAY)

    def placed(changes):
        counter = sketch_job(change_job(job, changes), lists).job.counter
        return counter.runs[0].length_in, counter.sink_center_in

    assert placed({}) == (96.0, 48.0)
    assert placed({"counter.runs[1].length": "70 in"}) == (70.0, 35.0)
    assert placed({"counter.sink_center": "30 in"}) == (96.0, 30.0)
    assert placed({"counter.sink_center": "80 in"}) == (160.0, 80.0)


def test_the_price_is_there_before_the_customer_is_named_and_nothing_goes_out_until_then(tmp_path: Path):
    """What names the customer is refused, on the screen, as an issued estimate and as rows for the books; workbook and drawings are there."""
    screen = Estimator(folder=tmp_path / "jobs", day=DAY)
    screen.start.start()
    for place, answer in DECIDING.items():
        control(screen, place).value = answer
    screen.state.settle()
    assert "4 to fill in" in screen.headline.value
    assert "Fill in first, in the step Start: Customer" in screen.papers.waits.value
    assert [name for name, button in screen.papers.buttons.items() if not button.disabled] == ["Workbook", "Drawings"]
    assert screen.promise.issue_button.disabled
    price, unnamed = screen.estimate.price, r"identity\.customer is not filled in yet"
    for refused in (
        lambda: purchase_list_bytes(screen.estimate),
        lambda: handoff_files(screen.estimate, "books"),
        lambda: kit.issue(screen.estimate, tmp_path),
    ):
        with pytest.raises(IssueError, match=unnamed):
            refused()
    assert not list(tmp_path.glob("*.json"))
    screen.look_on(customer=True)
    assert "not named" not in screen.customer.value
    screen.look_on(customer=False)
    for place, answer in NAMES.items():
        control(screen, place).value = answer
    screen.state.settle()
    assert (screen.papers.waits.value, screen.promise.issue_button.disabled, screen.estimate.price) == ("", False, price)
    assert "to fill in" not in screen.headline.value
    screen.state.settle()
    again = Estimator(folder=tmp_path / "jobs", day=DAY)
    assert again.job == screen.job
