"""One generator of random valid jobs for all tests: `random_job(seed)` gives the same job for the same seed.

A job starts as a shipped example with a sink of sinks.csv, a counter of counters.csv and a mount; then its fields are moved.
What may stand in a field is read from the field's own rule (kind, range, options), so a new field is drawn without a change
here. A move that its part of the job refuses is taken back. Half of the jobs are near: a mount that sink and list allow, and up
to sixteen fields moved a little, or to any option. The others are far: any mount, and every second field moved anywhere in its
range, limits included. Every second choice of the terms is moved in all of them.

Of 10,000 jobs (tests/bench/random_jobs.py prints it, tests/test_random_jobs.py holds it for fewer): about 39 in 100 can be built,
78 of the near ones and 1 of the far ones; each mount x way of carrying x style occurs 163 to 639 times; every option of every
choice and both ends of every range occur.
"""

import datetime as dt
import random
from collections.abc import Iterable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache, lru_cache
from typing import Any, get_args, get_origin

from pydantic import ValidationError
from work_jobs import EXAMPLES, example, lists

from kit.errors import KitError
from kit.estimating import Estimate, estimate
from kit.job import Job, job_document, parse_job
from kit.job.fields import UNKNOWN, Record, Rule
from kit.job.file import format_value, record_in
from kit.job.sink import Bowl
from kit.job.terms import Terms
from kit.lists import Lists
from kit.records import Level

__all__ = [
    "COMPANIES",
    "change_terms",
    "fields_drawn",
    "is_far",
    "random_estimate",
    "random_job",
    "random_kind",
    "random_lists",
    "unseen_options",
    "unseen_ranges",
]

MOST_NEAR_MOVES = 16
WORDS = ("Invented Name", "A. Estimator (invented)", "Müller & Söhne", '12 "Example" Lane', "=1+1", "- not a sum", "Ωμέγα 3/4", "long " * 24)
FIRST_DAY, DAYS = dt.date(2026, 1, 2), 700  # the shipped prices hold on all of them
STEPS = {"length": 1 / 16, "distance": 0.5, "weight": 0.5, "time": 0.25, "share": 0.001, "money": 0.01, "count": 1}

# set by a row of a list, together with others, and never moved alone; the folder of prices is for whoever reads the file
BY_ROW = {
    "sink.item",
    "sink.style",
    "sink.mount",
    "sink.carried_at",
    "counter.item",
    "counter.material",
    "counter.made_by",
    "counter.species",
    "prices",
    "to_measure",
}
BY_ROW |= {"site.state", "terms.state_preset", *(f"plumbing.{system}_{age}" for system in ("drain", "supply") for age in ("old", "new"))}

COMPANIES: dict[str, tuple[Any, ...]] = {
    "wage": (Decimal("34.00"), Decimal("27.35")),
    "burden": (0.0, 0.38, 0.4137),
    "least_charge": (Decimal("450.00"), Decimal("450.00"), Decimal("19876.54")),
    "tax_when_bought": ("resale", "credit"),
    "burden_from": ("share", "parts"),
}


# --- the fields of a job document ---


@dataclass(frozen=True, slots=True)
class Field:
    """The table of a document that holds a field, its key, what it may hold, and its place without numbers: `counter.runs[].length`.

    `most` is how many parts a list of tables may hold, 0 where it is none.
    """

    table: dict[str, Any]
    key: str
    holds: Rule | type[Record]
    place: str
    least: int = 0
    most: int = 0


_record_in = cache(record_in)


def fields_of(kind: type[Record], table: dict[str, Any], place: str = "") -> Iterator[Field]:
    """Every field of a table and of the tables in it, those left out as well."""
    for name, info in kind.model_fields.items():
        key, inner = kind.key(name), _record_in(info.annotation)
        here = f"{place}.{key}" if place else key
        if inner is None:
            yield Field(table, key, kind.rules[name], here)
        elif get_origin(info.annotation) is tuple:
            limits = {word: getattr(one, word) for one in info.metadata for word in ("min_length", "max_length") if hasattr(one, word)}
            yield Field(table, key, inner, f"{here}[]", limits.get("min_length", 0), limits["max_length"])
            for part in table.get(key, []):
                yield from fields_of(inner, part, f"{here}[]")
        else:
            if type(None) in get_args(info.annotation):
                yield Field(table, key, inner, here)
            if key in table:
                yield from fields_of(inner, table[key], here)


