"""The random jobs that other tests stand on: of every kind, to both ends of every range, many of them buildable."""

import re
from collections import Counter
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from random_jobs import fields_drawn, is_far, random_estimate, random_job, random_kind, unseen_options, unseen_ranges
from work_jobs import estimated

from kit.design.drain_parts import list_pipes
from kit.job import job_document, parse_job
from kit.job.sink import Sink
from kit.sources import value

FEW, MANY = 800, 10_000
ESTIMATED = 160
KINDS = [
    (mount, carried_at, style)
    for mount, carried_at, style in product(Sink.rules["mount"].options, (*Sink.rules["carried_at"].options, None), Sink.rules["style"].options)
]
LATE_ENDS = {
    "counter.sink_center: 240",
    "counter.sink_run: 4",
    "sink.depth: 10",
    "sink.front_rim: 10",
    "sink.outlet_setback: 24",
    "sink.bowls[].front_to_back: 24",
}  # wants a longest run, a fourth one, a least or deepest bowl, a widest rim: reached in 10,000 jobs


def kinds_of(count: int) -> Counter[tuple[str, str | None, str]]:
    return Counter(map(random_kind, range(count)))


def test_the_kind_of_a_job_is_known_when_its_sink_is() -> None:
    """Whatever is drawn after it."""
    jobs = [random_job(seed) for seed in range(FEW)]
    assert [(job.sink.mount, job.sink.carried_at, job.sink.style) for job in jobs] == list(map(random_kind, range(FEW)))


def test_the_same_seed_gives_the_same_job() -> None:
    """Also when it is drawn again; others give others; each is read back from what would be saved."""
    for seed in range(12):
        assert random_job.__wrapped__(seed) == random_job(seed)
        assert parse_job(job_document(random_job(seed))) == random_job(seed)
    assert len({random_job(seed).model_dump_json() for seed in range(200)}) == 200


NO_JOBS_DRAWN = {"contract/contract_walks.py": "lives of contracts", "killed_writers.py": "the moment of a kill", "pinned_figures.py": "what was spent"}


def test_no_other_file_draws_jobs() -> None:
    """Of the files that draw by chance and change fields of jobs, the others draw something else."""
    here = Path(__file__).parent
    texts = {path.relative_to(here).as_posix(): path.read_text(encoding="utf-8") for path in here.rglob("*.py")}
    drawing = {name for name, text in texts.items() if "random.Random(" in text and re.search(r"\b(?:parse|change)_job\(", text)}
    assert drawing - {Path(__file__).name} == {"random_jobs.py", *NO_JOBS_DRAWN}


def test_each_mount_way_of_carrying_and_apron_occurs() -> None:
    """Five of each in eight hundred jobs; the long test below asks for a hundred in ten thousand."""
    seen = kinds_of(FEW)
    assert set(seen) == set(KINDS)
    assert min(seen.values()) >= 5


def test_each_option_is_drawn_and_each_range_to_both_ends() -> None:
    """Choices, flags, what is left out; every number from its least to its most."""
    drawn = fields_drawn(map(random_job, range(FEW)))
    assert unseen_options(drawn) == []
    assert set(unseen_ranges(drawn)) <= LATE_ENDS


def test_at_least_a_quarter_can_be_built() -> None:
    """Most near ones; the far ones are there for what is stopped. None is refused."""
    buildable = [seed for seed in range(ESTIMATED) if random_estimate(seed).buildable]
    assert len(buildable) >= ESTIMATED / 4
    assert sum(is_far(seed) for seed in buildable) < len(buildable) / 4


def test_a_splash_without_height_is_none() -> None:
    """Found by a random job: its pieces had no width, and no plan could cut them."""
    made, none = (
        estimated("wood_apron_two_bowl", changes) for changes in ({"counter.splash": "same", "counter.splash_height": "0 in"}, {"counter.splash": "none"})
    )
    assert made.design.top.splash == none.design.top.splash == ()
    assert made.price > 0


def test_a_tailpiece_of_no_length_is_none() -> None:
    """Found by a random job: a strainer that reaches down into the trap left a tube as long as a float's last digit."""
    made = estimated("stone_apron_single_bowl", {"plumbing.drain_new": "slip-joint"})
    none_in = value("practice", "drain/strainer-body") + value("pipes", "pvc-40/1.5/outside") - value("practice", "drain/tailpiece-enters")
    drain = made.design.drain
    tails = [
        [
            pipe
            for pipe in list_pipes(made.job, replace(drain.levels, drop_built_in=none_in + more), made.lists, (), drain.way, "pvc")
            if pipe.name == "tailpiece"
        ]
        for more in (-1.0, 0.0, 4e-15, 0.5)
    ]
    assert [len(found) for found in tails] == [0, 0, 0, 1]


@pytest.mark.long
def test_ten_thousand_jobs_have_a_hundred_of_each_kind() -> None:
    """And the far ones of six thousand every end of every range: nobody moves a field of a near job to its end."""
    seen = kinds_of(MANY)
    assert {kind for kind in KINDS if seen[kind] < 100} == set()
    assert unseen_ranges(fields_drawn(map(random_job, filter(is_far, range(6_000))))) == []  # the longest run stands in job 5333
