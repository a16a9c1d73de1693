"""Writers that are killed at random moments, and what must be there afterwards: all that they confirmed, nothing half-written. For test and bench.

Each kind is the source of a process that prints "ready", then a line for each thing that it has written, and a check of what lies in its folder.
"""

import datetime as dt
import random
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import kit
from kit.contract.events import Noted
from kit.contract.ledger import Ledger
from kit.issued import issue_estimate, list_issued, open_issued
from kit.job import change_job
from kit.lists.list_files import FILES
from kit.panels.job_files import JobFiles
from kit.panels.price_files import PriceFiles
from kit.whole_files import DRAFT

__all__ = ["KINDS", "kill_one"]

HEAD = """
import datetime as dt, sys
from pathlib import Path
import kit
from kit.job import change_job
folder = Path(sys.argv[1])
job, lists = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml"), kit.load_lists(kit.shipped("price_lists"))
"""
LEDGER = f"""{HEAD}
from kit.contract.events import Noted
from kit.contract.ledger import Ledger
ledger = Ledger(folder)
print("ready", flush=True)
for number in range(10_000):
    ledger.append("DEMO-005", Noted(text=str(number)), dt.date(2026, 3, 9))
    print(number, flush=True)
"""
ISSUE = f"""{HEAD}
from kit.issued import issue_estimate
print("ready", flush=True)
for feet in range(40, 400):
    changed = kit.estimate(change_job(job, {{"site.carry": f"{{feet}} ft"}}), lists)
    files = {{f"{{number}}.bin": bytes([feet % 250]) * 200_000 for number in range(12)}}
    print(issue_estimate(changed, folder, make_files=lambda *_: files, today=dt.date(2026, 4, 14)), flush=True)
"""
SAVE = f"""{HEAD}
from kit.job.file import write_job
print("ready", flush=True)
for inches in range(240, 4000):
    write_job(change_job(job, {{"site.carry": f"{{inches}} in"}}), folder / "job.toml")
    print(inches, flush=True)
"""
USE = f"""{HEAD}
from kit.panels.job_files import JobFiles
from kit.panels.price_files import PriceFiles, USUAL
files = JobFiles(folder / "jobs")
files.save(job, "job.toml")
price_files = PriceFiles(files)
print("ready", flush=True)
for number in range(99):
    written, prices = price_files.write(lists, dt.date(2026, 4, 14), USUAL)
    price_files.point(["job.toml"], prices)
    print(written.name, flush=True)
"""


def check_ledger(folder: Path, confirmed: list[str]) -> None:
    """Every confirmed event in its order, and at most the one that was on its way."""
    kept = [event.what.text for event in Ledger(folder).events("DEMO-005") if isinstance(event.what, Noted)]
    assert kept[: len(confirmed)] == confirmed
    assert kept == [str(number) for number in range(len(kept))]
    assert len(kept) <= len(confirmed) + 1
    Ledger(folder).append("DEMO-005", Noted(text="after"), dt.date(2026, 3, 9))


def check_issue(folder: Path, confirmed: list[str]) -> None:
    """Every confirmed promise whole, with all of its files; the next revision goes out."""
    there = list_issued(folder, "DEMO-005")
    assert [str(path) for path in there][: len(confirmed)] == confirmed
    for path in there:  # also one that was written and not confirmed any more
        assert len(open_issued(path).files()) == 12
    job = change_job(kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml"), {"site.carry": "30 ft"})
    following = open_issued(issue_estimate(kit.estimate(job, kit.load_lists(kit.shipped("price_lists"))), folder, today=job.identity.visit_date))
    assert following.revision in {len(there) + 1, len(there) + 2}  # a folder that was placed without its document keeps its number
    assert bool(following.changes) == bool(there)


def check_save(folder: Path, confirmed: list[str]) -> None:
    """The job file is whole: as confirmed last, or the one that was on its way."""
    if (folder / "job.toml").exists() or confirmed:
        last = int(confirmed[-1]) if confirmed else 239
        assert round(kit.read_job(folder / "job.toml").site.carry_ft * 12) in {last, last + 1}


def check_use(folder: Path, confirmed: list[str]) -> None:
    """Every folder of lists is whole; the job names one that is there, the one confirmed last or the one on its way."""
    files = JobFiles(folder / "jobs")
    names = [name for name in PriceFiles(files).names() if "price_lists_" in name]
    assert {Path(name).name for name in names} >= set(confirmed)
    for name in names:
        assert set(PriceFiles(files).lists(name).texts) == set(FILES)
    prices = files.open("job.toml").prices
    assert prices in {None, *names}
    if confirmed:
        assert prices is not None
        assert _turn(Path(prices).name) >= _turn(confirmed[-1])


def _turn(name: str) -> int:
    """Which of the folders of one day it is: price_lists_2026-04-14 the first, price_lists_2026-04-14_10 the tenth."""
    number = name.removeprefix("price_lists_").partition("_")[2]
    return int(number) if number else 1


KINDS: dict[str, tuple[str, Callable[[Path, list[str]], None]]] = {
    "ledger writes": (LEDGER, check_ledger),
    "issue": (ISSUE, check_issue),
    "save": (SAVE, check_save),
    "take into use": (USE, check_use),
}


def kill_one(kind: str, folder: Path, seed: int) -> int:
    """Kill a writer of a kind at a moment drawn from the seed and look at what it left; gives how many things it had confirmed."""
    source, check = KINDS[kind]
    with subprocess.Popen([sys.executable, "-c", source, str(folder)], stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        time.sleep(random.Random(f"{kind} {seed}").uniform(0.0, 0.8))
        process.kill()
        confirmed = [line[:-1] for line in process.stdout.read().splitlines(keepends=True) if line.endswith("\n")]
    check(folder, confirmed)
    assert all(path.name.startswith(DRAFT) for path in folder.rglob(".*") if path.is_dir())
    return len(confirmed)