def _record(part: str) -> type[Record]:
    found = record_in(Job.model_fields[part].annotation)
    assert found is not None
    return found


def _put(table: dict[str, Any], key: str, typed: Any) -> None:
    if typed is None:
        table.pop(key, None)
    else:
        table[key] = typed


# --- what may stand in a field ---


def _number(chance: random.Random, rule: Rule, now: Any, *, far: bool) -> Any:
    """Far: either limit or anything between. Near: an eighth more or less, or from the lower third of the range where nothing stood."""
    low, high = float(rule.low or 0.0), float(rule.high or 0.0)
    now = rule.assume if now in {None, UNKNOWN} and rule.kind != "count" else now
    if far:
        drawn = chance.choice((low, high, *(chance.uniform(low, high) for _ in range(4))))
    elif now in {None, UNKNOWN}:
        third = (high - low) / 3.0  # of what reaches to both sides the middle one
        drawn = chance.uniform(low + third, high - third) if low < 0.0 else chance.uniform(low, low + third)
    else:
        drawn = min(max(float(rule.read(now)) * chance.uniform(0.875, 1.125), low), high)
    if rule.kind == "length" and chance.random() < 0.1:
        return f"{drawn * 25.4:.0f} mm"
    step = STEPS[rule.kind]
    return round(drawn) if rule.kind == "count" else format_value(rule, round(round(drawn / step) * step, 9))


def _typed(chance: random.Random, field: Field, rule: Rule, *, far: bool) -> Any:
    """What a person might type; None leaves it out."""
    if rule.optional and chance.random() < 0.3:
        return None
    if rule.may_be_unknown and chance.random() < (0.25 if far else 0.05):
        return chance.choice((None, UNKNOWN))
    match rule.kind:
        case "choice":
            return chance.choice(rule.options)
        case "flag":
            return chance.choice((True, False))
        case "day":
            return FIRST_DAY + dt.timedelta(days=chance.randint(0, DAYS))
        case "text":
            stock = [item.item for item in lists().items.values() if item.cut != "no"] if field.place == "offcuts[].item" else ()
            return chance.choice(rule.common or stock or WORDS)
        case _ if rule.common and not far:
            return chance.choice(rule.common)
        case _:
            return _number(chance, rule, field.table.get(field.key), far=far)


def _new_table(chance: random.Random, kind: type[Record], place: str) -> dict[str, Any]:
    table: dict[str, Any] = {}
    for field in fields_of(kind, table, place):
        assert isinstance(field.holds, Rule)
        _put(table, field.key, _typed(chance, field, field.holds, far=True))
    return table


def _new_parts(chance: random.Random, field: Field, kind: type[Record]) -> Any:
    """A part that may be missing, or another number of parts in a list: the first ones stay."""
    now = field.table.get(field.key)
    if not field.most:
        return None if now else _new_table(chance, kind, field.place)
    kept = deepcopy(now or [])[: chance.randint(field.least, field.most)]
    return kept + [_new_table(chance, kind, field.place) for _ in range(chance.choice((0, 1, 1, 2)))]


# --- fields that a row of a list sets together ---


