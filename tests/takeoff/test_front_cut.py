"""Cutting the cabinet's front."""

import pytest
from takeoff_jobs import step_lines, step_quantities

from kit.takeoff.fronts import count_front_cut

BOX, TAPE, SEAL = "cut-front/screw-cabinet/box to its neighbors", "cut-front/masking-tape/cut line", "cut-front/edge-seal/raw edge"
TEMPLATE = "cut-front/template-sheet/template"


def test_front_of_a_36_in_base_by_hand():
    """33 in overlay apron, 10 in down: the 32 1/2 in body passes with 1/16 in of air, cut 32 5/8 x 9 1/2 in; one drawer box beside it.

    The template follows the outline. The saw meets wood at both ends of the top rail, 1 1/2 in each: the stiles stand 33 in apart.
    """
    outline, edge = 32.625 + 2 * 9.5, 2 * 1.5
    assert step_quantities(count_front_cut) == pytest.approx(
        {
            BOX: 4,
            "cut-front/hold-box/box to its neighbors": 1,
            TEMPLATE: 36.625 * 11.5 / 144,
            "cut-front/front-template-foot/make and hold to the sink": outline / 12,
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
    assert step_quantities(count_front_cut, {"cabinet.construction": construction})[f"cut-front/{item}/box to its neighbors"] == 4


def test_no_neighbor_box_no_screws():
    """A dishwasher and a range hold nothing."""
    found = step_quantities(count_front_cut, {"cabinet.left.kind": "range"})
    assert BOX not in found
    assert TAPE in found


def test_a_thicker_side_drinks_more_sealer():
    """Frameless, and so narrow that the cut goes into both sides: their own thickness, 9 1/2 in down each, and across what stands beyond 3/16 in."""
    narrow = {"cabinet.construction": "frameless", "cabinet.width": "33 in"}
    thin, thick = (step_quantities(count_front_cut, {**narrow, "cabinet.side_thickness": side})[SEAL] for side in ("1/2 in", "1 in"))
    assert thin == pytest.approx(2 * (9.5 + 0.5 - 0.1875) * 0.5 / 144 * 2 / 3)
    assert thick == pytest.approx(2 * (9.5 + 1 - 0.1875) * 1 / 144 * 2 / 3)


@pytest.mark.parametrize(
    ("changes", "hand_edge"),
    [
        ({"cabinet.mid_rail": "1 1/2 in", "cabinet.mid_rail_top": "6 in"}, 2 * (1.5 + 1.5)),
        ({"cabinet.mid_rail": "1 1/2 in", "cabinet.mid_rail_top": "8 1/2 in"}, 2 * (1.5 + 1) + 32.625),
        ({"cabinet.mid_rail": "1 1/2 in", "cabinet.mid_rail_top": "9 1/2 in"}, 2 * 1.5),
        ({"cabinet.stile": "2 in"}, 2 * (9.5 + 2 - 1.6875)),
    ],
)
def test_the_saw_meets_rails_and_stiles_by_hand(changes, hand_edge):
    """A mid rail cut away between two ends, one split along its length, one that starts at the cut's lower edge; stiles 32 in apart, cut into."""
    assert step_quantities(count_front_cut, changes)["cut-front/front-cut-foot/cut and dress"] == pytest.approx(hand_edge / 12)


def test_a_box_without_wood_in_the_way_takes_a_template_and_no_saw():
    """Frameless, 35 in clear inside: a cut 32 5/8 wide meets nothing."""
    found = step_quantities(count_front_cut, {"cabinet.construction": "frameless"})
    assert TEMPLATE in found
    assert {TAPE, SEAL} & found.keys() == set()
