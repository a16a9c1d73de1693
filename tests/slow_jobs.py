"""Sound jobs of the slowest kinds: as much of everything as a field takes, far dates, the longest counters."""

from typing import Any

from work_jobs import STEMS, STONE, example

from kit.job import Job, change_job

__all__ = ["slow_jobs"]

HOLES = [{"use": "faucet" if place == 0 else "dispenser", "offset": f"{place * 3 - 10} in"} for place in range(8)]
READINGS = [{"at": f"{at * 10} in", "low": f"{at % 7}/16 in", "rear_low": f"{at % 5}/16 in"} for at in range(24)]
LONG = [{"length": "240 in", "depth": "25 1/2 in", "left_end": "wall", "right_end": "wall"} for _ in range(4)]
KINDS: dict[str, dict[str, Any]] = {
    "far date": {"terms.signed_on": "2100-01-05"},
    "many holes": {"counter.holes": HOLES},
    "many readings": {"levelness.readings": READINGS},
    "long countertops": {"counter.runs": LONG, "counter.sink_run": 1, "counter.sink_center": "120 in"},
    "slow people": {"terms.hours_factor": "200 %", "site.work_day": "2 h"},
}


def slow_jobs() -> dict[str, Job]:
    """Each kind on the stone example, and all that go together on every example."""
    found = {kind: change_job(example(STONE), changes) for kind, changes in KINDS.items()}
    together = {field: value for kind in ("far date", "long countertops", "slow people") for field, value in KINDS[kind].items()}
    return found | {f"{stem}, all together": change_job(example(stem), together) for stem in STEMS}