def _sink_row(row: Any, *, scale: float) -> dict[str, Any]:
    """The sizes of a row of sinks.csv as they stand in a job, the widths times a scale; as many of its bowls as have room."""
    kind = _record("sink")
    sizes = {name: size for name in kind.rules if (size := getattr(row, name, None)) is not None}
    names = [name for name in ("apron_width_in", "body_width_in", "bowl_width_in") if name in sizes]
    widths = {name: min(max(round(sizes[name] * scale, 6), kind.rules[name].low), kind.rules[name].high) for name in names}
    bowls = row.bowls if widths["bowl_width_in"] / row.bowls > 8.0 else 1
    bowl = {
        "width": min(widths["bowl_width_in"] / bowls - 1.0, Bowl.rules["width_in"].high or 0.0),
        "front_to_back": row.bowl_front_to_back_in,
        "depth": row.bowl_depth_in,
    }
    typed = {kind.key(name): format_value(kind.rules[name], size) for name, size in (sizes | widths).items() if kind.rules[name].kind != "text"}
    return {"item": row.item, **typed, "bowls": [{name: f"{size:.6g} in" for name, size in bowl.items()} for _ in range(bowls)]}


def _choose_sink(chance: random.Random, document: dict[str, Any], *, far: bool) -> None:
    """A style and a row of sinks.csv. Near: a mount it is made for, a base wide enough, doors below apron and false front, three to lift. Far: any width."""
    rules = _record("sink").rules
    style = chance.choice(rules["style"].options)
    row = chance.choice([row for row in lists().sinks.values() if row.style == style])
    width, carriers = rules["body_width_in"], rules["carried_at"].options
    scale = chance.choice((width.low, width.high, chance.uniform(20.0, 48.0), row.body_width_in)) / row.body_width_in if far else 1.0
    kept = {name: typed for name, typed in document["sink"].items() if not name.startswith(("apron", "template", "rear_rim", "front_rim", "outlet"))}
    mount = chance.choice(rules["mount"].options if far else row.mounts)
    document["sink"] = {**kept, **_sink_row(row, scale=scale), "mount": mount, "carried_at": chance.choice((*carriers, UNKNOWN) if far else carriers)}
    if not far:
        if mount == "flush" and row.apron_width_in is not None:
            document["sink"]["carried_at"] = "bowl"  # cleats on the sides of the base don't reach its rim
        base = _record("cabinet").rules["width_in"]
        document["cabinet"]["width"] = chance.choice([size for size in base.common if base.read(size) >= row.body_width_in + 3.0][:2])
        front_in = _record("cabinet").rules["false_front_bottom_in"].read(document["cabinet"].get("false_front_bottom", "0 in"))
        document["cabinet"]["door_top"] = f"{max((row.apron_height_in or 6.0) + 0.75, (front_in or 0.0) + 0.5)} in"
        document["terms"]["crew"] = 3


def _choose_counter(chance: random.Random, document: dict[str, Any], *, far: bool) -> None:
    """A row of counters.csv, made by whom it says or kept; near: of a material that the list allows for the mount."""
    mount = document["sink"]["mount"]
    row = chance.choice([row for row in lists().counters.values() if far or lists().mounts[(mount, row.material)].level is not Level.STOP])
    made_by = chance.choice((row.made_by, row.made_by, row.made_by, "stays"))
    species = chance.choice(_record("counter").rules["species"].options) if row.moves else None
    document["counter"] |= {"item": row.item, "material": row.material, "made_by": made_by, "thickness": f"{row.thickness_in} in"}
    _put(document["counter"], "species", species)
    supplied_by, installed_by = ("stays", "nobody") if made_by == "stays" else (made_by, made_by)
    document["scope"]["counter"] = {"supplied_by": supplied_by, "installed_by": installed_by}
    if row.laid_in_place and not far:  # nobody lays tile on open boxes
        document["counter"]["sub_top"] = chance.choice(("new", "new", "there"))
    if made_by == "stays" and not far:  # the new sink covers the hole of the old one
        document["old"] |= {"sink_width": document["sink"]["body_width"], "sink_depth": document["sink"]["depth"]}
    splash = document["scope"]["splash"]
    if not far and splash["supplied_by"] not in {"stays", "excluded"}:  # of the counter's material, by one hand
        document["scope"]["splash"] = dict(document["scope"]["counter"])


