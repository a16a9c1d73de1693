"""Figures of the computing rooms for fixed jobs, as they were worked out when somebody last looked at what moved them. No reference: the kit's own.

    python tests/pinned_figures.py          # keep today's figures in tests/pinned, a table for each room, and say which moved
    python tests/pinned_figures.py choose   # the random jobs that together take the most branches of the rooms (a minute or two)

Words are not kept, so that a sentence may be rewritten; the numbers in it are. Where a choice of records has a name, it stands in the figure's own.
"""

import csv
import datetime as dt
import inspect
import io
import lzma
import math
import random
import re
import sys
import tempfile
from array import array
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import astuple, fields, is_dataclass, replace
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
sys.path += [str(HERE / folder) for folder in ("contract", "cutting", "learning")]

from change_jobs import CHANGES  # noqa: E402
from contract_walks import issued_of, walk  # noqa: E402
from cutting_jobs import KERF_IN, kitchen_jobs, lumber_jobs, offcut_jobs  # noqa: E402
from random_jobs import random_job, random_lists  # noqa: E402
from work_history import finished_job  # noqa: E402

import kit  # noqa: E402
from kit.archive.spent import SpentRow  # noqa: E402
from kit.buying.price_ages import check_price_ages  # noqa: E402
from kit.change.effect import change_days, change_draws  # noqa: E402
from kit.change.priced_change import price_change  # noqa: E402
from kit.contract.job_cost import job_cost  # noqa: E402
from kit.contract.next_step import next_step  # noqa: E402
from kit.contract.postings import book_balances, postings_of  # noqa: E402
from kit.cutting.lengths import plan_cuts  # noqa: E402
from kit.cutting.slabs import plan_slabs  # noqa: E402
from kit.errors import KitError  # noqa: E402
from kit.estimating import with_earlier_stages  # noqa: E402
from kit.job import Job, change_job  # noqa: E402
from kit.learning import learn  # noqa: E402
from kit.learning.back_test import back_test  # noqa: E402
from kit.learning.invented import write_invented_history  # noqa: E402
from kit.learning.job_rows import FolderJobs, PlannedItem, PlannedStep, list_jobs  # noqa: E402
from kit.learning.observations import observe_jobs  # noqa: E402
from kit.lists import Lists  # noqa: E402
from kit.outlook import assess_risk, cash_of, crew_days_of, plan_schedule  # noqa: E402
from kit.pricing.allowances import list_allowances  # noqa: E402
from kit.pricing.draws import plan_draws  # noqa: E402
from kit.pricing.planned_costs import plan_costs  # noqa: E402
from kit.pricing.taxed import split_paid_tax, taxed_purchases  # noqa: E402
from kit.pricing.work_back import find_price, find_price_for_crew_days, find_price_for_margin  # noqa: E402
from kit.records import CostType  # noqa: E402
from kit.shapes import Block, Rod  # noqa: E402
from kit.solids import Body  # noqa: E402
from kit.steps import Step  # noqa: E402

KEPT = HERE / "pinned"
SEEDS = (
    *(9, 16, 19, 20, 39, 41, 45, 49, 61, 69, 75, 79, 89, 110, 113, 119, 127, 133, 135, 137),
    *(141, 153, 187, 211, 215, 227, 239, 247, 255, 259, 265, 272, 305, 307, 335, 357, 359, 363, 365),
)
"""Of 400 random jobs those that together take every branch of the rooms that any of them takes, and the examples don't: see `choose`."""
WALKS = range(25)
TRIALS = 200
LEFT_OUT = {
    "JobPlan": {"tasks", "step_names"},
    "JobRisk": {"drivers"},
    "JobRow": {"spent"},
    "Learning": {"jobs", "lists", "folder"},
    "Lesson": {"used"},
    "PlannedCost": {"task"},
    "SpentComparison": {"not_spent"},
    "WorkedBack": {"build_up"},
}
"""Fields that say again what another figure says, or what was given."""
FOR_PEOPLE = {"label", "name", "says"}
OWN_NAMES = ("id", "step", "item", "name")
"""What a record is known by among its like: the first of these that it has."""
Figures = Iterator[tuple[str, Any]]
"""Name of a job, and a record of it (or several)."""


