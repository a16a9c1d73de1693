"""Which assumptions say something about this job? One that can move no finding, line, hour or cent is not listed.

Each rule names fields and the jobs in which nobody asks for them; a field without a rule is always listed.
"""

import re
from collections.abc import Callable, Iterable
from functools import cache

from kit.design.design import Design
from kit.design.place_floor_pipe import FLOOR_PIPE
from kit.job import FilledJob
from kit.records import Assumption

__all__ = ["field_matters", "keep_what_matters"]

Rule = Callable[[FilledJob, Design], bool]


_RULES: tuple[tuple[Rule, tuple[str, ...]], ...] = (
    (
        lambda job, _: job.plumbing.disposer != "none",
        ("plumbing.disposer_weight", "plumbing.disposer_height", "plumbing.disposer_diameter", "plumbing.disposer_drop"),
    ),
    (lambda _, design: design.duties.electrician, ("plumbing.outlet_cable",)),
    (lambda job, _: job.plumbing.dishwasher, ("plumbing.dishwasher_drain", "plumbing.hose_run", "old.dishwasher_fixing")),
    (lambda job, design: FLOOR_PIPE in design.placed.model and job.plumbing.vented_inlet_in is None, ("plumbing.floor_pipe_top",)),
    (lambda job, _: job.plumbing.drain_leaves == "floor", ("plumbing.floor_pipe_vent",)),
    (lambda job, _: job.plumbing.drain_leaves == "wall", ("plumbing.vent_seen",)),
    (lambda job, _: job.plumbing.arm_to_vent_in is not None, ("plumbing.arm_to_wall",)),
    (lambda job, _: not job.levelness.readings, ("levelness.assumed_drop",)),
    (lambda _, design: design.top.movement is not None, ("counter.finish_coats",)),
    (lambda job, _: job.counter.sub_top != "none", ("counter.sub_top_thickness",)),
    (lambda job, _: job.counter.splash != "none", ("counter.splash_height", "counter.splash_thickness")),
    (lambda job, _: job.old.splash != "none", ("old.splash_height",)),
    (lambda job, _: not job.cabinet.clear_back, ("cabinet.back_panel",)),
    (lambda job, _: job.plumbing.stops_to_renew > 0, ("plumbing.supply_new", "plumbing.clean_stub", "plumbing.stop_joint")),
    (lambda _, design: design.removal.sink_by != "nobody", ("old.sink_weight",)),
    # the opening of a countertop that stays is as large as the sink in it
    (lambda job, design: design.removal.sink_by != "nobody" or job.counter.made_by == "stays", ("old.sink_width", "old.sink_depth")),
    (lambda job, _: job.counter.made_by != "stays", ("counter.edge",)),
    (lambda job, design: job.sink.is_apron and design.doors is not None and design.doors.work != "keep", ("cabinet.door_kind", "cabinet.hinge_bore")),
    (lambda job, _: job.cabinet.construction == "face-frame", ("cabinet.top_rail", "cabinet.mid_rail")),
    (lambda _, design: bool(design.frame.members), ("cabinet.side_material",)),
    (lambda job, _: job.sink.mount == "under", ("counter.reveal",)),
    (lambda job, _: job.sink.is_apron, ("sink.apron_projection", "cabinet.door_reveal", "cabinet.false_front_screw")),
    (lambda _, design: design.removal.counter_comes_off, ("old.counter_thickness", "old.counter_fixing")),
    (lambda job, _: job.cabinet.corner is None or job.cabinet.corner.return_part != "none", ("cabinet.corner.travel", "cabinet.corner.pull")),
    (lambda job, _: job.cabinet.left.kind not in {"wall", "open"}, ("cabinet.left.gap",)),
    (lambda job, _: job.cabinet.right.kind not in {"wall", "open"}, ("cabinet.right.gap",)),
)
_BY_FIELD = {field: rule for rule, fields in _RULES for field in fields}


def field_matters(field: str, job: FilledJob, design: Design) -> bool:
    """Whether the job asks for a field at all, such as `counter.holes[1].diameter`; the size of a disposer says nothing where none is."""
    rule = _BY_FIELD.get(_without_numbers(field))
    return rule is None or rule(job, design)


def keep_what_matters(assumptions: Iterable[Assumption], job: FilledJob, design: Design) -> tuple[Assumption, ...]:
    """The assumptions that may move a finding, a line, an hour or a cent of this job."""
    return tuple(assumed for assumed in assumptions if field_matters(assumed.field, job, design))


@cache
def _without_numbers(field: str) -> str:
    return re.sub(r"\[\d+\]", "", field)
