"""What can be drawn of a job whose price is still open: all of it, with usual values where answers are still to come, and without findings."""

from dataclasses import replace

from kit.estimating import Estimate, estimate
from kit.job import Job
from kit.lists import Lists

__all__ = ["sketch_job"]

_USUAL_RUN_IN = 96.0
"""Common practice, no source. It is only drawn: the stand-ins of a job let any other answer in, and would put the sink far off."""
_MOVED_IN = {"cabinet.width": 0.5, "counter.runs[1].length": 1.75, "counter.sink_center": 0.625}
"""By how much: no sum or difference of these, or of their halves, is nothing."""


def sketch_job(job: Job, lists: Lists, *, moved: bool = False) -> Estimate:
    """The job as it may be drawn meanwhile: a usual value stands for each answer that is still to come. No price of it may be shown.

    With `moved`, each measure that is still to come is another: what then reads differently is not known yet.

    Raises KitError if the lists don't hold what the job names.
    """
    first, *others = job.counter.runs
    length_in, center_in = _place_sink(job, first.length_in, job.counter.sink_center_in)
    if moved:
        width_in, length_in, center_in = (
            value_in + (by_in if place in job.open_places else 0.0)
            for (place, by_in), value_in in zip(_MOVED_IN.items(), (job.cabinet.width_in, length_in, center_in), strict=True)
        )
        job = job.model_copy(update={"cabinet": job.cabinet.model_copy(update={"width_in": width_in})})
    runs = (first.model_copy(update={"length_in": length_in}), *others)
    counter = job.counter.model_copy(update={"runs": runs, "sink_center_in": center_in})
    return replace(estimate(job.model_copy(update={"to_measure": None, "counter": counter}), lists, exact=False), findings=())


def _place_sink(job: Job, length_in: float, center_in: float) -> tuple[float, float]:
    """Length of the first run, and from its left end to the sink: where neither is there the sink stands in the middle of a usual run."""
    length_open, center_open = (place in job.open_places for place in ("counter.runs[1].length", "counter.sink_center"))
    if length_open:
        length_in = _USUAL_RUN_IN if center_open else max(_USUAL_RUN_IN, 2.0 * center_in)
    return length_in, length_in / 2.0 if center_open else center_in