# --- a record as figures ---


def tell(value: Any, name: str) -> Iterator[tuple[str, str]]:  # noqa: C901, PLR0912 - one case for each kind of value
    """Each figure of a record by its place in it: fields and properties, records in it among them, words left out."""
    match value:
        case Body():
            shapes = [number for shape in value.shapes for number in _ends(shape)]
            marks = (value.stages.value, value.room, value.item, value.along, *value.stands_on, *value.fields)
            yield name, _words([*shapes, *marks])
        case Job() | Lists() | Path():
            return
        case array():
            yield name, _words([len(value), math.fsum(value), min(value), max(value)] if len(value) else [0])
        case Mapping():
            for key, one in sorted(value.items(), key=lambda item: str(item[0])):
                yield from tell(one, f"{name}[{key.value if isinstance(key, Enum) else key}]")
        case set() | frozenset():
            yield name, _words(sorted(value, key=str))
        case list() | tuple():
            if all(_is_plain(one) for one in value):
                yield name, _words(value)
                return
            seen: Counter[str] = Counter()
            for one in value:
                _, own = _known_by(one)
                seen[own] += 1
                yield from tell(one, f"{name}[{own}{f' {seen[own]}' if seen[own] > 1 or not own else ''}]")
        case _ if _is_plain(value):
            if told := _word(value):
                yield name, told
        case _ if is_dataclass(value) or hasattr(type(value), "model_fields"):
            key, known = _known_by(value)
            for field in _names_in(type(value)):
                if field == key and name.endswith(f"[{known}]"):  # the figure's own name says it
                    continue
                try:
                    inner = getattr(value, field)
                except (KitError, ValueError, StopIteration) as error:
                    inner = type(error).__name__
                yield from tell(inner, f"{name}.{field}")


def _ends(shape: Block | Rod) -> Iterator[float]:
    spans = (shape.start, shape.end, (shape.radius_in,)) if isinstance(shape, Rod) else (shape.x, shape.y, shape.z)
    return (number for span in spans for number in span)


@cache
def _names_in(kind: type) -> tuple[str, ...]:
    """Fields of a record without what it only remembers, and what it works out itself."""
    own = [field.name for field in fields(kind) if field.compare] if is_dataclass(kind) else list(kind.model_fields)
    own += [name for name, what in inspect.getmembers(kind) if isinstance(what, property) and name[0] != "_" and not name.startswith("model_")]
    return tuple(name for name in own if name not in FOR_PEOPLE | LEFT_OUT.get(kind.__name__, set()) and not name.endswith("_words"))


def _is_plain(value: Any) -> bool:
    return value is None or isinstance(value, str | int | float | Decimal | Fraction | dt.date | dt.timedelta | dt.time | Enum)


def _known_by(record: Any) -> tuple[str, str]:
    """What a record is known by among its like, and the name of that field; nothing where its name is one for people."""
    if isinstance(record, Body):  # a stable name, not one for people
        return "name", record.name
    for key in OWN_NAMES:
        if _is_plain(found := getattr(record, key, None)) and found:
            return key, found if key == "id" else _word(found)
    return "", ""


def _words(values: Iterable[Any]) -> str:
    return " ".join(_word(value) or "-" for value in values)


def _word(value: Any) -> str:
    """A plain value as one or several words; of a sentence its numbers."""
    match value:
        case Enum():
            return str(value.value)
        case bool() | int() | Decimal() | dt.date() | dt.timedelta() | dt.time():
            return str(value).replace(" ", "_")
        case float():
            return f"{value:.7g}"
        case str() if " " in value:
            return "/".join(re.findall(r"\d+(?:[.,:/]\d+)*", value))
        case _:
            return str(value)


# --- the rooms ---


@cache
def _jobs() -> dict[str, Job]:
    examples = {path.stem: kit.read_job(path) for path in sorted(kit.shipped("examples").glob("*.toml"))}
    return {**examples, **{f"seed {seed}": random_job(seed) for seed in SEEDS}}


