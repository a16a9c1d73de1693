"""What comes off and what it weighs: asked by the steps of removal, by the haul and by whatever is put back."""

from kit.job import FilledJob
from kit.sources import value
from kit.takeoff.working import Amount, counted, n, round_up, total

__all__ = [
    "board_area",
    "carries",
    "climbs",
    "counter_comes_off",
    "counter_length",
    "new_dishwasher",
    "old_counter_area",
    "old_counter_density",
    "runs_length",
    "sink_comes_out",
    "splash_comes_off",
    "splash_length",
    "waits_for_counter",
    "walks",
]

# whoever sets the new part expects the place cleared; a customer who fits it clears it too
_CLEARED_FOR = {"us", "fabricator", "trade"}
# what lies in the table of densities for the old counter's material; the heavier where there is a choice, as it will be lifted
_DENSITIES = {
    "laminate": ("densities", "particleboard"),
    "wood": ("densities", "hard-maple"),
    "solid-surface": ("densities", "solid-surface"),
    "stone": ("densities", "granite"),
    "concrete": ("densities", "concrete"),
    "tile": ("site_work", "old-counter/tile"),
    "steel": ("site_work", "old-counter/steel"),
}


def counter_comes_off(job: FilledJob) -> bool:
    """Whether the old counter comes off: a new one is set, and not by the customer."""
    counter = job.scope.counter
    return counter.renewed and job.counter.made_by != "stays" and counter.installed_by in _CLEARED_FOR


def waits_for_counter(job: FilledJob) -> bool:
    """Whether the kitchen stands open between the old counter and a fabricator's new one."""
    return counter_comes_off(job) and job.counter.made_by == "fabricator"


def sink_comes_out(job: FilledJob) -> bool:
    """Whether the old sink comes out: for a new one, or because the counter below it goes."""
    sink = job.scope.sink
    return job.old.sink_kind != "none" and (counter_comes_off(job) or (sink.renewed and sink.installed_by in _CLEARED_FOR))


def splash_comes_off(job: FilledJob) -> bool:
    """Whether the old splash comes off: with the counter unless it stays, or for a new one."""
    splash = job.scope.splash
    return job.old.splash != "none" and not splash.stays and (counter_comes_off(job) or (splash.renewed and splash.installed_by in _CLEARED_FOR))


def new_dishwasher(job: FilledJob) -> bool:
    """Whether the dishwasher is changed by us."""
    return job.plumbing.dishwasher and job.scope.dishwasher.renewed and job.scope.dishwasher.ours_to_install


def counter_length(job: FilledJob) -> Amount:
    """Length of all runs [ft]; the old counter is taken to be as long as the new one."""
    return runs_length(job) / n(12, "in a foot")


def runs_length(job: FilledJob) -> Amount:
    """Length of all runs [in]."""
    return total([n(run.length_in, "in") for run in job.counter.runs])


def splash_length(job: FilledJob) -> Amount:
    """Length of the old splash [in]: along the runs and their ends at a wall."""
    ends = [n(run.depth_in, "in at a wall end") for run in job.counter.runs for end in (run.left_end, run.right_end) if end == "wall"]
    return total([*(n(run.length_in, "in") for run in job.counter.runs), *ends])


def board_area(job: FilledJob) -> Amount | None:
    """Wall board that comes off with a glued or tiled splash [sq ft]; None where none does."""
    if not splash_comes_off(job) or job.old.splash == "loose" or job.old.splash_height_in <= 0.0:
        return None
    return splash_length(job) * n(job.old.splash_height_in, "in high") / n(144, "sq in a sq ft")


def old_counter_area(job: FilledJob) -> Amount:
    """Area of the old counter [sq ft], its sink opening not deducted."""
    return total([n(run.length_in, "in") * n(run.depth_in, "in") for run in job.counter.runs]) / n(144, "sq in a sq ft")


def old_counter_density(job: FilledJob) -> Amount:
    """Density of the old counter [lb/cu ft]."""
    return n(value(*_DENSITIES[job.old.counter_material]), "lb a cubic foot")


def walks(job: FilledJob, people: Amount) -> Amount:
    """Feet that people walk between truck and kitchen, there and back."""
    return people * n(2, "ways") * n(job.site.carry_ft, "ft")


def climbs(job: FilledJob, people: Amount) -> Amount:
    """Steps that people climb between truck and kitchen, up and down."""
    return people * n(2, "ways") * counted(job.site.stair_steps, "step", "steps")


def carries(weight: Amount) -> Amount:
    """How often one person walks with a weight [lb]."""
    return round_up(weight / n(value("site_work", "carry/load"), "lb at once"))
