"""The estimator's screen, driven from Python: no browser needed."""

import gc
import re
import shutil
import weakref
from datetime import date
from decimal import Decimal
from pathlib import Path
from threading import Event, Thread, current_thread, main_thread

import pytest
from random_jobs import random_job
from turning import control, slider, wait_for

import kit
from kit.compare.sink_out import why_sink_out
from kit.errors import KitError
from kit.issued import open_issued
from kit.money import format_money
from kit.panels import Estimator
from kit.panels.controls import WHAT_IF
from kit.panels.entries import walk_entries, walk_fields
from kit.panels.views import SHEETS
from kit.panels.visit_steps import STEPS, step_of_field
from kit.units import format_day

EXAMPLE = kit.shipped("examples") / "stone_apron_single_bowl.toml"


@pytest.fixture
def screen(tmp_path: Path) -> Estimator:
    """A screen with one example, writing into a folder of its own."""
    return Estimator(EXAMPLE, folder=tmp_path / "jobs")


def test_price_on_screen_is_the_kits_own(screen):
    """What stands on the screen is what `kit.estimate` gives for the job on the screen."""
    assert screen.shown_price == format_money(kit.estimate(screen.job, screen.state.lists).price)


def test_a_typed_fraction_changes_job_and_price(screen):
    """A tape reading typed as a fraction reaches the job, and a wider run costs more."""
    before = screen.estimate.price
    control(screen, "counter.runs[1].length").value = "120 1/2"
    control(screen, "cabinet.width").value = "36 1/2"
    assert screen.job.cabinet.width_in == 36.5
    assert screen.job.counter.runs[0].length_in == 120.5
    assert screen.estimate.price > before
    assert screen.shown_price == format_money(screen.estimate.price)


def test_the_headline_goes_out_before_what_takes_longer_is_worked_out(screen, monkeypatch):
    """A change shows the new price first and lets it be sent; the fields, the picture and the wait for rest come after it."""
    screen.go("counter")
    order: list[str] = []

    def sent():
        if current_thread() is main_thread():  # another screen may come to rest in a thread of its own
            order.append(f"{screen.shown_price}, waits for rest: {screen.state._timer is not None}")

    monkeypatch.setattr("kit.panels.estimator.send_first", sent)
    monkeypatch.setattr(screen.panel, "refresh", lambda *_: order.append("fields"))
    monkeypatch.setattr(screen.content, "show", lambda _: order.append("picture"))
    control(screen, "counter.runs[1].length").value = "120 1/2"
    assert order[:3] == [f"{format_money(screen.estimate.price)}, waits for rest: False", "fields", "picture"]  # what comes with rest may be there already
    assert screen.state._timer is not None
    screen.state.settle()


DESK, TELEPHONE = "sk-at-desk", "sk-on-phone"


@pytest.mark.parametrize(("narrow", "first", "other"), [(False, DESK, TELEPHONE), (True, TELEPHONE, DESK)])
def test_only_the_layout_that_a_page_shows_is_drawn(screen, narrow, first, other):
    """Both while no page has said its own, as where a notebook is run without one; then that of the page, and the other one as soon as a page wants it."""

    def shown(place):
        assert (DESK in place.value and TELEPHONE in place.value) == ("display:none" in place.value)  # one alone shows on a page of any width
        return [layout for layout in (DESK, TELEPHONE) if f"sk-drawing {layout}'" in place.value]

    def say(narrow):
        screen.tools._receive(None, {"type": "layout", "narrow": narrow}, None)

    both = [DESK, TELEPHONE]
    screen.go("cabinet")
    assert shown(screen.content.picture) == both
    before = screen.content.picture.value
    say(narrow)
    assert screen.content.picture.value is before
    control(screen, "cabinet.width").value = "39"
    assert shown(screen.content.picture) == [first]
    screen.state.settle()
    screen.go("papers/made-of")
    assert "How sure" in screen.content.view.value
    for sheet in ("made-of", "drawings", "calendar"):
        screen.go(f"papers/{sheet}")
        assert shown(screen.content.view) == [first]
    say(narrow)
    assert other not in screen.content.view.value
    say(not narrow)
    assert shown(screen.content.view) == both
    screen.go("cabinet")
    assert shown(screen.content.picture) == both


