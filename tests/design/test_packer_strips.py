"""What packers are ripped from: the cut list and the sheet to set out by say the same."""

import pytest
from design_jobs import lists
from takeoff_jobs import plain_job

from kit.design.packer_strips import strip_layers, strip_words
from kit.draw.set_out_figures import list_figures
from kit.estimating import estimate
from kit.job import change_job


@pytest.mark.parametrize(
    ("thick", "hand_layers", "hand_words"),
    [
        (0.25, (0.25,), "1/4 in thick, ripped from a 3/4 in strip"),
        (0.75, (0.75,), "3/4 in thick: 1 strip of 3/4 in as bought"),
        (0.125, (0.125,), "1/8 in thick, ripped from a 3/4 in strip"),
        (0.8125, (0.75,), "13/16 in thick: 1 strip of 3/4 in as bought, and shims for the last 1/16 in"),
        (0.875, (0.75, 0.125), "7/8 in thick: 1 strip of 3/4 in, and one ripped to 1/8 in"),
        (1.5625, (0.75, 0.75), "1 9/16 in thick: 2 strips of 3/4 in as bought, and shims for the last 1/16 in"),
        (1.5, (0.75, 0.75), "1 1/2 in thick: 2 strips of 3/4 in as bought"),
        (1.75, (0.75, 0.75, 0.25), "1 3/4 in thick: 2 strips of 3/4 in, and one ripped to 1/4 in"),
    ],
)
def test_a_packer_is_ripped_from_its_strip_or_lies_in_layers(thick, hand_layers, hand_words):
    """Printed: a 1x2 is 3/4 in thick (sizes of dressed lumber); either side of that and of two strips. Nobody rips less than 1/8 in."""
    assert strip_layers(thick) == pytest.approx(hand_layers)
    assert strip_words(thick) == hand_words


def test_cut_list_and_set_out_say_how_thick_a_packer_is():
    """1 1/2 in over the base of 36: below the right posts some 1.4 in less a pair of 7/16 is more than a strip: a whole one and one that is ripped."""
    cells = {"levelness.readings": [{"at": "0 in", "low": "0 in"}, {"at": "24 in", "low": "0 in"}, {"at": "60 in", "low": "1 1/2 in"}]}
    made = estimate(change_job(plain_job(), cells), lists())
    figures = [figure.words for figure in list_figures(made) if figure.what.startswith("Packer below post")]
    (line,) = [line for line in made.lines if line.id == "build-frame/packer-strip/below posts"]
    ripped = {word.removesuffix("; a pair of shims on it").split("ripped to ")[1] for word in figures}
    assert all("strip of 3/4 in, and one ripped to" in words for words in figures)
    assert {piece.name for piece in line.pieces} == {"packer below post", *(f"packer below post, ripped to {size} thick" for size in ripped)}
    assert sum(piece.count for piece in line.pieces) == 2 * len(figures)
