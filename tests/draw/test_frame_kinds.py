"""Every kind of member and every bar is drawn and named, for each way to carry a sink."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "takeoff"))

from takeoff_jobs import changed, lists

import kit
from kit.draw.drawings import list_pictures
from kit.draw.set_out_figures import list_figures
from kit.units import format_length

STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None, "sink.mount": "under", "sink.weight": "24 lb"}


@pytest.mark.parametrize(
    ("changes", "words", "in_section"),
    [
        ({"sink.mount": "flush", "sink.carried_at": "bowl"}, "strip cleat", "cleat below the strip"),
        ({**STANDARD, "sink.held_by": "rails"}, "sink rail right", "rail under the rim"),
        ({**STANDARD, "sink.held_by": "cradle"}, "cradle bar rear", "cradle under the bowl"),
    ],
)
def test_what_carries_is_named_in_frame_and_section(changes, words, in_section):
    """Also taken apart."""
    pictures = dict(list_pictures(kit.estimate(changed(changes), lists())))
    assert words in pictures["frame"]
    assert words in pictures["frame-apart"]
    assert in_section in pictures["section"]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({**STANDARD, "sink.held_by": "rails"}, "Top of the rails"),
        ({**STANDARD, "sink.held_by": "cradle"}, "Top of the cradle"),
        ({**STANDARD, "sink.mount": "top", "sink.held_by": "frame"}, "Top of the platform"),
        ({"sink.carried_at": "rim"}, "Top of the cleats"),
    ],
)
def test_the_height_that_is_set_out_is_that_of_what_carries(changes, words):
    """A platform that touches below a sink in the counter is told as a platform, at its own height."""
    made = kit.estimate(changed(changes), lists())
    figures = [figure for figure in list_figures(made) if figure.what == f"{words}, above the floor"]
    model, place = made.design.placed.model, made.design.placed.frame
    assert [figure.words for figure in figures] == [format_length(model[place.carrier].span("z")[1])]