@pytest.mark.parametrize(("seed", "drawn_at_rest"), [(2, []), (1, ["section"])])
def test_at_rest_nothing_is_worked_out_or_drawn_again_but_what_differs(tmp_path, monkeypatch, seed, drawn_at_rest):
    """While a slider moves nothing is tried for what wants the same place; where something does, it is in the list and in the drawing at rest."""
    screen = Estimator(random_job(seed), folder=tmp_path / "jobs")
    screen.go("plumbing")
    drawn: list[str] = []
    monkeypatch.setattr("kit.panels.step_content.draw_picture", lambda name, *_: drawn.append(name) or "")
    screen.state.change({"plumbing.stub_height": "17 3/8 in"})
    assert drawn == ["section"]
    moving = screen.estimate
    monkeypatch.delattr("kit.panels.job_state.estimate")
    screen.state.settle()
    assert "data-rest='yes'" in screen.headline.value
    assert drawn == ["section", *drawn_at_rest]
    assert (screen.estimate is moving) == (not drawn_at_rest)
    assert screen.estimate == kit.estimate(screen.job, screen.state.lists)


def test_the_customers_view_is_drawn_for_the_page_that_shows_it(screen):
    """One layout where the page has said its own; the other one at once when the page wants it, and nothing of the work."""
    screen.tools._receive(None, {"type": "layout", "narrow": False}, None)
    screen.look_on(customer=True)
    assert (DESK in screen.customer.value, TELEPHONE in screen.customer.value) == (True, False)
    screen.tools._receive(None, {"type": "layout", "narrow": True}, None)
    assert (DESK in screen.customer.value, TELEPHONE in screen.customer.value) == (True, True)
    assert screen.content.picture.value == screen.content.view.value == ""


def test_whole_numbers_are_stepped_and_widths_stand_in_a_list(screen):
    """Joints, stairs, stops, people and trips go up and down; the usual widths of a base are listed and another can be typed."""
    import ipywidgets as widgets

    for place in ("counter.runs[1].joints", "site.stair_steps", "plumbing.stops_to_renew", "terms.crew", "terms.extra_trips"):
        assert isinstance(control(screen, place), widgets.BoundedIntText), place
    width, before = control(screen, "cabinet.width"), screen.estimate.price
    assert isinstance(width, widgets.Combobox)
    width.value = "39 in"
    assert ("39 in" in width.options, screen.job.cabinet.width_in) == (True, 39.0)
    width.value = "36 1/8"
    assert screen.job.cabinet.width_in == 36.125
    control(screen, "counter.runs[1].joints").value = 1
    assert screen.estimate.design.top.seams == 1
    assert screen.estimate.price > before


@pytest.mark.parametrize(
    ("place", "typed", "taken"),
    [
        ("cabinet.width", "36 1/8", 36.125),
        ("cabinet.construction", "frameless", "frameless"),
        ("counter.runs[1].joints", 1, 1),
        ("identity.visit_date", date(2026, 4, 7), date(2026, 4, 7)),
    ],
)
def test_an_entry_is_heard_though_the_screen_comes_to_rest_meanwhile(screen, place, typed, taken):
    """While the entry is on its way to whoever hears it, the thread of the rest shows the job's old value in the same field again."""
    field = control(screen, place)
    on_its_way = field.notify_change

    def come_to_rest(change):
        if change.name != "value":
            return on_its_way(change)
        del field.notify_change
        thread = Thread(target=screen.panel.refresh, args=(screen.job, screen.state.lists, screen.state.refused))
        thread.start()
        thread.join()
        return on_its_way(change)

    field.notify_change = come_to_rest
    field.value = typed
    assert {at: value for at, _, value in walk_fields(screen.job)}[place] == taken
    assert screen.faults.value == ""