def _choose_pipes(chance: random.Random, document: dict[str, Any]) -> None:
    """Pairs of old and new pipe that transitions.csv holds."""
    for system in ("drain", "supply"):
        _, old, new = chance.choice([pair for pair in lists().transitions if pair[0] == system])
        rules = _record("plumbing").rules
        unseen = old == new == rules[f"{system}_old"].assume  # the usual pipe is left out beside its like, and typed beside another
        left_out = new == rules[f"{system}_new"].assume and chance.random() < 0.3
        document["plumbing"] |= {f"{system}_old": UNKNOWN if unseen else old, f"{system}_new": UNKNOWN if left_out else new}


def _choose_preset(chance: random.Random, document: dict[str, Any]) -> None:
    """A row of state_presets.csv in its state, or none in any state."""
    name = chance.choice((None, "none", *lists().state_presets))
    states = (*_record("site").rules["state"].options, UNKNOWN)
    document["site"]["state"] = lists().state_presets[name].state if name in lists().state_presets else chance.choice(states)
    _put(document["terms"], "state_preset", name)


def _leave_a_price(terms: dict[str, Any]) -> None:
    """Overhead and profit that as shares of the price, or overhead marked up, would take most of it are the company's own instead."""
    rules, of_price = _record("terms").rules, {"overhead": ("of-price", None), "profit": ("margin", None)}
    shares = [rules[f"{name}_share"].read(terms.get(name, "25 %")) for name, words in of_price.items() if terms.get(f"{name}_as") in words]
    of_overhead = rules["overhead_share"].read(terms.get("overhead", "25 %")) if terms.get("overhead_as") in of_price["overhead"] else 0.0
    marked_up = of_overhead * (1.0 + rules["profit_share"].read(terms.get("profit", "25 %")))
    if sum(shares) > 0.7 or marked_up > 0.9:
        terms.pop("overhead", None)
        terms.pop("profit", None)


# --- the job ---


@cache
def _start(stem: str) -> dict[str, Any]:
    return job_document(example(stem))


def _accepts(document: dict[str, Any], part: str) -> bool:
    kind, value = _record(part), document.get(part, [])
    try:
        for table in value if isinstance(value, list) else [value]:
            kind.model_validate(table)
    except ValidationError:
        return False
    return True


@cache
def _contradicts_itself(kind: type[Record]) -> bool:
    """Whether a part of the job has rules beyond those of its fields."""
    inner = [one for info in kind.model_fields.values() if (one := _record_in(info.annotation))]
    return bool(kind.__pydantic_decorators__.model_validators) or any(map(_contradicts_itself, inner))


def _takes(document: dict[str, Any], field: Field, typed: Any) -> bool:
    """Whether the job takes what was typed into a field: by the field's own rule, and by those of its part where it has some."""
    part = field.place.split(".")[0].removesuffix("[]")
    if not isinstance(field.holds, Rule) or _contradicts_itself(_record(part)):
        return _accepts(document, part)
    try:
        if typed is not None:
            field.holds.read(typed)
    except (ValueError, KitError):
        return False
    return True


def _move(chance: random.Random, document: dict[str, Any], fields: Iterable[Field], *, far: bool) -> None:
    """Each field in turn typed anew; what its part of the job refuses is taken back."""
    for field in fields:
        before = field.table.get(field.key)
        typed = _typed(chance, field, field.holds, far=far) if isinstance(field.holds, Rule) else _new_parts(chance, field, field.holds)
        _put(field.table, field.key, typed)
        if not _takes(document, field, typed):
            _put(field.table, field.key, before)


def is_far(seed: int) -> bool:
    """Whether the job of a seed is one of those whose every second field is moved anywhere in its range."""
    return seed % 2 == 1


def _begin(seed: int) -> tuple[random.Random, dict[str, Any]]:
    """The example that a job starts from, with its sink."""
    chance = random.Random(seed)
    document = deepcopy(_start(chance.choice(EXAMPLES).stem))
    document.setdefault("terms", {})
    document["identity"]["job_number"] = f"RANDOM-{seed}"  # so that a failing test shows the seed
    _choose_sink(chance, document, far=is_far(seed))
    return chance, document


