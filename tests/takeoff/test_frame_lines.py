"""Lines of the support frame."""

import math

import pytest
from takeoff_jobs import step_lines, step_quantities

from kit.takeoff.build_frame import count_frame

STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None}


def test_frame_of_a_36_in_base_by_hand():
    """Two cleats from the nailer to the face frame, two pieces between them, four posts from floor to cleat, four blocks below the floor."""
    cleat = 24 - 0.75 - 0.75 - 0.25  # box, nailer, face frame, play
    across = 35 - 2 * 1.5 - 0.125  # clear inside, two bare cleats, play
    post = 34.5 - 0.625 - 3.5 - 5  # box top, rim, cleat, cabinet floor (5 in when not measured)
    block = 5 - 0.5
    glued = 2 * cleat + 2 * across
    assert step_quantities(count_frame) == pytest.approx(
        {
            "build-frame/lumber-2x4/members": (glued + 4 * post + 4 * block) / 12,
            "build-frame/frame-member/cut and fix": 2 + 2 + 4 + 4,
            "build-frame/screw-structural/frame": 42,
            "build-frame/adhesive/frame": glued / 12,
            "build-frame/screw-cleat-1-3-4/cleats": 8,
            "build-frame/sealant/bed on the cleats": 2 * cleat * math.pi / 4 * 0.25**2 / (231 / 128),  # 231/128 cu in a fl oz
            "build-frame/toe-board/off and on": 3,
            "build-frame/shim/below posts": 2 * 2,  # 1/4 in over 96: the right posts stand 1/32 in and more lower than the base's left side
        }
    )


@pytest.mark.parametrize(
    ("mount", "weight", "held_by", "framed"),
    [  # 148.4 lb of water: 250 lb hang in the counter's edge, 200 lb on clips, as the rows of practice say
        ("top", "101 lb", None, False),
        ("top", "102 lb", None, True),
        ("flush", "101 lb", None, False),
        ("flush", "102 lb", None, True),
        ("under", "51 lb", None, False),
        ("under", "52 lb", None, True),
        ("under", "118 lb", "clips", False),
        ("under", "118 lb", "rails", False),
        ("under", "30 lb", "frame", True),
        ("top", "30 lb", "frame", True),
    ],
)
def test_a_frame_for_heavy_sinks_without_an_apron(mount, weight, held_by, framed):
    """Or where the job says so; never where it says otherwise."""
    found = step_quantities(count_frame, {**STANDARD, "sink.mount": mount, "sink.weight": weight, "sink.held_by": held_by})
    assert (found != {}) is framed


def test_a_platform_is_screwed_and_glued_along_each_joist():
    """Panel 32 in wide: 6 screws to each of three joists; six posts and six blocks with two screws an end."""
    found = step_quantities(count_frame, {"sink.carried_at": "bowl"})
    assert found["build-frame/screw-structural/frame"] == 3 * 6 + 6 * 4 + 6 * 4
    assert found["build-frame/adhesive/frame"] == pytest.approx(3 * 32 / 12)


def test_a_platform_has_a_panel_and_no_cleat_screws():
    """Carried under the bowl: panel as wide as the bowl outside, from its rear wall to the back of the face frame."""
    rear_wall = 24 + 0.75 - 18 + (18 - 15.5 - 0.625) - (32 - 29.5) / 2
    lines = step_lines(count_frame, {"sink.carried_at": "bowl"})
    (panel,) = [line for name, line in lines.items() if name.endswith("/panel")]
    assert panel.quantity == pytest.approx(32 * (23.25 - rear_wall) / 144)
    assert not [name for name in lines if "screw-cleat" in name or "bed" in name]


def test_every_stick_is_a_piece_to_cut():
    """The line's length is that of its pieces."""
    line = step_lines(count_frame)["build-frame/lumber-2x4/members"]
    assert sum(piece.length_in * piece.count for piece in line.pieces) / 12 == pytest.approx(line.quantity)
    assert line.waste == 0


def test_longer_screws_for_packed_cleats():
    """A narrow body in a wide box: a bare cleat carries too little rim, with its packer it reaches in 2 3/8 in."""
    found = step_quantities(count_frame, {"sink.body_width": "31 1/2 in", "sink.bowl_width": "29 1/2 in"})
    assert found["build-frame/screw-cleat-2-1-2/cleats"] == 16


def test_no_toe_space_no_toe_board():
    """Boxes that stand on the floor."""
    assert "build-frame/toe-board/off and on" not in step_quantities(count_frame, {"cabinet.toe_height": "0 in"})


@pytest.mark.parametrize(("low", "hand_shims", "hand_packers"), [("0 in", None, None), ("1/4 in", 4, None), ("2 in", 4, 2)])
def test_shims_below_posts_and_packers_below_shims(low, hand_shims, hand_packers):
    """A drop over 96 in: two posts on the right; 33 / 96 of 2 in is more than a pair fills. On the left only the rear one."""
    found = step_quantities(count_frame, {"levelness.readings": [{"at": "0 in", "low": "0 in"}, {"at": "96 in", "low": low}]})
    extra = 2 if low == "2 in" else 0
    assert found.get("build-frame/shim/below posts") == (None if hand_shims is None else hand_shims + extra)
    assert found.get("build-frame/packer-strip/below posts") == (None if hand_packers is None else hand_packers * 3.5 / 12)


def test_a_second_pair_below_a_post_where_a_packer_would_be_too_thin_to_rip():
    """1/2 in over the base of 36 in: below the right posts, 33 3/4 and 34 3/4 in along, 15/32 and 31/64 in: more than 7/16 in, by too little to rip."""
    readings = [{"at": "0 in", "low": "0 in"}, {"at": "24 in", "low": "0 in"}, {"at": "60 in", "low": "1/2 in"}]
    found = step_quantities(count_frame, {"levelness.readings": readings})
    assert "build-frame/packer-strip/below posts" not in found
    assert found["build-frame/shim/below posts"] == 2 * 2 * 2