def test_a_wrong_entry_is_told_and_changes_nothing(screen):
    """An entry that breaks its rule leaves price and job alone and says why; what was typed stays, to be mended."""
    before = screen.job, screen.shown_price
    control(screen, "cabinet.width").value = "5 lb"
    assert (screen.job, screen.shown_price) == before
    assert "Sink base width" in screen.faults.value
    assert control(screen, "cabinet.width").value == "5 lb"
    control(screen, "cabinet.width").value = "36 1/4 in"
    assert screen.faults.value == ""


def test_undo_and_redo_walk_the_history(screen):
    """Undo gives the job before back, controls included; redo the job after."""
    first = screen.job
    control(screen, "cabinet.width").value = "39 in"
    second = screen.job
    screen.state.undo()
    assert screen.job == first
    assert control(screen, "cabinet.width").value == "36 in"
    screen.state.redo()
    assert screen.job == second


def test_everything_of_the_job_has_a_control(screen):
    """No field, list or optional part of the record is left off the screen, and no two labels of a part are alike."""
    entries = list(walk_entries(screen.job))
    places = [entry.place for entry in entries]
    assert len(places) == len(set(places)) > 90
    parts: dict[str, set[str]] = {}
    for place in places:
        if place == "to_measure":
            continue
        label = control(screen, place).description
        assert label not in parts.setdefault(step_of_field(place), set()), label
        parts[step_of_field(place)].add(label)


def test_showing_the_controls_changes_nothing(screen):
    """Turning through all steps and sheets leaves the job as it is."""
    before = screen.job
    for step in STEPS:
        screen.go(step.id)
        screen.panel.fold(open_more=True)
    for sheet in SHEETS:
        screen.go(f"papers/{sheet}")
        assert "alert" not in screen.content.view.value
    assert screen.job is before
    assert not screen.state.can_undo


@pytest.mark.parametrize(
    ("place", "more", "fewer"),
    [("sink.bowls", 2, 1), ("counter.runs", 2, 1), ("counter.holes", 3, 0), ("levelness.readings", 5, 2), ("offcuts", 2, 0)],
)
def test_lists_grow_and_shrink(screen, place, more, fewer):
    """A step up adds a part that is sound as it stands, a step down takes the last out."""
    control(screen, place).value = more
    assert screen.faults.value == ""
    part, _, key = place.partition(".")
    record = getattr(screen.job, part)
    assert len(getattr(record, key) if key else record) == more
    control(screen, place).value = fewer
    assert screen.faults.value == ""
    record = getattr(screen.job, part)
    assert len(getattr(record, key) if key else record) == fewer


def test_a_step_that_is_refused_goes_back(screen):
    """Taking out the run that holds the sink is refused, and the step shows the job's count again."""
    control(screen, "counter.runs").value = 2
    control(screen, "counter.sink_run").value = 2
    control(screen, "counter.runs").value = 1
    assert "Runs of countertop</button>: The sink is in run 2, but there is only 1." in screen.faults.value
    assert control(screen, "counter.runs").value == 2


def test_a_corner_comes_and_goes(screen):
    """The optional part appears with its fields and leaves with them."""
    control(screen, "cabinet.corner").value = True
    assert screen.job.cabinet.corner is not None
    control(screen, "cabinet.corner.distance").value = "9 1/2"
    assert screen.job.cabinet.corner.distance_in == 9.5
    control(screen, "cabinet.corner").value = False
    assert screen.job.cabinet.corner is None


def test_choosing_sink_and_counter_takes_their_sizes(screen):
    """The lists give sizes, weight, material and maker; the mount follows where the kind does not take the old one."""
    kind = screen.state.lists.sinks["steel-top-33"]
    control(screen, "sink.item").value = "steel-top-33"
    assert screen.faults.value == ""
    assert (screen.job.sink.mount, screen.job.sink.weight_lb, len(screen.job.sink.bowls)) == ("top", kind.weight_lb, kind.bowls)
    assert screen.job.sink.apron_height_in is None
    control(screen, "counter.item").value = "wood-maple-own"
    assert screen.faults.value == ""
    assert (screen.job.counter.material, screen.job.counter.made_by, screen.job.counter.species) == ("wood", "us", "hard-maple")


