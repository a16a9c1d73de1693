"""When the sink comes in: level through the opened front after the counter, or from above before it."""

import pytest
from design_jobs import sheet_of

UNDER = {
    "sink.style": "standard",
    "sink.mount": "under",
    "sink.held_by": "rails",
    "sink.apron_width": None,
    "sink.apron_height": None,
    "sink.apron_projection": None,
    "cabinet.mid_rail": "1 1/2 in",
}


@pytest.mark.parametrize(
    ("changes", "hand_after"),
    [
        ({"cabinet.mid_rail_top": "18 3/8 in"}, True),  # 34 1/2 - 18 3/8 - 1 1/2 of rail - 5 of floor leave 9 5/8: the 9 in bowl and its 5/8 in bottom
        ({"cabinet.mid_rail_top": "18 7/16 in"}, False),
        ({"cabinet.mid_rail_top": "19 7/8 in", "cabinet.construction": "frameless"}, True),  # no rail to pass under: its measure counts for nothing
        ({"cabinet.mid_rail_top": "19 15/16 in", "cabinet.construction": "frameless"}, False),
        ({"cabinet.mid_rail_top": "8 in", "cabinet.stile": "1 3/4 in"}, True),  # 36 less two stiles: 32 1/2, as wide as the body
        ({"cabinet.mid_rail_top": "8 in", "cabinet.stile": "1 13/16 in"}, False),
        ({"cabinet.mid_rail_top": None}, False),  # nobody saw the rail
    ],
)
def test_what_passes_the_front_is_set_after_the_counter(changes, hand_after):
    """An under-mount sink on rails that goes through the opening below the mid rail waits for the counter; any other is laid in the base before it."""
    setting = sheet_of({**UNDER, **changes}).design.setting
    assert setting.raised
    assert setting.after_counter is hand_after
