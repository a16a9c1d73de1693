"""What a person typed is neither changed nor dropped behind their back: sliders don't echo, a refused entry stays until it is mended."""

import re
import tomllib
from pathlib import Path

import pytest
from turning import control, slider

import kit
from kit.errors import KitError
from kit.panels import Estimator, Owner

EXAMPLE = kit.shipped("examples") / "stone_apron_single_bowl.toml"


@pytest.fixture
def screen(tmp_path: Path) -> Estimator:
    """A screen with one example, writing into a folder of its own."""
    return Estimator(EXAMPLE, folder=tmp_path / "jobs")


def mark_of(screen: Estimator, place: str) -> str:
    """What stands at a field after a refused entry; empty where there is no mark."""
    control(screen, place)
    shown = screen.panel.controls[place]
    assert ("sk-refused" in shown.widget._dom_classes) == (len(shown.rows) == 2)
    return shown.fault.value if len(shown.rows) == 2 else ""


def test_a_slider_shows_a_typed_measure_as_it_is(screen):
    """8 7/8 in stays between the slider's quarters, and 108 in is 108 in; showing them writes nothing."""
    control(screen, "sink.bowls[1].depth").value = "8 7/8"
    job = screen.job
    shown = slider(screen, "sink.bowls[1].depth")
    assert (shown.at, shown.text, shown.step) == (8.875, "8 7/8 in", 0.25)
    assert screen.job is job


@pytest.mark.parametrize(
    ("place", "typed"),
    [
        ("cabinet.width", "33 1/3 in"),
        ("cabinet.width", "838.25 mm"),
        ("sink.weight", "60 kg"),
        ("site.carry", "10 m"),
        ("site.carry", "70 1/3 ft"),
        ("terms.profit", "33 1/3 %"),
    ],
)
def test_a_measure_is_written_as_it_was_typed(screen, place, typed):
    """On the screen, in the file after What if, and in that of an alternate that the owner saves; reading it changes nothing."""
    part, key = place.split(".")
    control(screen, place).value = typed
    assert control(screen, place).value == typed
    slider(screen, "terms.overhead").move(31)
    screen.options.what_if.keep()
    screen.save()
    path = screen.files.folder / EXAMPLE.name
    assert tomllib.loads(path.read_text(encoding="utf-8"))[part][key] == typed
    assert kit.read_job(path) == screen.job
    owner = Owner(EXAMPLE.name, folder=screen.files.folder)
    with owner.working.lock:
        assert owner.figures[owner.first.value].price == kit.estimate(screen.job, screen.state.lists).price
    (owner.overhead if place == "terms.profit" else owner.profit).move(21)
    owner.save()
    (saved,) = screen.files.folder.glob(f"{EXAMPLE.stem}_*.toml")
    written = tomllib.loads(saved.read_text(encoding="utf-8"))
    assert written[part][key] == typed or part == "sink"  # another sink has a weight of its own
    assert "21 %" in written["terms"].values()


@pytest.mark.parametrize(
    ("place", "to", "hand_text"),
    [
        ("counter.runs[1].length", 107.99999999999999, "108 in"),
        ("counter.runs[1].length", 100.26, "100 1/2 in"),
        ("sink.bowls[1].depth", 8.8, "8 3/4 in"),
        ("terms.profit", 7.000000000000001, "7 %"),
        ("site.carry", 94.9, "95 ft"),
    ],
)
def test_a_move_writes_whole_steps_as_a_tape_shows_them(screen, place, to, hand_text):
    """Never what floats leave behind: the text in the file is the one on the slider."""
    slider(screen, place).move(to)
    assert slider(screen, place).text == hand_text
    screen.options.what_if.keep()
    assert control(screen, place).value == hand_text


def test_a_refused_entry_stays_and_later_ones_go_through(screen):
    """It waits in its field with its reason while other fields are typed in, until it is mended."""
    width = control(screen, "cabinet.width")
    width.value = "500"
    assert "is outside the range 18 to 60 in" in mark_of(screen, "cabinet.width")
    control(screen, "cabinet.height").value = "34 1/4"
    assert (screen.job.cabinet.width_in, screen.job.cabinet.height_in) == (36.0, 34.25)
    assert control(screen, "cabinet.width").value == "500"
    assert "Sink base width" in screen.faults.value
    screen.go("sink")
    screen._pressed_go(re.search(r"data-go='([^']*)'", screen.faults.value)[1])  # the list leads to the field
    assert (screen.step.id, screen.panel.controls["cabinet.width"].widget.value) == ("cabinet", "500")
    width.value = "36 1/4"
    assert (screen.job.cabinet.width_in, mark_of(screen, "cabinet.width"), screen.faults.value) == (36.25, "", "")


def test_a_refused_measure_in_a_list_is_told_once_and_its_step_is_marked(screen):
    """Not that the list is too short without it."""
    control(screen, "counter.runs[1].length").value = "999"
    hand_words = "&quot;999 in&quot; is outside the range 12 to 240 in."
    assert screen.faults.value.count("<div>") == 1
    assert f">Run 1: length</button>: {hand_words}</div>" in screen.faults.value
    assert [step["id"] for step in screen.steps.steps if step["mark"] == "refused"] == ["counter"]
    screen.state.undo()
    assert [step["id"] for step in screen.steps.steps if step["mark"] == "refused"] == []


def test_two_entries_that_are_only_sound_together_are_taken(screen):
    """A bowl that is wider than the sink is refused; once the sink is wider both are there."""
    control(screen, "sink.bowls[1].width").value = "33"
    assert mark_of(screen, "sink.bowls[1].width")
    control(screen, "sink.bowl_width").value = "34"
    for place in ("sink.body_width", "sink.apron_width"):
        control(screen, place).value = "36"
    assert (screen.job.sink.bowls[0].width_in, screen.faults.value) == (33.0, "")


def test_undo_takes_a_refused_entry_back(screen):
    """It is the last thing that was done."""
    control(screen, "cabinet.height").value = "34 1/4"
    control(screen, "cabinet.width").value = "5 lb"
    screen.state.undo()
    assert (control(screen, "cabinet.width").value, screen.job.cabinet.height_in, screen.faults.value) == ("36 in", 34.25, "")
    screen.state.redo()
    assert control(screen, "cabinet.width").value == "5 lb"


def test_save_says_what_is_left_out_and_issue_refuses(screen):
    """The sound part is in the file; nothing is issued; a download says so too."""
    control(screen, "cabinet.height").value = "34 1/4"
    control(screen, "cabinet.width").value = "500"
    screen.save()
    assert kit.read_job(screen.files.folder / EXAMPLE.name).cabinet.height_in == 34.25
    assert "Not in the file: Sink base width" in screen.note.box.value
    with pytest.raises(KitError, match=r"Not issued: fix what was not accepted[^\n]*\nSink base width"):
        screen.issue()
    screen.papers.make("Crew sheet")
    assert "Not in it: Sink base width" in screen.papers.note.box.value


def test_what_is_kept_is_one_step_of_the_history(screen):
    """However often the sliders were moved before: one undo brings back where they started."""
    first = screen.job
    for weight in (130.0, 140.0, 150.0):
        slider(screen, "sink.weight").move(weight)
    screen.options.what_if.keep()
    assert screen.job.sink.weight_lb == 150.0
    screen.state.undo()
    assert screen.job == first