def test_price_lists_are_chosen_by_the_name_of_their_folder(tmp_path):
    """The folder beside the jobs is told by its name; the job file holds the way to it."""
    shutil.copytree(kit.shipped("price_lists"), tmp_path / "price_lists_2026-03-02")
    screen = Estimator(EXAMPLE, folder=tmp_path / "jobs")
    choice = control(screen, "prices")
    assert "price_lists_2026-03-02" in [words for words, _ in choice.options]
    choice.label = "price_lists_2026-03-02"
    assert screen.job.prices == "../price_lists_2026-03-02"


def test_an_apron_comes_and_goes_with_its_sizes(screen):
    """Neither way is the record left in a state that contradicts itself."""
    control(screen, "sink.style").value = "standard"
    assert (screen.faults.value, screen.job.sink.apron_width_in) == ("", None)
    control(screen, "sink.style").value = "apron-inset"
    assert screen.faults.value == ""
    assert screen.job.sink.apron_height_in == screen.state.lists.sinks["steel-apron-two-bowl-30"].apron_height_in


def test_every_slider_moves_a_copy(screen):
    """A slider at either end reaches the copy, or is refused with a reason; the job stays as it is until Keep."""
    what_if, before, moved = screen.options.what_if, screen.job, 0
    for pattern in WHAT_IF:
        place = pattern.replace("[]", "[1]")
        moving = slider(screen, place)
        moving.move(moving.high if moving.at < moving.high else moving.low)
        assert place in what_if.changes
        moved += "alert" not in what_if.answer.value
        what_if.drop()
    assert moved >= 10
    assert screen.job is before


def test_what_if_is_kept_or_dropped(screen):
    """Was, now and difference stand below the sliders; Drop leaves job and price, Keep takes the change over as one step back."""
    what_if, before, price = screen.options.what_if, screen.job, screen.estimate.price
    slider(screen, "counter.runs[1].length").move(108.0)
    assert (screen.job, screen.shown_price) == (before, format_money(price))
    longer = kit.estimate(kit.job.change_job(before, {"counter.runs[1].length": "108 in"}), screen.state.lists).price
    assert format_money(longer) in what_if.answer.value
    assert f"+{format_money(longer - price)}" in what_if.answer.value
    what_if.drop()
    assert format_money(longer) not in what_if.answer.value
    slider(screen, "counter.runs[1].length").move(108.0)
    what_if.keep()
    assert (screen.job.counter.runs[0].length_in, screen.estimate.price) == (108.0, longer)
    screen.state.undo()
    assert screen.job == before


@pytest.mark.parametrize("place", ["counter.runs[1].length", "sink.weight", "terms.profit", "site.carry"])
@pytest.mark.parametrize("says", [True, False])
def test_what_was_moved_and_put_back_is_no_change(screen, place, says):
    """There is nothing to keep or to discard, whether the job says the figure or leaves it to the company."""
    if says:
        profit = f"{screen.state.lists.company.profit * 100:g} %"
        screen.state.change({"counter.runs[1].length": "108 in", "sink.weight": "150 lb", "terms.profit": profit, "site.carry": "60 ft"})
    what_if, moving = screen.options.what_if, slider(screen, place)
    at = moving.at
    moving.move(at + moving.step)
    assert (what_if.keep_button.disabled, what_if.drop_button.disabled) == (False, False)
    moving.move(at)
    assert (what_if.keep_button.disabled, what_if.drop_button.disabled, what_if.changes) == (True, True, {})


def test_what_is_moved_while_the_job_comes_to_rest_stays(screen, monkeypatch):
    """The thread of the rest looks whether all was put back, while a slider is moved in another one."""
    from kit.panels import what_if as room

    moving, real, threads = slider(screen, "sink.weight"), room.change_job, []

    def meanwhile(job, changes):
        found = real(job, changes)
        if not threads:
            threads.append(Thread(target=moving.move, args=(moving.at + moving.step,)))
            threads[0].start()
            threads[0].join(0.5)
        return found

    monkeypatch.setattr(room, "change_job", meanwhile)
    screen.options.what_if.show(screen.estimate)
    threads[0].join()
    assert list(screen.options.what_if.changes) == ["sink.weight"]
    assert not screen.options.what_if.keep_button.disabled


