"""What is there today and comes out."""

from typing import Generic, Literal

from kit.job.counter import COMMON_MATERIALS
from kit.job.fields import Blank, Record, choice, flag, measure, text

__all__ = ["Old"]


class Old(Record, Generic[Blank]):
    """The old sink, counter and splash, and how they are fixed."""

    sink_kind: Literal["top", "under", "tiled-in", "apron", "none"] = choice("How the old sink is mounted")
    sink_width_in: float | Blank = measure("length", "Width of the old sink", 10, 60, assume="33 in", why="usual sink; common practice, no source")
    sink_depth_in: float | Blank = measure("length", "Front to back of the old sink", 10, 30, assume="22 in", why="usual sink; common practice, no source")
    sink_weight_lb: float | Blank = measure("weight", "Weight of the old sink", 5, 400, assume="30 lb", why="a steel sink; weigh by hand before lifting")
    counter_material: str = text("Material of the old countertop, as the lists of countertops and of hours name it", common=COMMON_MATERIALS)
    counter_thickness_in: float | Blank = measure(
        "length", "Thickness of the old countertop", 0.25, 4, assume="1 1/2 in", why="usual thickness; common practice, no source"
    )
    counter_length_in: float | None = measure(
        "length", "Length of the old countertop along its walls, all runs together; left out: as long as the new one", 12, 720, optional=True
    )
    counter_depth_in: float | None = measure("length", "Depth of the old countertop; left out: as deep as the new one", 12, 60, optional=True)
    counter_fixing: Literal["screwed", "glued"] | Blank = choice("How the old countertop is fastened", assume="glued", why="the slower of the two until seen")
    splash: Literal["none", "loose", "glued", "tile"] | Blank = choice("The old backsplash", assume="glued", why="the slower way out until seen")
    splash_height_in: float | Blank = measure(
        "length", "Height of the old backsplash", 0, 60, assume="4 in", why="usual backsplash; common practice, no source"
    )
    counter_glue_tested: Literal["none-found", "asbestos"] | None = choice(
        "What a laboratory found in the glue or backer of the old countertop; left out: not tested", optional=True
    )
    splash_glue_tested: Literal["none-found", "asbestos"] | None = choice(
        "What a laboratory found in the glue or backer of the old backsplash; left out: not tested", optional=True
    )
    disposer: bool | Blank = flag("An old disposer comes out", assume="false", why="none seen")
    dishwasher_fixing: Literal["counter", "sides", "none"] | Blank = choice(
        "How the dishwasher is fastened today", assume="counter", why="the usual way, and it comes loose with the countertop"
    )
    drain_photographed: bool | Blank = flag("The drain below the sink was photographed", assume="false", why="nothing on file")
