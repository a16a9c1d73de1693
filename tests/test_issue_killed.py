"""`issue` killed at random moments: what was confirmed is there whole, nothing half-written is read, and the next revision goes out."""

import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from long_run import one_in

import kit
from kit.issued import issue_estimate, list_issued, open_issued
from kit.job import change_job

ISSUER = """
import sys, datetime as dt, kit
from pathlib import Path
from kit.issued import issue_estimate
from kit.job import change_job
job, lists = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml"), kit.load_lists(kit.shipped("price_lists"))
print("ready", flush=True)
for feet in range(40, 400):
    changed = kit.estimate(change_job(job, {"site.carry": f"{feet} ft"}), lists)
    files = {f"{number}.bin": bytes([feet % 250]) * 200_000 for number in range(12)}
    print(issue_estimate(changed, Path(sys.argv[1]), make_files=lambda *_: files, today=dt.date(2026, 4, 14)), flush=True)
"""


@pytest.mark.parametrize("seed", one_in(4, list(range(20))))
def test_a_killed_issue_leaves_whole_promises(tmp_path: Path, seed: int) -> None:
    """SIGKILL at a random moment of a process that issues one revision after the other."""
    with subprocess.Popen([sys.executable, "-c", ISSUER, str(tmp_path)], stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        time.sleep(random.Random(seed).uniform(0.02, 1.5))
        process.kill()
        confirmed = [Path(line) for line in process.stdout.read().splitlines() if line.endswith(".json")]
    there = list_issued(tmp_path, "DEMO-005")
    assert set(confirmed) <= set(there)
    for path in there:  # also one that was written and not confirmed any more
        assert len(open_issued(path).files()) == 12
    job = change_job(kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml"), {"site.carry": "30 ft"})
    following = open_issued(issue_estimate(kit.estimate(job, kit.load_lists(kit.shipped("price_lists"))), tmp_path, today=job.identity.visit_date))
    assert following.revision in {len(there) + 1, len(there) + 2}  # a folder that was placed without its document keeps its number
    assert bool(following.changes) == bool(there)