def test_the_difference_of_days_is_that_of_the_days_beside_it(screen):
    """At a tenth more hours the example is without a sink for 19 days and not for 18: that is a day more, although the clock moves by an hour."""
    slider(screen, "terms.hours_factor").move(110)
    was, now, difference = re.search(
        r"Days without a sink</th><td[^>]*>(\d+) days</td><td[^>]*>(\d+) days</td><td[^>]*>([^<]*)<", screen.options.what_if.answer.value
    ).groups()
    assert was != now
    assert float(difference) == int(now) - int(was)


def test_the_head_tells_the_days_of_the_proposal_that_went_out_late(tmp_path):
    """Visited in March and issued on June 1: signed five days later; a job that is changed then is a draft again, dated by its visit."""
    late = Estimator(EXAMPLE, folder=tmp_path / "jobs", day=date(2026, 6, 1))
    assert "if signed Sat, Mar 7<" in late.headline.value
    late.promise.reason.value = "the customer asked for it again"
    late.promise.issue()
    assert "if signed Sat, Jun 6<" in late.headline.value
    issued = open_issued(next((tmp_path / "jobs").glob("*-r01.json")))
    assert format_day(issued.figures.done_by, beside=late.job.identity.visit_date) in late.headline.value
    control(late, "site.carry").value = "190 ft"
    assert "if signed Sat, Mar 7<" in late.headline.value


def test_another_signing_day_in_the_terms_than_in_the_ledger_is_said(tmp_path):
    """Days count from the ledger's; the head names both where they differ."""
    screen = Estimator(kit.change_job(kit.read_job(EXAMPLE), {"terms.signed_on": "2026-03-20"}), folder=tmp_path / "jobs", day=date(2026, 3, 11))
    assert "Done by, signed Fri, Mar 20<" in screen.headline.value
    screen.promise.reason.value = "to try it"
    screen.promise.issue()
    screen.promise.contract.sign()
    assert "Done by, signed Wed, Mar 11 in the ledger, Fri, Mar 20 in the terms<" in screen.headline.value


def test_a_slider_at_its_usual_place_leaves_the_terms_alone(screen):
    """The company's own figure is not written into the job, and the box beside a slider leaves its field open."""
    what_if = screen.options.what_if
    moving = slider(screen, "terms.profit")
    usual = moving.at
    assert usual == screen.state.lists.company.profit * 100
    moving.move(usual + 5)
    assert what_if.changes["terms.profit"] == f"{usual + 5:g} %"
    moving.move(usual)
    assert "terms.profit" not in what_if.changes
    box = what_if.sliders["site.carry"].box
    box.children[1].value = True
    assert what_if.changes["site.carry"] is None
    what_if.keep()
    assert (screen.job.terms.profit_share, screen.job.site.carry_ft) == (None, None)


def test_the_difference_of_hours_is_that_of_the_hours_beside_it(screen):
    """A heavier sink takes 37.04 to 37.06 hours, or whatever it is: what stands beside it is what lies between the two."""
    differ = 0
    for pounds in range(119, 131):
        slider(screen, "sink.weight").move(pounds)
        was, now, more = re.search(r"Own hours</th><td[^>]*>([\d.]+)</td><td[^>]*>([\d.]+)</td><td[^>]*>([^<]*)<", screen.options.what_if.answer.value).groups()
        assert Decimal(more) == Decimal(now) - Decimal(was)
        differ += was != now
    assert differ > 6


