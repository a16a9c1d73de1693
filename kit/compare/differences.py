"""What changes from one alternate to another: line by line in money and hours, and in facts."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from kit.design.named_goods import counter_name
from kit.design.place_boxes import is_sawn
from kit.design.place_fillers import FILLER_BESIDE
from kit.estimating import Estimate
from kit.job.field_names import mount_words
from kit.money import EXACT, sum_money
from kit.records import Level
from kit.takeoff.working import counted

__all__ = ["Difference", "Fact", "list_differences", "list_facts"]

_ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class Difference:
    """One row of what changes [USD, own worker-hours]: what was and what becomes."""

    id: str
    what: str
    before: Decimal
    after: Decimal
    hours_before: float = 0.0
    hours_after: float = 0.0

    @property
    def amount(self) -> Decimal:
        """By how much the amount rises [USD]."""
        return EXACT.subtract(self.after, self.before)

    @property
    def hours(self) -> float:
        """By how many hours the work grows [h]."""
        return round(self.hours_after - self.hours_before, 4)


@dataclass(frozen=True, slots=True)
class Fact:
    """Something that is not an amount: what was and what becomes, in words."""

    what: str
    before: str
    after: str


def list_differences(old: Estimate, new: Estimate) -> tuple[Difference, ...]:
    """What changes from one estimate to another, largest first; the amounts sum to the difference of the prices, to the cent.

    Purchases go by item, own work by step. Tax on purchases and what the price adds to direct cost (contingency, overhead,
    profit, tax collected, rounding) are the two last rows.
    """
    rows = [row for row in (*_purchases(old, new), *_tasks(old, new)) if row.amount or row.hours]
    rows.sort(key=lambda row: (-abs(row.amount), row.id))
    rest = Difference("cost", "Tax on purchases and other direct cost", _unlisted(old), _unlisted(new))
    what = "Contingency, overhead, profit and whatever else is added to cost"
    added = Difference("price", what, EXACT.subtract(old.price, old.cost), EXACT.subtract(new.price, new.cost))
    return (*rows, *(row for row in (rest, added) if row.amount))


def _unlisted(estimate: Estimate) -> Decimal:
    """Direct cost that is neither a purchase nor own work."""
    return EXACT.subtract(estimate.cost, sum_money([*(one.amount for one in estimate.purchases), *(one.amount for one in estimate.tasks)]))


def _purchases(old: Estimate, new: Estimate) -> Iterator[Difference]:
    before, after = _sum_by_item(old), _sum_by_item(new)
    for item in sorted(before.keys() | after.keys()):
        name = next(estimate.lists.items[item].name for estimate in (new, old) if item in estimate.lists.items)
        yield Difference(f"buy/{item}", name, before.get(item, _ZERO), after.get(item, _ZERO))


def _sum_by_item(estimate: Estimate) -> dict[str, Decimal]:
    sums: dict[str, Decimal] = {}
    for purchase in estimate.purchases:
        sums[purchase.item] = EXACT.add(sums.get(purchase.item, _ZERO), purchase.amount)
    return sums


def _tasks(old: Estimate, new: Estimate) -> Iterator[Difference]:
    before, after = ({task.step: task for task in estimate.tasks} for estimate in (old, new))
    for step in sorted(before.keys() | after.keys(), key=lambda step: new.lists.steps[step].order):
        was, now = before.get(step), after.get(step)
        yield Difference(
            f"do/{step}",
            f"Own work: {(new if step in after else old).step_names[step]}",
            was.amount if was else _ZERO,
            now.amount if now else _ZERO,
            was.hours_likely if was else 0.0,
            now.hours_likely if now else 0.0,
        )


def list_facts(old: Estimate, new: Estimate) -> tuple[Fact, ...]:
    """What changes besides amounts: drain, cabinet, permit, trips, how it is carried, and the findings that come and go."""
    facts = [Fact(what, before, after) for (what, before), (_, after) in zip(_facts(old), _facts(new), strict=True) if before != after]
    levels = [{finding.id: finding for finding in estimate.findings if finding.level is not Level.OK} for estimate in (old, new)]
    for name in sorted(levels[0].keys() | levels[1].keys()):
        was, now = levels[0].get(name), levels[1].get(name)
        if (was.level if was else Level.OK) is not (now.level if now else Level.OK):
            check = next(finding.check for finding in (now, was) if finding)
            facts.append(Fact(check, was.level.word if was else "fine", now.level.word if now else "fine"))
    return tuple(facts)


def _front_words(estimate: Estimate) -> str:
    cut = estimate.design.cut
    if cut is not None and is_sawn(estimate.design.placed.model, cut):
        return "cut"
    return "false front off, not cut" if cut is not None and cut.false_front_removed else "left whole"


def _filler_words(estimate: Estimate) -> str:
    strips = sum(body.name.startswith(FILLER_BESIDE) for body in estimate.design.placed.model.of_part("fillers"))
    return f"{counted(strips, 'strip', 'strips').text}, in a gap wide enough to see" if strips else "none"


def _facts(estimate: Estimate) -> Iterator[tuple[str, str]]:
    design, job = estimate.design, estimate.job
    yield "Sink", estimate.lists.name_of(job.sink.item)
    yield "Mount", mount_words(job.sink.mount)
    yield "Countertop", counter_name(job, estimate.lists)
    if design.drain.through_floor:
        yield "Drain in the floor", "left to a plumber" if design.drain.not_designed else "connected to its pipe"
    else:
        yield "Drain in the wall", "moved" if design.drain.is_lowered else "stays"
    yield "Front of the cabinet", _front_words(estimate)
    yield "Fillers beside the apron", _filler_words(estimate)
    yield "Support frame", "built" if design.frame.members else "none"
    yield "Permit", "needed" if any("permit" in line.item for line in estimate.lines) else "none"
    yield "Trips", str(estimate.trips_priced)
    yield "People", str(max((task.crew for task in estimate.tasks), default=0))
