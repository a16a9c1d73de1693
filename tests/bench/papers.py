"""How long papers, workbook and rows take: `python tests/bench/papers.py`."""

import time
from collections.abc import Callable

import kit
from kit.export.crew_sheet import crew_sheet_bytes
from kit.export.handoff import handoff_files
from kit.export.proposal import proposal_bytes
from kit.export.purchase_list import purchase_list_bytes
from kit.export.workbook import workbook_bytes
from kit.outlook import plan_schedule

RUNS = 5


def main() -> None:
    """First and best of a few runs, for the example with most lines."""
    lists = kit.load_lists(kit.shipped("price_lists"))
    found = max((kit.estimate(kit.read_job(path), lists) for path in kit.shipped("examples").glob("*.toml")), key=lambda one: len(one.lines))
    schedule = plan_schedule(found)
    print(f"{found.job.identity.job_number}: {len(found.lines)} lines, {len(found.purchases)} purchases")
    makers: dict[str, Callable[[], object]] = {
        "proposal": lambda: proposal_bytes(found),
        "purchase list": lambda: purchase_list_bytes(found, schedule=schedule),
        "crew sheet": lambda: crew_sheet_bytes(found, schedule=schedule),
        "rows for the books": lambda: handoff_files(found, "rows"),
        "workbook": lambda: workbook_bytes(found),
    }
    for name, make in makers.items():
        taken = []
        for _ in range(RUNS):
            start = time.perf_counter()
            make()
            taken.append(time.perf_counter() - start)
        print(f"{name:20} first {taken[0]:.3f} s, best {min(taken):.3f} s")


if __name__ == "__main__":
    main()
