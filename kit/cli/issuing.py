"""What `issue` says: the file, its number and day, and what it changes against the revision before, in a report."""

from pathlib import Path

from kit.cli.given import open_given
from kit.cli.page import Page
from kit.money import format_money

__all__ = ["issue_report"]


def issue_report(path: Path) -> str:
    """The issued estimate in a few sentences, opened again as anybody will open it."""
    given, page = open_given(path), Page()
    issued, made = given.issued, given.estimate
    if issued is None:  # a file that was just issued is one
        raise AssertionError(path)
    page.title(f"Issued {issued.number}, revision {issued.revision}, on {issued.issued}", f"{made.job.identity.customer}, {made.job.identity.address}")
    page.note(f"Price {format_money(made.price)}, with the price lists in it. Written: {path}")
    if issued.stop_reason:
        page.note(f"Issued although a finding says stop: {issued.stop_reason}")
    if issued.revision > 1:
        page.table(f"What changed against revision {issued.revision - 1}", ("Change",), [(change,) for change in issued.changes])
    named = f'"{path}"' if " " in str(path) else path
    page.note(f"Papers of this revision, whatever prices do: sinkset estimate {named} --out FOLDER --papers")
    return page.text()
