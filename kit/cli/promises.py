"""What the commands say of a promise: as it was sent, with what today's rules would make of it as a difference beside it."""

from collections.abc import Collection
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.cli.estimate_document import whole_document
from kit.cli.job_source import issued_document
from kit.cli.report import estimate_report
from kit.cli.report_text import Page
from kit.contract.contract_file import offer_contract, open_contract
from kit.document import money_text, plain
from kit.errors import KitError
from kit.issued import Differences, Issued
from kit.money import format_money
from kit.units import format_day

__all__ = ["issue_document", "issue_report", "offer_issued", "promise_document", "promise_report"]

_SEND = "Send the customer the proposal; the other files hold your costs or are for the crew."


def offer_issued(path: Path) -> str:
    """Write into the ledger that an estimate was issued; gives why that could not be done, "" where it was. The promise stands either way."""
    try:
        offer_contract(open_contract(path))
    except KitError as error:
        return f"Not in the ledger yet: {'; '.join(str(fault) for fault in error.faults)}"
    return ""


def issue_document(path: Path, issued: Issued, ledger: str, *, made: bool) -> dict[str, Any]:
    """What `issue` did, as plain data; `ledger` is what kept it out of the ledger, None where nothing did; `made` says whether its folder is new."""
    of_the_kit = issued.content["lists"]["of_the_kit"]
    facts = {"file": str(path), "price": money_text(issued.price), "lists": "kit" if of_the_kit else "own", "ledger": ledger or None, "folder_is_new": made}
    return {**facts, **issued_document(issued)}


def issue_report(path: Path, issued: Issued, ledger: str, *, made: bool) -> str:
    """The issued estimate in a few sentences: its number and day, whose lists, what spoke against it, what changed against the revision before."""
    page = Page()
    page.title(f"Issued {issued.number}, revision {issued.revision}, on {format_day(issued.issued)}", issued.customer)
    page.note(f"Price {format_money(issued.price)}. Written: {path}, with its price lists.")
    if made:
        page.note(f"The folder {path.parent} is new. Estimates and contracts of other folders are not known there.")
    page.note(issued.lists_words)
    if issued.overruled:
        page.table("Warnings", ("What stands against it",), [(sentence,) for sentence in issued.overruled])
        page.note(f"Issued anyway: {issued.stop_reason}")
    elif issued.stop_reason:
        page.note(f"Nothing stood against issuing it. Your reason is kept as a note: {issued.stop_reason}")
    if issued.changes:
        page.table("What changed since the last revision", ("Change",), [(change,) for change in issued.changes])
    if issued.file_names and issued.folder is not None:
        page.note(f"Kept with it: {len(issued.file_names)} files in {issued.folder}, never overwritten. {_SEND}")
    if ledger:
        page.note(ledger)
    return page.text()


def promise_document(issued: Issued) -> dict[str, Any]:
    """The promise as plain data: results and `draws` as sent, `issued`, and `by_todays_rules` where these would give another (None: the same)."""
    differences = issued.differences()
    whole = {} if differences.problem else whole_document(issued.estimate)
    return {
        **({} if differences else whole),
        **issued.content["result"],
        **({} if not differences else {"draws": _draws(issued)}),
        "issued": issued_document(issued),
        "by_todays_rules": _differences_document(differences) if differences else None,
    }


def _draws(issued: Issued) -> list[dict[str, Any]] | None:
    """The payments as promised; None where an earlier version did not write them down and they can't be worked out."""
    try:
        draws = issued.draws.draws
    except KitError:
        return None
    return [
        {
            "number": number,
            "label": draw.label,
            "step": draw.step,
            "earned": money_text(draw.earned),
            "held": money_text(draw.held),
            "due": money_text(draw.due),
        }
        for number, draw in enumerate(draws, 1)
    ]


def _differences_document(differences: Differences) -> dict[str, Any]:
    amount = None if differences.amount is None else money_text(differences.amount)
    return {"amount": amount, "lines": plain(differences.lines), "problem": differences.problem or None}


def promise_report(issued: Issued, path: Path, parts: Collection[str] = ()) -> str:
    """The report of an issued estimate; where today's rules would give another, what was promised and the lines that differ."""
    differences = issued.differences()
    if not differences:
        return estimate_report(issued.estimate, path, issued=issued, parts=parts)
    page = Page()
    page.title(f"{issued.number}, revision {issued.revision}: {issued.customer}", f"issued {format_day(issued.issued)}; what was promised holds")
    page.note(f"Price {format_money(issued.price)}   direct cost {format_money(issued.cost)}   hours {issued.content['result']['hours']:.2f}")
    page.note(issued.lists_words)
    rows = [(str(draw["number"]), draw["label"], format_money(Decimal(draw["due"]))) for draw in _draws(issued) or []]
    page.table("Payments as promised", (">No.", "When", ">Amount"), rows)
    page.note(differences.words)
    lines = [(one.what, one.promised, one.today, one.reason) for one in differences.lines]
    page.table("What it would be by today's rules", ("What", ">Promised", ">Today", "Working today"), lines)
    if issued.file_names and issued.folder is not None:
        page.note(f"What was sent is kept in {issued.folder}. --out copies those files and makes no others.")
    else:
        page.note("It was issued before files were kept with it: what was sent exists on paper only, and is not made again.")
    return page.text()
