"""Sizes, volumes and weights worked out again from rules that are printed elsewhere."""

import math

from kit.sources import table, value
from kit.takeoff.sealant import joint_depth
from kit.units import convert


def check_dressed_sizes_follow_the_rule():
    """Dry softwood: 1 in boards are 3/4 thick; 2 to 6 in lose 1/2, 8 in and more lose 3/4 (nist-ps20-2020)."""
    for row in table("lumber").values():
        size, _, part = row.name.partition("/")
        if not part:
            continue
        thickness, width = (int(number) for number in size.split("x"))
        hand_thickness = 0.75 if thickness == 1 else thickness - 0.5
        hand_width = width - (0.5 if width <= 6 else 0.75)
        assert row.value == (hand_thickness if part == "thickness" else hand_width)


def check_panel_thickness_follows_the_tolerance():
    """Unsanded panels: the category plus or minus 1/32 in up to 13/16 in, 5 percent above (apa-ps1-2019)."""
    for row in table("panels").values():
        category, _, part = row.name.rpartition("/")
        nominal = sum(int(top) / int(bottom or 1) for top, _, bottom in (piece.partition("/") for piece in category.split("-")))
        play = 1 / 32 if nominal <= 13 / 16 else 0.05 * nominal
        hand_thickness = nominal + (play if part == "thickness-most" else -play)
        assert abs(row.value - hand_thickness) <= 0.00051


def check_bores_are_outside_less_two_walls():
    """For every pipe and tube of the table that gives all three."""
    pipes = table("pipes")
    for name in [name.removesuffix("/bore") for name in pipes if name.endswith("/bore")]:
        hand_bore = pipes[f"{name}/outside"].value - 2 * pipes[f"{name}/wall"].value
        assert abs(pipes[f"{name}/bore"].value - hand_bore) < 0.0006


def check_copper_tube_size():
    """Copper water tube, and PEX made to its size, measures 1/8 in more than its name (common practice of the trade)."""
    for row in table("pipes").values():
        kind, size, part = row.name.split("/")
        if part == "outside" and kind.startswith(("copper", "pex")):
            assert row.value == float(size) + 0.125


def check_pex_wall():
    """SDR 9: the wall is a ninth of the outside diameter, to 0.001 in."""
    for size in ("0.5", "0.75"):
        assert abs(value("pipes", f"pex/{size}/wall") - value("pipes", f"pex/{size}/outside") / 9) < 0.001


def check_tubular_sizes():
    """Slip-joint tube is named by its outside; gauges follow 0.005 in x 92^((36 - gauge)/39), to 0.0001 in."""
    for size in ("1.25", "1.5"):
        assert value("pipes", f"tubular/{size}/outside") == float(size)
    for gauge in (17, 20, 22):
        assert abs(value("pipes", f"tubular/wall/{gauge}-gauge") - 0.005 * 92 ** ((36 - gauge) / 39)) < 0.00006


def check_cartridges_in_millilitres():
    """Labels give both units: 83, 299, 305 and 828 ml (labels of the trade, from memory)."""
    for name, hand_ml in (("small", 83), ("standard", 299), ("long", 305), ("large", 828)):
        assert round(convert(value("sealant", f"cartridge/{name}"), "fl oz", "ml")) == hand_ml


def check_cement_between_listed_sizes():
    """1-1/4 in is not listed: midway between 125 and 90 joints a quart; primer goes twice as far (from memory)."""
    assert value("solvent_cement", "joints/1.25") == (125 + 90) / 2
    assert 1 / value("solvent_cement", "primer-share") == 2


def check_depth_rules_at_their_limits():
    """Just inside and just outside each limit of the two depth rules."""
    assert joint_depth(0.25) == 0.25
    assert (joint_depth(0.504), joint_depth(1.005)) == (0.5, 0.625)
    assert joint_depth(0.501) == 0.5
    assert joint_depth(0.4, "half of width") == 0.25
    assert joint_depth(0.6, "half of width") == 0.3
    assert joint_depth(2.0, "half of width") == 0.5


def check_gun_work_uses_half_as_much_again():
    """3/4 of a 10.5 fl oz tube on 28 ft of 3/16 in round bead, over the volume of that bead (fhb-2002)."""
    used = convert(0.75 * 10.5, "fl oz", "cu in")
    ideal = 28 * 12 * math.pi * (3 / 16) ** 2 / 4
    assert abs(value("sealant", "factor/gun-on-framing") - used / ideal) < 0.005


def check_softwood_weights_from_their_gravity():
    """Wood at 10 percent moisture weighs 1.1 x gravity x 62.4 lb/cu ft (hud-rsdg-2017), to the pound."""
    for name, gravity in (("spruce-pine-fir", 0.42), ("hem-fir", 0.43), ("douglas-fir-larch", 0.50), ("southern-pine", 0.55)):
        assert value("densities", name) == round(1.1 * gravity * 62.4)


def check_hardwood_weights_from_their_gravity():
    """At 12 percent moisture: 1.12 x gravity x 62.4 lb/cu ft; gravities from memory."""
    gravities = {"hard-maple": 0.63, "red-oak": 0.63, "birch": 0.62, "white-oak": 0.68, "beech": 0.64, "walnut": 0.55, "cherry": 0.50}
    for name, gravity in gravities.items():
        assert abs(value("densities", name) / (1.12 * gravity * 62.4) - 1) < 0.005


def check_sheet_and_steel_weights():
    """1.4 g/cu cm is 87.4 lb/cu ft; stainless steel weighs within half a percent of plain steel (492)."""
    pounds_per_cubic_foot = 1 / 453.59237 * 30.48**3
    assert abs(value("densities", "laminate-sheet") - 1.4 * pounds_per_cubic_foot) < 0.1
    assert abs(value("densities", "stainless") / 492 - 1) < 0.005


def check_water_by_the_gallon():
    """62.355 lb/cu ft over 7.4805 gal/cu ft gives 8.336; print cuts it to 8.33 (water-weight)."""
    assert 0 <= 62.355 / 7.4805 - value("densities", "water/gallon") < 0.01
    printed_cu_ft, printed_gallon = 7.4805, 8.34  # the same page: 62.4 lb/cu ft is 8.34 lb/gal
    assert abs(value("densities", "water") / printed_cu_ft - printed_gallon) < 0.005


def check_stone_thickness():
    """Two and three centimetres in inches; a third of the width may hang over."""
    assert abs(value("counters", "stone/2cm/thickness") - 20 / 25.4) < 1e-7
    assert abs(value("counters", "stone/3cm/thickness") - 30 / 25.4) < 1e-7
    assert abs(value("counters", "stone/overhang-share-most") - 1 / 3) < 1e-7