@cache
def _lists_of(name: str) -> Lists:
    return random_lists(int(name.removeprefix("seed "))) if name.startswith("seed ") else kit.load_lists(kit.shipped("price_lists"))


@cache
def _estimate(name: str) -> kit.Estimate:
    return kit.estimate(_jobs()[name] if name in _jobs() else random_job(int(name.removeprefix("seed "))), _lists_of(name))


def tell_checks(name: str) -> Any:
    return with_earlier_stages(_estimate(name)).findings


def tell_design(name: str) -> Any:
    return (_estimate(name).design, _estimate(name).assumptions)


def tell_takeoff(name: str) -> Any:
    return _estimate(name).lines


def tell_labor(name: str) -> Any:
    made = _estimate(name)
    return (made.tasks, made.hired, made.trips, plan_schedule(made), crew_days_of(made))


def tell_pricing(name: str) -> Any:
    made = _estimate(name)
    days = Decimal(repr(round(crew_days_of(made), 3)))
    return {
        "terms": made.terms,
        "rows": made.build_up,
        "draws": plan_draws(made),
        "cash": cash_of(made),
        "planned": list(plan_costs(made)),
        "allowances": list_allowances(made.lines, made.purchases, made.tasks, made.lists),
        "taxed": taxed_purchases(made),
        "paid": {f"{kind} {code}": tax for (kind, code), tax in split_paid_tax(made).items()},
        "for a margin": _or_refused(lambda: find_price_for_margin(made, Decimal("0.31"))),
        "for a price": _or_refused(lambda: find_price(made, made.price + Decimal("7.77"))),
        "for crew days": _or_refused(lambda: find_price_for_crew_days(made, "912.34 USD", days)),
    }


def tell_buying(name: str) -> Any:
    made = _estimate(name)
    later = made.job.model_copy(update={"identity": made.job.identity.model_copy(update={"visit_date": made.job.identity.visit_date + dt.timedelta(days=400)})})
    return ([replace(purchase, plan=()) for purchase in made.purchases], check_price_ages(later, made.purchases, made.lists))


def tell_cutting(name: str) -> Any:
    return {purchase.id: purchase.plan for purchase in _estimate(name).purchases if purchase.plan}


def tell_risk(name: str) -> Any:
    return assess_risk(_estimate(name), trials=TRIALS, seed=7)


def tell_change(name: str) -> Any:
    """Two changes of the job, one after the other."""
    old, told = _estimate(name), {}
    for what in random.Random(name).sample(sorted(CHANGES), 2):
        try:
            new = kit.estimate(change_job(old.job_as_read, CHANGES[what]), old.lists)
        except KitError:
            continue
        order = price_change(old, new, number=1)
        told[what] = (order, _or_refused(lambda order=order, old=old, new=new: change_draws(order, old, new)), change_days(old, new))
        old = new
    return told


def _or_refused(work: Any) -> Any:
    try:
        return work()
    except KitError:
        return "refused"


def _of_jobs(tell_one: Any) -> Figures:
    return ((name, tell_one(name)) for name in _jobs())


def _cut_plans() -> Figures:
    """The plans of the jobs, and of seeded lumber, offcuts and kitchens."""
    yield from _of_jobs(tell_cutting)
    for kind, jobs in (("lumber", lumber_jobs(8, 3, most_pieces=16)), ("offcuts", offcut_jobs(8, 3, most_pieces=12))):
        yield kind, {place: plan_cuts(pieces, stock, kerf_in=KERF_IN, least_offcut_in=12.0) for place, (pieces, stock) in enumerate(jobs)}
    yield "kitchens", {place: plan_slabs(pieces, slabs, kerf_in=KERF_IN) for place, (pieces, slabs) in enumerate(kitchen_jobs(5, 3, parts=5))}


