"""Heights that mount, cabinet and counter fix between them."""

from dataclasses import dataclass

from kit.design.shims import packed_in
from kit.job import FilledJob

__all__ = ["Levels", "design_levels", "rim_fields"]


@dataclass(frozen=True, slots=True)
class Levels:
    """Heights above the finished floor [in].

    `cabinet_top_in` is the top of the base, `packed_top_in` that of packers on a base that stays fixed and is low, `box_top_in` that of a sub-top on
    it, else the same; `rim_above_box_in` is how far the top of the
    rim stands above the box top.
    """

    cabinet_top_in: float
    packed_top_in: float
    box_top_in: float
    counter_top_in: float
    rim_above_box_in: float
    rim_in: float
    bowl_bottom_in: float
    apron_bottom_in: float | None

    @property
    def apron_bottom_down_in(self) -> float | None:
        """Lower edge of the apron, down from the cabinet's top [in]; None without an apron."""
        return None if self.apron_bottom_in is None else self.cabinet_top_in - self.apron_bottom_in


def design_levels(job: FilledJob) -> Levels:
    """Where rim, bowl and apron end up.

    Notes
    -----
    Under mount: rim at the box top. Flush mount: rim at the counter top. Top mount: the flange lies on the counter,
    so the rim's top stands one rim thickness above it.
    """
    cabinet, counter, sink = job.cabinet, job.counter, job.sink
    above = {"under": 0.0, "flush": counter.thickness_in, "top": counter.thickness_in + sink.rim_thickness_in}[sink.mount]
    packed_top_in = cabinet.height_in + packed_in(job)
    box_top_in = packed_top_in + counter.sub_top_in
    rim_in = box_top_in + above
    return Levels(
        cabinet_top_in=cabinet.height_in,
        packed_top_in=packed_top_in,
        box_top_in=box_top_in,
        counter_top_in=box_top_in + counter.thickness_in,
        rim_above_box_in=above,
        rim_in=rim_in,
        bowl_bottom_in=rim_in - sink.underside_in,
        apron_bottom_in=None if sink.apron_height_in is None else rim_in - sink.apron_height_in,
    )


def rim_fields(job: FilledJob) -> tuple[str, ...]:
    """The measures that fix how high the rim stands."""
    on_sub_top = () if job.counter.sub_top == "none" else ("counter.sub_top_thickness",)
    counter = {"under": (), "flush": ("counter.thickness",), "top": ("counter.thickness", "sink.rim_thickness")}[job.sink.mount]
    return ("cabinet.height", *on_sub_top, *counter)
