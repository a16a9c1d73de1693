"""Figures worked by hand from the wall, through the door that a user takes: a job file that is read, and what the estimate hands to shop and crew."""

from pathlib import Path

import pytest
import tomlkit

import kit

EXAMPLE = kit.shipped("examples") / "stone_apron_single_bowl.toml"
STANDARD = {"style": "standard", **dict.fromkeys(("apron_width", "apron_height", "apron_projection"))}
approx = pytest.approx

BY_HAND = {
    # sink 22 in deep, 1 3/4 in before the face frame of a box 24 in deep; counter's front 25 1/2 from the wall, gap 1/4 behind it
    "cabinet": {"depth": "24 in", "height": "34 1/2 in"},
    "sink": {
        "depth": "22 in",
        "apron_projection": "1 3/4 in",
        "rear_rim": "2 1/4 in",
        "body_width": "33 in",
        "bowl_width": "30 in",
        "bottom_thickness": "3/8 in",
        "bowls": [{"width": "29 in", "front_to_back": "17 in", "depth": "8 1/2 in"}],
    },
    "counter": {"reveal": "-1/8 in", "wall_gap": "1/4 in", "thickness": "1 1/2 in"},
    "levelness": {"readings": [{"at": "0 in", "low": "0 in"}]},
}


def estimate(folder: Path, changes: dict[str, dict[str, object]] | None = None) -> kit.Estimate:
    """The example with measures changed (None: taken out), written to a file, read and estimated."""
    document = tomlkit.parse(EXAMPLE.read_text(encoding="utf-8"))
    for change in (BY_HAND, changes or {}):
        for part, fields in change.items():
            for name, typed in fields.items():
                if typed is None:
                    document[part].pop(name, None)
                else:
                    document[part][name] = typed
    path = folder / "by hand.toml"
    path.write_text(tomlkit.dumps(document), encoding="utf-8")
    return kit.estimate(kit.read_job(path), kit.load_lists(kit.shipped("price_lists")))


def test_opening_from_the_wall(tmp_path):
    """24 + 1 3/4 - 22 = 3 3/4, + 2 1/4 + 1/8 = 6 1/8 from the wall; 25 1/2 - 6 1/8 deep; 29 - 2 x 1/8 wide; 6 1/8 - 1/4 of strip."""
    found = estimate(tmp_path).design.top.cut_out
    assert (found.width_in, found.front_to_back_in, found.rear_strip_in) == (28.75, 19.375, 5.875)
    assert found.rear_strip_in + 0.25 == 6.125


def test_cross_piece_between_two_cleats(tmp_path):
    """34 1/2 in clear, two cleats of 1 1/2 in, 1/8 in of play: bought and cut at 31 3/8 in."""
    found = estimate(tmp_path, {"cabinet": {"side_thickness": "3/4 in"}, "sink": {"carried_at": "rim"}})
    (pieces,) = (line.pieces for line in found.lines if line.id == "build-frame/lumber-2x4/members")
    assert [piece.length_in for piece in pieces if piece.name == "rear cross piece"] == [approx(31.375)]


@pytest.mark.parametrize(("mount", "hand_top"), [("under", 25.625), ("flush", 27.125)])
def test_platform_under_the_bowl(tmp_path, mount, hand_top):
    """34 1/2 less 8 1/2 and 3/8, and 1 1/2 more where the rim is flush; posts from the floor at 5 in, below panel 3/4 and joists 3 1/2."""
    found = estimate(tmp_path, {"sink": {"mount": mount, "carried_at": "bowl"}})
    model = found.design.placed.model
    assert model.gap("subfloor", "platform panel", "z", to="far").value_in == approx(hand_top)
    (pieces,) = (line.pieces for line in found.lines if line.id == "build-frame/lumber-2x4/members")
    assert [piece.length_in for piece in pieces if piece.name == "post"] == [approx(hand_top - 0.75 - 3.5 - 5)]