def _contracts() -> Figures:
    """Seeded lives of contracts: where each stands in the end, its postings and its costs on two days."""
    for seed in WALKS:
        *_, (events, state) = walk(seed)
        issued = issued_of(state)
        told = {
            "state": state,
            "next": next_step(state),
            "books": {"/".join(map(str, astuple(account))): amount for account, amount in book_balances(state).items()},
        }
        told |= {"postings": postings_of(state.number, events)}
        days = (events[-1].day, events[-1].day + dt.timedelta(days=21))
        told |= {f"costs {place}": job_cost(issued.estimate, events, day) for place, day in enumerate(days)}
        told |= {f"overdue {place}": state.overdue(day) for place, day in enumerate(days)}
        yield f"walk {seed}", told


def _history() -> Figures:
    """What an invented history teaches, and what random spent tables of finished jobs do."""
    lists, day = kit.load_lists(kit.shipped("price_lists")), dt.date(2027, 6, 1)
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder) / "history"
        write_invented_history(home, jobs=10, seed=7)
        yield "invented", (list_jobs(home, dt.date(2026, 3, 1)), *_taught(learn.learn_from_jobs(home, lists, day)))
    for name in list(_jobs())[::4]:
        draw, made = random.Random(name), _estimate(name)
        rows = [_finished(number, made, draw) for number in range(1, 8)]
        read, learn.list_jobs = learn.list_jobs, lambda *_, rows=tuple(rows), **__: FolderJobs(rows, ())
        try:
            yield name, _taught(learn.learn_from_jobs(Path("nowhere"), lists, day))
        finally:
            learn.list_jobs = read


def _taught(learning: Any) -> tuple[Any, ...]:
    return learning, back_test(learning), {subject.id: seen for subject, seen in observe_jobs(learning.jobs, learning.lists).items()}


def _finished(number: int, made: kit.Estimate, draw: random.Random) -> Any:
    """A finished job with the work of an estimate, and a table of what was spent that has the gaps and slips of real ones."""
    lists = made.lists
    work = {task.step: [line for line in made.lines if line.id in task.line_ids] for task in made.tasks}
    steps = {
        task.step: PlannedStep(
            lists.steps[task.step].cost_code,
            task.hours_likely,
            tuple((line.item, line.quantity) for line in work[task.step]),
            math.prod(factor for _, factor in task.factors),
        )
        for task in made.tasks
    }
    items = {one.item: PlannedItem(one.need, bool(one.plan)) for one in made.purchases if lists.item(one.item).cost_type is CostType.MATERIAL}
    day = dt.date(2026, 3, 2) + dt.timedelta(weeks=number)
    spent = []
    for step, plan in steps.items():
        named = None if draw.random() < 0.2 else Step(step)
        hours = round(plan.hours * math.exp(draw.gauss(0.15, 0.3)) * (6.0 if draw.random() < 0.05 else 1.0), 2)
        spent.append(SpentRow(1, day, plan.cost_code, CostType.LABOR, "", Decimal("50.00"), hours, "", "", step=named, call_back=draw.random() < 0.1))
    for item, goods in items.items():
        ordered = day + dt.timedelta(days=draw.randint(-9, 0))
        came = draw.choice((None, ordered, ordered + dt.timedelta(days=draw.randint(1, 25))))
        quantity = draw.choice((None, 0.0, goods.net, goods.net * 1.25, -goods.net / 4))
        left = None if quantity is None else draw.choice((None, 0.0, goods.net / 20))
        more = {"quantity": quantity, "left": left, "order_day": ordered if draw.random() < 0.9 else None, "delivery_day": came}
        spent.append(SpentRow(2, day, lists.item(item).cost_code, CostType.MATERIAL, "", Decimal("10.00"), 0.0, "", "", item=item, **more))
    return finished_job(number, *spent, steps=steps, items=items)


ROOMS: dict[str, Any] = {
    **{
        room: lambda tell_one=tell_one: _of_jobs(tell_one)
        for room, tell_one in {
            "design": tell_design,
            "checks": tell_checks,
            "takeoff": tell_takeoff,
            "labor": tell_labor,
            "pricing": tell_pricing,
            "buying": tell_buying,
            "risk": tell_risk,
            "change": tell_change,
        }.items()
    },
    "cutting": _cut_plans,
    "contract": _contracts,
    "learning": _history,
}


# --- kept and today's ---


