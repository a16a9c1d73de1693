"""Cutting the cabinet's front."""

import pytest
from takeoff_jobs import step_lines, step_quantities

from kit.takeoff.fronts import count_front_cut

BOX, TAPE, SEAL = "cut-front/screw-cabinet/box to its neighbours", "cut-front/masking-tape/cut line", "cut-front/edge-seal/raw edge"
TEMPLATE = "cut-front/template-sheet/template"


def test_front_of_a_36_in_base_by_hand():
    """33 in overlay apron, 10 in down: the 32 1/2 in body passes with 1/16 in of air, cut 32 5/8 x 9 1/2 in; one drawer box beside it."""
    edge = 32.625 + 2 * 9.5
    assert step_quantities(count_front_cut) == pytest.approx(
        {
            BOX: 4,
            "cut-front/hold-box/box to its neighbours": 1,
            TEMPLATE: 36.625 * 11.5 / 144,
            "cut-front/front-template-foot/make and hold to the sink": edge / 12,
            TAPE: 2 * edge / 12,
            "cut-front/fine-blade/cut": edge / 60,
            "cut-front/abrasive-sheet/edge": edge / 36,
            "cut-front/front-cut-foot/cut and dress": edge / 12,
            SEAL: edge * 0.75 / 144 * 2 / 3,
            "cut-front/front-seal-foot/seal the raw edge": 2 * edge / 12,
        }
    )


def test_no_apron_no_cut():
    """Nothing at all."""
    assert step_quantities(count_front_cut, {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None}) == {}


def test_the_template_is_one_piece():
    """Cut from a sheet, turned as it fits."""
    (piece,) = step_lines(count_front_cut)[TEMPLATE].pieces
    assert (piece.length_in, piece.width_in, piece.count, piece.grain) == (36.625, 11.5, 1, "free")


@pytest.mark.parametrize(("construction", "item"), [("face-frame", "screw-cabinet"), ("frameless", "screw-box")])
def test_screws_by_what_they_go_through(construction, item):
    """Stiles take long ones, sides short ones."""
    assert step_quantities(count_front_cut, {"cabinet.construction": construction})[f"cut-front/{item}/box to its neighbours"] == 4


def test_no_neighbour_box_no_screws():
    """A dishwasher and a range hold nothing."""
    found = step_quantities(count_front_cut, {"cabinet.left.kind": "range"})
    assert BOX not in found
    assert TAPE in found


def test_a_thicker_side_drinks_more_sealer():
    """Frameless: the side's own thickness."""
    thin, thick = (step_quantities(count_front_cut, {"cabinet.construction": "frameless", "cabinet.side_thickness": side})[SEAL] for side in ("1/2 in", "1 in"))
    assert thick == pytest.approx(2 * thin)
