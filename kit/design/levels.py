"""Heights that mount, cabinet and counter fix between them."""

from dataclasses import dataclass

from kit.job import FilledJob

__all__ = ["Levels", "design_levels"]


@dataclass(frozen=True, slots=True)
class Levels:
    """Heights above the finished floor [in]; `rim_above_box_in` is the top of the rim above the cabinet box."""

    box_top_in: float
    counter_top_in: float
    rim_above_box_in: float
    rim_in: float
    bowl_bottom_in: float
    apron_bottom_in: float | None

    @property
    def apron_bottom_down_in(self) -> float | None:
        """Lower edge of the apron, down from the box top [in]; None without an apron."""
        return None if self.apron_bottom_in is None else self.box_top_in - self.apron_bottom_in


def design_levels(job: FilledJob) -> Levels:
    """Where rim, bowl and apron end up.

    Notes
    -----
    Under mount: rim at the box top. Flush mount: rim at the counter top. Top mount: the flange lies on the counter,
    so the rim's top stands one rim thickness above it.
    """
    cabinet, counter, sink = job.cabinet, job.counter, job.sink
    above = {"under": 0.0, "flush": counter.thickness_in, "top": counter.thickness_in + sink.rim_thickness_in}[sink.mount]
    rim_in = cabinet.height_in + above
    return Levels(
        box_top_in=cabinet.height_in,
        counter_top_in=cabinet.height_in + counter.thickness_in,
        rim_above_box_in=above,
        rim_in=rim_in,
        bowl_bottom_in=rim_in - sink.deepest_in - sink.bottom_thickness_in,
        apron_bottom_in=None if sink.apron_height_in is None else rim_in - sink.apron_height_in,
    )
