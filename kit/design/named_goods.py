"""Does the job name only what the lists hold? All that it names wrongly in one report."""

from kit.errors import Fault, JobError, ListError
from kit.job import FilledJob, Job
from kit.lists import Lists
from kit.lists.goods_rows import CounterKind

__all__ = ["counter_kind", "counter_name", "require_names", "say_counter"]


def counter_kind(job: Job | FilledJob, lists: Lists) -> CounterKind:
    """The job's counter in the list of counters. Raises JobError if the list doesn't hold it."""
    kind = lists.counters.get(job.counter.item)
    if kind is None:
        raise JobError(Fault("counter.item", f'"{job.counter.item}" is not in counters.csv. Known: {", ".join(lists.counters)}.'))
    if kind.material != job.counter.material:
        raise JobError(Fault("counter.item", f'"{job.counter.item}" is {kind.material}, but counter.material says {job.counter.material}.'))
    return kind


def counter_name(job: Job | FilledJob, lists: Lists) -> str:
    """What the job's counter is called; of one that stays not who cut it, but that it stays."""
    return say_counter(lists.name_of(job.counter.item), job.counter.made_by)


def say_counter(name: str, made_by: str) -> str:
    """A counter by its name in a list and who makes it."""
    return f"{name.partition(',')[0]}, which stays" if made_by == "stays" else name


def require_names(job: FilledJob, lists: Lists) -> None:
    """Refuse a job that names a counter (without the species of one that moves), a sink of ours, an offcut or a pair of pipe materials that no list holds.

    Raises JobError with every such name.
    """
    faults: list[Fault] = []
    try:
        if counter_kind(job, lists).moves and job.counter.species is None:
            faults.append(Fault("counter.species", f"{job.counter.material.capitalize()} moves with the seasons: give its species, which decides how much."))
    except JobError as error:
        faults.extend(error.faults)
    if job.scope.sink.ours_to_supply and job.sink.item not in lists.items:
        faults.append(Fault("sink.item", f'"{job.sink.item}" is not in items.csv. Sinks known: {", ".join(lists.sinks)}.'))
    for number, offcut in enumerate(job.offcuts, 1):
        if offcut.item not in lists.items:
            faults.append(Fault(f"offcuts[{number}].item", f'"{offcut.item}" is not in items.csv.'))
    pipes = job.plumbing
    for system, old, new in (("drain", pipes.drain_old, pipes.drain_new), ("supply", pipes.supply_old, pipes.supply_new)):
        try:
            lists.transition(system, old, new)
        except ListError as error:
            faults.extend(error.faults)
    if faults:
        raise JobError(faults)