def random_kind(seed: int) -> tuple[str, str | None, str]:
    """Mount, way of carrying and style of a random job, the rest of it not drawn: nothing that comes after the sink changes them."""
    sink = _begin(seed)[1]["sink"]
    return sink["mount"], None if sink["carried_at"] == UNKNOWN else sink["carried_at"], sink["style"]


@cache
def random_job(seed: int) -> Job:
    """A valid job; the same seed gives the same one."""
    (chance, document), far = _begin(seed), is_far(seed)
    _choose_counter(chance, document, far=far)
    _choose_pipes(chance, document)
    _choose_preset(chance, document)
    parts = [field for field in fields_of(Job, document) if not isinstance(field.holds, Rule)]
    _move(chance, document, [field for field in parts if chance.random() < (0.5 if far else 0.1)], far=far)
    single = [field for field in fields_of(Job, document) if isinstance(field.holds, Rule) and field.place not in BY_ROW]
    terms = [field for field in single if field.place.startswith("terms.") and isinstance(field.holds, Rule) and field.holds.kind == "choice"]
    _move(chance, document, chance.sample(single, len(single) // 2 if far else chance.randint(0, MOST_NEAR_MOVES)), far=far)
    _move(chance, document, [field for field in terms if chance.random() < 0.5], far=far)
    _leave_a_price(document["terms"])
    return parse_job(document, f"seed {seed}")


def change_terms(job: Job, seed: int) -> Job:
    """A job with one or two of its terms typed anew by chance."""
    chance, document = random.Random(seed), job_document(job)
    table = document.setdefault("terms", {})
    _move(chance, document, chance.sample(list(fields_of(Terms, table, "terms")), chance.randint(1, 2)), far=True)
    return parse_job(document, f"seed {seed}")


@cache
def random_lists(seed: int) -> Lists:
    """The shipped lists with a company drawn by chance."""
    chance = random.Random(seed)
    company = replace(lists().company, **{name: chance.choice(options) for name, options in COMPANIES.items()})
    return replace(lists(), company=company)


@lru_cache(maxsize=512)
def random_estimate(seed: int) -> Estimate:
    """The estimate of a random job for a random company, with first cut plans."""
    return estimate(random_job(seed), random_lists(seed), exact=False)


# --- what was drawn ---


def fields_drawn(jobs: Iterable[Job]) -> dict[str, tuple[Rule, set[Any]]]:
    """Rule and every value of each field of some jobs, as typed; None where it was left out."""
    seen: dict[str, tuple[Rule, set[Any]]] = {}
    for job in jobs:
        for field in fields_of(Job, job_document(job)):
            if isinstance(field.holds, Rule):
                seen.setdefault(field.place, (field.holds, set()))[1].add(field.table.get(field.key))
    return seen


def unseen_options(drawn: Mapping[str, tuple[Rule, set[Any]]]) -> list[str]:
    """Options of a choice, answers of a flag, and "left out" of what may be, that no job has."""
    found = []
    for place, (rule, seen) in drawn.items():
        wanted: set[Any] = set(rule.options) | set(rule.common if rule.kind == "text" else ()) | ({True, False} if rule.kind == "flag" else set())
        wanted |= {None} if (rule.may_be_unknown or rule.optional) and place not in {"prices", "to_measure"} else set()
        found += [f"{place}: {option}" for option in sorted(wanted - seen, key=str)]
    return found


def unseen_ranges(drawn: Mapping[str, tuple[Rule, set[Any]]]) -> list[str]:
    """Ends of a range that no job comes near, by a twentieth of the range."""
    found = []
    for place, (rule, seen) in drawn.items():
        if rule.low is None or rule.high is None:
            continue
        numbers = [float(rule.read(typed)) for typed in seen if typed is not None]
        near = (rule.high - rule.low) / 20.0
        found += [f"{place}: {end:g}" for end in (rule.low, rule.high) if all(abs(number - end) > near for number in numbers)]
    return found