def test_the_box_beside_a_slider_and_the_slider_agree(screen):
    """Moving the slider takes the tick out; ticked, it stands where that is taken for something, and says no figure that nobody takes."""
    what_if = screen.options.what_if
    waste = slider(screen, "terms.waste")
    box = what_if.sliders["terms.waste"].box.children[1]
    assert (box.value, waste.text) == (True, "-")  # each item's own is no waste of 0 %
    waste.move(10.0)
    assert (box.value, waste.text, what_if.changes) == (False, "10 %", {"terms.waste": "10 %"})
    box.value = True
    assert (waste.text, what_if.changes) == ("-", {})
    stub = slider(screen, "plumbing.stub_height")
    box = what_if.sliders["plumbing.stub_height"].box.children[1]
    stub.move(18.0)
    box.value = True
    assert what_if.changes["plumbing.stub_height"] is None
    box.value = False
    assert (stub.text, stub.at, what_if.changes["plumbing.stub_height"]) == ("18 in", 18.0, "18 in")


def test_saved_job_gives_the_same_price(screen):
    """The file that Save writes is read back to the job on the screen."""
    control(screen, "sink.weight").value = "140"
    screen.files.folder.mkdir()
    screen.save()
    assert kit.read_job(screen.files.folder / EXAMPLE.name) == screen.job


def test_unknown_is_accepted_where_the_visit_may_not_tell(screen):
    """Emptying a field that may be unknown falls back to the assumption, which is listed."""
    control(screen, "cabinet.depth").value = ""
    assert screen.job.cabinet.depth_in is None
    assert "cabinet.depth" in {assumed.field for assumed in screen.estimate.assumptions}
    assert "24 in" in control(screen, "cabinet.depth").placeholder


def test_digits_turn_to_steps(screen):
    """The key of a step shows it; a key without a step does nothing."""
    screen._pressed("3")
    assert screen.step.id == "cabinet"
    screen._pressed("0")
    screen._pressed("x")
    assert (screen.step.id, screen.steps.current) == ("cabinet", "cabinet")


def test_the_fields_of_a_step_are_drawn_once(screen, monkeypatch):
    """They come into the frame of their own step: in that of the step before they would be drawn twice, and what is typed into the first lost."""
    from kit.panels.field_panel import FieldPanel

    turn, frames = FieldPanel.turn, []
    monkeypatch.setattr(
        FieldPanel, "turn", lambda panel, *parts, **more: (frames.append((screen.steps.current, panel.box.children)), turn(panel, *parts, **more))[1]
    )
    screen.go("sink")
    assert frames == [("sink", ())]


def test_why_answers_for_every_number(screen):
    """Each row with a button has an answer with its working; a number that is gone says so."""
    made = screen.estimate
    asked = [f"line:{one.id}" for one in made.lines] + [f"buy:{one.id}" for one in made.purchases] + [f"task:{one.step}" for one in made.tasks]
    asked += [f"row:{one.id}" for one in made.build_up] + [f"finding:{one.id}" for one in made.findings] + [f"assume:{one.id}" for one in made.assumptions]
    for about in asked:
        screen.ask_why(about)
        assert "Why?" in screen.why.answer.value, about
        assert "<td>" in screen.why.answer.value, about
    screen.ask_why("line:gone")
    assert "no longer part" in screen.why.answer.value


def test_hostile_text_is_shown_as_text(screen):
    """A customer name with markup in it reaches the page escaped."""
    control(screen, "identity.note").value = "<img src=x onerror=alert(1)>"
    control(screen, "cabinet.width").value = "<img src=x onerror=alert(1)>"
    screen.ask_why("line:<img src=x onerror=alert(1)>")
    screen.go("check")
    assert "<img" not in screen.content.view.value
    for sheet in SHEETS:
        screen.go(f"papers/{sheet}")
        assert "<img" not in screen.content.view.value
    assert "<img" not in screen.faults.value
    assert "<img" not in screen.why.answer.value
    assert "&lt;img" in screen.faults.value


def test_no_line_of_a_table_ends_within_a_fraction(screen):
    """A drywall screw 1 1/4 in long is one measure, however narrow the column is; what a drawing says is left to it."""
    screen.go("papers/takeoff")
    assert "1&nbsp;1/4&nbsp;in" in screen.content.view.value
    screen.go("papers/purchases")
    words, drawn = re.split(r"(?=<svg)", screen.content.view.value, maxsplit=1)
    assert re.findall(r"\d&nbsp;\d+/\d", words)
    assert not re.findall(r"\d \d+/\d", words)
    assert "&nbsp;" not in drawn