def figures_of(room: str) -> dict[tuple[str, str], str]:
    """Today's figures of a room by job and place."""
    return {(job, place or room): told for job, record in ROOMS[room]() for place, told in tell(record, "")}


def read_kept(room: str) -> dict[tuple[str, str], str]:
    """The figures that were kept: in each row a job, a record's place, and its figures as field=value."""
    path = KEPT / f"{room}.csv.xz"
    if not path.exists():
        return {}
    rows = csv.reader(io.StringIO(lzma.decompress(path.read_bytes()).decode()))
    pairs = ((job, place, *cell.split("=", 1)) for job, place, *cells in rows for cell in cells)
    return {(job, place + field): told for job, place, field, told in pairs}


def keep(room: str, told: Mapping[tuple[str, str], str]) -> None:
    """Write a room's table; the same figures give the same bytes."""
    rows: list[list[str]] = [["", ""]]
    for (job, place), value in told.items():
        record, dot, field = place.rpartition(".")
        if rows[-1][:2] != [job, record]:
            rows.append([job, record])
        rows[-1].append(f"{dot}{field}={value}")
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(rows[1:])
    KEPT.mkdir(exist_ok=True)
    (KEPT / f"{room}.csv.xz").write_bytes(lzma.compress(text.getvalue().encode(), preset=9))


def moved(room: str, was: Mapping[tuple[str, str], str], now: Mapping[tuple[str, str], str]) -> list[str]:
    """A line for each figure that differs by more than the arithmetic of another machine may."""
    names = dict.fromkeys((*was, *now))
    return [
        f"{room}, {job}: {place.lstrip('.')}: was {was.get((job, place), 'not there'):.200}, now {now.get((job, place), 'not there'):.200}"
        for job, place in names
        if not _same(was.get((job, place)), now.get((job, place)))
    ]


def _same(one: str | None, other: str | None) -> bool:
    if one == other:
        return True
    if one is None or other is None or one.count(" ") != other.count(" "):
        return False
    return all(left == right or _near(left, right) for left, right in zip(one.split(" "), other.split(" "), strict=True))


def _near(one: str, other: str) -> bool:
    try:
        return math.isclose(float(one), float(other), rel_tol=1e-6, abs_tol=1e-6)
    except ValueError:
        return False


# --- run by hand ---


def choose(candidates: Sequence[int], most: int) -> list[int]:
    """Random jobs, each the one that takes the most branches of the rooms that neither the examples nor those before it take."""
    from coverage import Coverage

    rooms = [f"kit/{room}" for room in ROOMS if room not in {"cutting", "contract", "learning"}]
    taken: dict[str, set[Any]] = {}
    names = [*(name for name in _jobs() if not name.startswith("seed ")), *(f"seed {seed}" for seed in candidates)]
    for name in names:
        watch = Coverage(branch=True, data_file=None, source=rooms, config_file=False)
        watch.start()
        for tell_one in (tell_design, tell_checks, tell_labor, tell_pricing, tell_buying, tell_risk, tell_change):
            tell_one(name)
        watch.stop()
        data = watch.get_data()
        taken[name] = {(file, *arc) for file in data.measured_files() for arc in data.arcs(file) or ()}
    left = {name: arcs - set().union(*(taken[one] for one in names if not one.startswith("seed "))) for name, arcs in taken.items()}
    chosen: list[int] = []
    while len(chosen) < most:
        best = max(left, key=lambda name: len(left[name]))
        if not left[best]:
            break
        print(f"{best}: {len(left[best])} branches more", flush=True)
        chosen.append(int(best.removeprefix("seed ")))
        new = left[best]
        left = {name: arcs - new for name, arcs in left.items()}
    return sorted(chosen)


def main() -> None:
    if sys.argv[1:] == ["choose"]:
        print(choose(range(400), 60))
        return
    for room in ROOMS:
        told = figures_of(room)
        found = moved(room, read_kept(room), told)
        print(*found[:20], f"{room}: {len(found)} of {len(told)} figures moved", sep="\n")
        if found:
            keep(room, told)


if __name__ == "__main__":
    main()