def test_the_platform_fits_the_delivered_sink(tmp_path):
    """Corners read 8 15/16 to 9 1/16 in: the platform comes down to the deepest one, 34 1/2 - 9 1/16; shims go under the three others."""
    corners = {"under_most": "9 1/16 in", "corners_apart": "1/8 in", "carried_at": "bowl"}
    found = estimate(tmp_path, {"sink": corners})
    assert found.design.placed.model["platform panel"].span("z")[1] == approx(34.5 - 9.0625)
    assert {line.id: line.quantity for line in found.lines}["build-frame/shim/below the sink"] == 6


@pytest.mark.parametrize("way", [{"carried_at": "rim"}, {"carried_at": "bowl"}, {**STANDARD, "mount": "under"}, {**STANDARD, "mount": "top"}])
def test_a_heavier_sink_never_costs_less(tmp_path, way):
    """From 20 to 250 lb, on cleats, on a platform, from clips to a frame, from the counter's edge to a frame below it."""
    prices = [estimate(tmp_path, {"sink": {**way, "weight": f"{weight} lb"}}).price for weight in (20, 60, 110, 180, 250)]
    assert prices == sorted(prices)
    assert prices[0] < prices[-1]


NO_HOLES = {"counter": {"holes": []}}
MOUNTS = [
    # mount, apron; rim's top above the box; opening: width, rear edge from the wall, front edge; what carries
    ("under", True, 0, 29 - 2 / 8, 6 + 1 / 8, 25.5, "platform"),
    ("flush", True, 1.5, 33 + 2 / 8, 3.75 - 1 / 8, 25.5, "platform"),
    # no apron: sink in the middle of 25 1/2, its back at 1 3/4; wall of the bowl 1/2, air 1/8, so the hole ends 17 + 2 x 1/2 + 2 x 1/8 further on
    ("flush", False, 1.5, 30 + 2 / 8, 1.75 + 2.25 - 1 / 2 - 1 / 8, 3.375 + 18.25, "counter"),
    ("top", True, 1.5 + 3 / 8, 30 + 2 / 8, 3.75 + 2.25 - 1 / 2 - 1 / 8, 25.5, "counter"),
    ("top", False, 1.5 + 3 / 8, 30 + 2 / 8, 3.375, 3.375 + 18.25, "counter"),
]


@pytest.mark.parametrize(("mount", "apron", "rim", "wide", "rear", "front", "carried"), MOUNTS)
def test_the_table_of_mounts_line_by_line(tmp_path, mount, apron, rim, wide, rear, front, carried):
    """Rim, opening and what carries, of a 40 lb sink with a rim of 3/8 in; common practice, no source."""
    sink = {**({} if apron else STANDARD), "mount": mount, "carried_at": "bowl" if carried == "platform" else "rim", "weight": "40 lb"}
    found = estimate(tmp_path, {**NO_HOLES, "sink": {**sink, "rim_thickness": "3/8 in"}}).design
    opening = found.placed.opening
    assert found.levels.rim_above_box_in == approx(rim)
    assert (opening.width_in, *opening.y) == approx((wide, rear, front))
    assert found.placed.carrying.way == carried
    if mount == "flush" and not apron:
        rabbet = opening.rabbet
        assert (rabbet.x[1] - rabbet.x[0], rabbet.y, rabbet.z) == (33.25, approx((1.625, 23.875)), approx((36 - 3 / 8 - 1 / 16, 36)))


def test_a_standard_sink_under_the_counter_hangs_on_clips(tmp_path):
    """Sink between back and face frame: 29 x 17 inside, 1/8 in hung over all round."""
    found = estimate(tmp_path, {**NO_HOLES, "sink": {**STANDARD, "carried_at": "rim", "weight": "40 lb", "rim_thickness": "3/8 in"}}).design
    assert (found.placed.opening.width_in, found.placed.opening.front_to_back_in) == (28.75, 16.75)
    assert (found.placed.carrying.way, found.placed.frame) == ("clips", None)