def test_a_sheet_that_fails_says_so_in_its_place(screen, monkeypatch):
    """The message stands where the sheet would; price and the other sheets work on."""

    def broken(*_: object) -> str:
        raise ZeroDivisionError("a fault of the test")

    monkeypatch.setattr("kit.panels.step_content.SHEETS", {**SHEETS, "takeoff": ("Quantities", broken)})
    screen.go("papers/takeoff")
    assert "could not be shown: the program&#x27;s fault, not yours." in screen.content.view.value
    control(screen, "cabinet.width").value = "39"
    assert screen.shown_price == format_money(screen.estimate.price)
    screen.go("papers/purchases")
    assert "alert" not in screen.content.view.value


def test_options_are_compared_beside_the_work_and_the_next_change_stops_it(screen, monkeypatch):
    """The entry is taken at once while alternates are tried; those of the job before are left, and what fails is said in their place."""
    from kit.panels import options_panel

    real, begun, go_on, left = options_panel.compare_alternates, Event(), Event(), Event()

    def slow(job, lists, *, progress):
        begun.set()
        assert go_on.wait(60)
        try:
            progress(1, 2)
        except BaseException:
            left.set()
            raise
        return real(job, lists)

    monkeypatch.setattr(options_panel, "compare_alternates", slow)
    screen.go("options")
    assert begun.wait(60)
    price = screen.shown_price
    screen.state.change({"counter.runs[1].length": "118 in"})  # the compare waits still
    assert screen.shown_price != price
    go_on.set()
    assert left.wait(60)
    screen.state.settle()
    wait_for(lambda: screen.options.options)
    chosen = next(option for option in screen.options.options if option.chosen)
    assert format_money(chosen.estimate.price) == screen.shown_price
    assert screen.options.tried.layout.display == "none"
    wait_for(lambda: f"Without a sink, this job: {why_sink_out(chosen.estimate)}" in screen.options.changes.value)
    other = screen.options.options[screen.options.choice.value]
    assert all(f">{begins}" in screen.options.changes.value for begins in ("This job</text>", other.title.split()[0]))  # a long name stands on two lines

    def broken(*_: object, **__: object) -> None:
        raise KitError("The lists hold no sink.")

    monkeypatch.setattr(options_panel, "compare_alternates", broken)
    screen.state.change({"counter.runs[1].length": "117 in"})
    screen.state.settle()
    wait_for(lambda: "could not be compared: The lists hold no sink." in screen.options.table.value)


def test_a_list_that_fails_to_price_is_told(screen, monkeypatch):
    """An unforeseen failure while pricing is put into words and leaves job and price alone."""

    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("a fault of the test")

    before = screen.shown_price
    monkeypatch.setattr("kit.panels.job_state.estimate", broken)
    control(screen, "cabinet.width").value = "39"
    assert "Not priced: the program&#x27;s fault, not yours." in screen.faults.value
    assert "Zero" not in screen.faults.value
    details = Path(screen.faults.value.partition("the file ")[2].partition(".txt")[0] + ".txt")
    assert "ZeroDivisionError: a fault of the test" in details.read_text(encoding="utf-8")
    details.unlink()
    assert screen.shown_price == before


class Circle:
    """It holds itself: only the collector of garbage lets go of it."""

    def __init__(self) -> None:
        self.itself = self


def test_a_screen_that_stands_is_passed_over_by_the_collector_of_garbage(screen, capsys):
    """Else it looks through all of it again and again, and a person waits; when a screen is shown anew, what nobody holds any more is let go all the same."""
    garbage = weakref.ref(Circle())
    try:
        gc.freeze()
        screen._ipython_display_()
        assert garbage() is None
        assert gc.get_freeze_count() > 10_000
    finally:
        gc.unfreeze()
