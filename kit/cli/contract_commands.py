"""What happens to a contract and stands in its ledger: changes, signature, bills, payments, costs, its end; how it stands, and what ended ones teach."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from kit.cli.answering import AsJson, Out, Prices, answer

if TYPE_CHECKING:
    from kit.contract.contract_file import ContractFile

__all__ = ["backup", "bill", "cancel", "change", "close", "jobs", "learn", "paid", "sign", "spent", "undo"]

Issued = Annotated[Path, typer.Argument(metavar="ISSUED", help="What was agreed: an issued estimate (JSON), or a job file for a draft.")]
NewJob = Annotated[Path, typer.Argument(metavar="NEWJOB", help="The job file with the change, or its issued estimate.")]
Finds = Annotated[
    list[str] | None,
    typer.Option("--find", metavar="NAME=QUANTITY", help="What turned up, by its name in unit_prices.csv, at the agreed price. Repeat for more."),
]
Rule = Annotated[str | None, typer.Option("--rule", metavar="NAME", help="Markup rule in change_rules.csv. Default: the company's.")]
Number = Annotated[int, typer.Option("--number", min=1, max=99, metavar="NUMBER", help="Number of the change order.")]
Contract = Annotated[str | None, typer.Option("--contract", metavar="MONEY", help="Contract sum before the change. Default: the price in ISSUED.")]
Paid = Annotated[list[str] | None, typer.Option("--paid", metavar="MONEY", help="What was paid so far, each payment in order. Default: the deposit.")]
Falls = Annotated[
    str | None,
    typer.Option(
        "--falls",
        metavar="NAME",
        help="Which payments it moves: by-shares (all that are left), last-draw (the last one) or own-draw (one of its own). Default: as agreed at signing.",
    ),
]
Why = Annotated[str | None, typer.Option("--reason", metavar="TEXT", help="Why there is a change, in your words, for the paper.")]
Day = Annotated[str | None, typer.Option("--day", metavar="DAY", help="Date of the paper, such as 2026-03-31. Default: today.")]
IssuedFile = Annotated[Path, typer.Argument(metavar="ISSUED", help="An issued estimate of the job (JSON), beside its ledger.")]
TaughtLists = Annotated[
    Path | None, typer.Option("--prices", metavar="FOLDER", help="Folder of price lists. Default: those in or beside FOLDER, else the kit's.")
]
EventDay = Annotated[str | None, typer.Option("--day", metavar="DAY", help="Day it happened, such as 2026-03-31. Default: today.")]

_SPENT_OPTIONS = {"cost_code": "--code", "cost_type": "--kind"}  # columns of the table that an option calls otherwise
_RECORDED = "It is in the ledger all the same: don't do it again. sinkset jobs ISSUED --out FOLDER writes all its papers and rows for the books."
_AGAIN = "Bill {number} is in the ledger all the same: don't make it again. sinkset bill ISSUED --again {number} --out FOLDER writes its paper."


def _require_out(out: Path | None, names: Mapping[str, object] | None = None) -> None:
    """Refuse a folder that can't take the files, before the ledger is written to."""
    if out is not None:
        from kit.cli.out_folder import require_free

        require_free(out, names or {})


def _show(contract: "ContractFile", *, as_json: bool, day: dt.date | None = None, notes: Sequence[str] | None = None, **files: Any) -> None:
    """Where the contract stands now, or stood on a day, with what is to be noted of what came in; `files` as in `answer`."""
    from kit.cli.contracts import contract_document, contract_report

    for sentence in notes or ():
        typer.echo(sentence, err=True)
    noted = {} if notes is None else {"notes": list(notes)}
    answer(lambda: {**contract_document(contract, day), **noted}, lambda: contract_report(contract, day), as_json=as_json, **files)


def _write_down(contract: "ContractFile", *, as_json: bool, out: Path | None) -> None:
    """Where the contract stands with the event that its ledger has just taken, and the rows for the books of it."""
    from kit.cli.contracts import event_files

    _show(contract, as_json=as_json, out=out, files=lambda _: event_files(contract), recorded=_RECORDED)


def _require_money(text: str, place: str) -> None:
    """Refuse what is no amount of money, by the name of its argument or option."""
    from kit.cli.job_source import collect_faults
    from kit.errors import Fault, KitError
    from kit.money import parse_money

    faults: list[Fault] = []
    with collect_faults(faults, place):
        parse_money(text)
    if faults:
        raise KitError(faults)


def change(
    issued: Issued,
    new_job: NewJob,
    *,
    find: Finds = None,
    rule: Rule = None,
    number: Number = 1,
    contract: Contract = None,
    paid: Paid = None,
    falls: Falls = None,
    reason: Why = None,
    day: Day = None,
    as_json: AsJson = False,
    offer: Annotated[bool, typer.Option("--offer", help="Number it and record it in the ledger, ready to sign.")] = False,
    despite: Annotated[str | None, typer.Option("--despite", metavar="TEXT", help="With --offer: why you make it despite a warning. Kept with it.")] = None,
    out: Out = None,
    prices: Prices = None,
) -> None:
    """Price a change of the contract, row by row. With --out, write the change order to sign and the rows for the books.

    Once the contract is signed, its ledger knows number, contract sum and payments.
    """
    from kit.cli.changing import change_document, change_files, change_report, order_change, read_request
    from kit.cli.contracts import change_contract
    from kit.cli.job_source import open_contract_and_change, stands_in
    from kit.contract.contract_file import open_contract
    from kit.export.change_files import change_stem, offer_change

    request = read_request(number=number, paid=paid or [], finds=find or [], rule=rule, contract=contract, day=day, reason=reason, falls=falls)
    source, new = open_contract_and_change(issued, new_job, prices)
    known = change_contract(source, new, request)
    if offer and known is None:
        raise typer.BadParameter("only the change of a signed contract can be offered: sinkset sign comes first.", param_hint="--offer")
    if despite is not None and not offer:
        raise typer.BadParameter("it goes with --offer: a change that is only priced needs no reason.", param_hint="--despite")
    if falls and known is None:
        raise typer.BadParameter("only the change of a signed contract says which payments it moves: sinkset sign comes first.", param_hint="--falls")
    old, changing = known or (source, order_change(source, new, request))
    if offer:
        _require_out(out, {f"{change_stem(changing)}.pdf": None})
        changing = offer_change(open_contract(issued), changing, despite=despite, fell_back=prices is None and stands_in(new))
        new = replace(new, issued=changing.new_issued)
    document, report = (lambda: change_document(changing, old, new)), (lambda: change_report(changing, old, new))
    answer(document, report, as_json=as_json, out=out, files=lambda _: change_files(changing))


def sign(
    issued: IssuedFile,
    *,
    change: Annotated[int | None, typer.Option("--change", min=1, metavar="NUMBER", help="The change order that was signed. Default: the estimate.")] = None,
    day: EventDay = None,
    as_json: AsJson = False,
) -> None:
    """Write down what the customer signed: the estimate, or with --change a change order. From then on sum and payments are fixed."""
    from kit.cli.contracts import read_day
    from kit.contract.contract_file import open_contract, sign_contract

    contract = sign_contract(open_contract(issued), read_day(day), change)
    _show(contract, as_json=as_json)


def bill(
    issued: IssuedFile,
    *,
    day: EventDay = None,
    credit: Annotated[str | None, typer.Option("--credit", metavar="TEXT", help="Write the credit note that is owed instead; say why.")] = None,
    again: Annotated[int | None, typer.Option("--again", min=1, metavar="NUMBER", help="With --out: only write an earlier bill's paper again.")] = None,
    remind: Annotated[bool, typer.Option("--remind", help="With --out: only write a reminder of overdue bills.")] = False,
    as_json: AsJson = False,
    out: Out = None,
) -> None:
    """Make the next bill or credit note of a signed contract. It is written down; with --out, write PDF and rows for the books too."""
    from kit.cli.contracts import bill_files, event_files, read_day, reminder_files
    from kit.contract.contract_file import bill_contract, open_contract
    from kit.export.event_papers import event_paper_name

    if sum((credit is not None, again is not None, remind)) > 1:
        raise typer.BadParameter("give only one of them.", param_hint="--credit, --again or --remind")
    if out is None and (again is not None or remind):
        raise typer.BadParameter("this only writes a paper: say with --out where it goes.", param_hint="--again" if again is not None else "--remind")
    contract = open_contract(issued)
    if again is not None:
        _show(contract, as_json=as_json, out=out, files=lambda _: bill_files(contract, again))
        return
    if remind:
        _show(contract, as_json=as_json, out=out, files=lambda _: reminder_files(contract, read_day(day)))
        return
    number = 1 + (len(contract.state.bills) if credit is None else len(contract.state.credits))
    _require_out(out, {event_paper_name(contract.issued, "billed" if credit is None else "credited", number): None})
    contract = bill_contract(contract, read_day(day), credit=credit)
    recorded = _AGAIN.format(number=number) if credit is None else _RECORDED
    _show(contract, as_json=as_json, out=out, files=lambda _: event_files(contract), recorded=recorded)


def paid(
    issued: IssuedFile,
    amount: Annotated[str, typer.Argument(metavar="MONEY", help='What came in, such as "919.70 USD".')],
    *,
    day: EventDay = None,
    how: Annotated[str, typer.Option("--how", metavar="TEXT", help='In your words, such as "check 1042".')] = "",
    back: Annotated[bool, typer.Option("--back", help="The money went back to the customer.")] = False,
    overpaid: Annotated[bool, typer.Option("--overpaid", help="Record it although it is more than is unpaid.")] = False,
    as_json: AsJson = False,
    out: Out = None,
) -> None:
    """Write down that the customer paid, or got money back. With --out, write rows for the books."""
    from kit.cli.contracts import read_day
    from kit.contract.contract_file import open_contract, record_payment

    _require_out(out)
    _require_money(amount, "MONEY")
    contract = record_payment(open_contract(issued), amount, read_day(day), how=how, back=back, overpaid=overpaid)
    _write_down(contract, as_json=as_json, out=out)


def spent(
    issued: IssuedFile,
    file: Annotated[Path | None, typer.Argument(metavar="FILE", help="What was spent: CSV or XLSX.")] = None,
    *,
    amount: Annotated[str | None, typer.Option("--amount", metavar="MONEY", help="One amount instead of a table. Below 0 for a credit.")] = None,
    day: EventDay = None,
    code: Annotated[str | None, typer.Option("--code", metavar="CODE", help="Its cost code.")] = None,
    kind: Annotated[str | None, typer.Option("--kind", metavar="KIND", help="labor, material, hired, fee or other.")] = None,
    text: Annotated[str | None, typer.Option("--text", metavar="TEXT", help="What it was for.")] = None,
    hours: Annotated[str | None, typer.Option("--hours", metavar="HOURS", help="Worker-hours, for labor: 6.5, 6 1/2, 6:30 or 6 h 30 min.")] = None,
    step: Annotated[str | None, typer.Option("--step", metavar="STEP", help="Step of the work, for labor.")] = None,
    supplier: Annotated[str | None, typer.Option("--supplier", metavar="NAME", help="Who is paid.")] = None,
    document: Annotated[str | None, typer.Option("--document", metavar="NUMBER", help="Number of the bill or time sheet.")] = None,
    tax: Annotated[str | None, typer.Option("--tax", metavar="AMOUNT", help="Sales tax in the amount.")] = None,
    order: Annotated[str | None, typer.Option("--order", metavar="NUMBER", help="Order number.")] = None,
    ordered: Annotated[bool, typer.Option("--ordered", help="Ordered only; nothing to pay yet.")] = False,
    call_back: Annotated[bool, typer.Option("--call-back", help="A call-back: work redone after the job was finished.")] = False,
    item: Annotated[str | None, typer.Option("--item", metavar="ITEM", help="Which item in items.csv it is.")] = None,
    quantity: Annotated[str | None, typer.Option("--quantity", metavar="NUMBER", help="How much of the item came in, in its unit.")] = None,
    left: Annotated[str | None, typer.Option("--left", metavar="NUMBER", help="How much of it was left over.")] = None,
    order_day: Annotated[str | None, typer.Option("--order-day", metavar="DAY", help="When it was ordered.")] = None,
    delivery_day: Annotated[str | None, typer.Option("--delivery-day", metavar="DAY", help="When it was delivered.")] = None,
    as_json: AsJson = False,
    out: Out = None,
) -> None:
    """Write down what was spent on a contract. A table or one amount; with --out, write rows for the books."""
    from kit.cli.contracts import books_files, read_day
    from kit.cli.spent_command import read_table
    from kit.contract.contract_file import open_contract
    from kit.contract.spending import one_spent, record_spending
    from kit.errors import KitError
    from kit.issued import office_day

    if (file is None) == (amount is None):
        raise typer.BadParameter("give a table or one amount, one of the two.", param_hint="FILE or --amount")
    if amount is not None and not (code and kind):
        raise typer.BadParameter("one amount needs its cost code and kind.", param_hint="--code and --kind")
    _require_out(out)
    contract = open_contract(issued)
    if file is not None:
        rows = read_table(contract, file)
    else:
        marks = {"ordered": "yes" if ordered else None, "call_back": "yes" if call_back else None, "supplier": supplier, "document": document}
        cells = {"cost_code": code, "cost_type": kind, "text": text or "", "hours": hours, "step": step, "tax": tax, "order": order, **marks}
        cells |= {"item": item, "quantity": quantity, "left": left, "order_day": order_day, "delivery_day": delivery_day}
        try:
            rows = one_spent(contract, str(amount), read_day(day), cells)
        except KitError as error:  # by the option in which it is typed
            raise KitError(replace(fault, place=_SPENT_OPTIONS.get(fault.place, f"--{fault.place.replace('_', '-')}")) for fault in error.faults) from None
    contract, notes = record_spending(contract, rows, office_day())
    _show(contract, as_json=as_json, notes=notes.sentences, out=out, files=lambda _: books_files(contract), recorded=_RECORDED)


def cancel(
    issued: IssuedFile,
    reason: Annotated[str, typer.Argument(metavar="TEXT", help="Why, such as whose decision it was.")],
    *,
    owed: Annotated[str, typer.Option("--owed", metavar="MONEY", help="All the customer owes for work done, billed or not. 0 USD for nothing.")],
    day: EventDay = None,
    as_json: AsJson = False,
    out: Out = None,
) -> None:
    """Write down that a signed contract was canceled. Its sum becomes what is owed for work done.

    If more than that is billed, write the credit note (sinkset bill --credit TEXT); if less, the last bill. Then close it. No lesson comes from a canceled job.
    With --out, write the paper for the customer and rows for the books. State law may say what you may keep and by when money goes back: confirm it.
    """
    from kit.cli.contracts import read_day
    from kit.contract.contract_file import cancel_contract, open_contract
    from kit.export.event_papers import event_paper_name

    contract = open_contract(issued)
    _require_out(out, {event_paper_name(contract.issued, "canceled"): None})
    _require_money(owed, "--owed")
    contract = cancel_contract(contract, owed, reason, read_day(day))
    _write_down(contract, as_json=as_json, out=out)


def close(
    issued: IssuedFile,
    reason: Annotated[str, typer.Argument(metavar="TEXT", help='How it ended, such as "done"; of a canceled one how it was settled.')],
    *,
    unpaid: Annotated[bool, typer.Option("--unpaid", help="Close it with money unpaid; TEXT says why. Kept with it.")] = False,
    day: EventDay = None,
    as_json: AsJson = False,
    out: Out = None,
) -> None:
    """Write down that a contract has ended. Nothing more is billed, what is left of the deposit is earned.

    With --out, write rows for the books and, where the customer has paid more than is billed, the paper that says so.
    """
    from kit.cli.contracts import read_day
    from kit.contract.contract_file import open_contract, record_end
    from kit.export.event_papers import event_paper_name, pays_back_at_end

    contract = open_contract(issued)
    _require_out(out, {event_paper_name(contract.issued, "closed"): None} if pays_back_at_end(contract.state) else {})
    contract = record_end(contract, reason, read_day(day), unpaid=unpaid)
    _write_down(contract, as_json=as_json, out=out)


def undo(
    issued: IssuedFile,
    event: Annotated[int, typer.Argument(metavar="ENTRY", min=1, help="Number of the entry, as sinkset jobs ISSUED lists it.")],
    reason: Annotated[str, typer.Argument(metavar="TEXT", help="Why it was wrong.")],
    *,
    day: EventDay = None,
    as_json: AsJson = False,
    out: Out = None,
) -> None:
    """Take back a mistake in the ledger of a contract. It stays there, with the reason, but no longer counts from that day on."""
    from kit.cli.contracts import read_day
    from kit.contract import contract_file

    _require_out(out)
    contract = contract_file.take_back(contract_file.open_contract(issued), event, reason, read_day(day))
    _write_down(contract, as_json=as_json, out=out)


def jobs(
    place: Annotated[Path, typer.Argument(metavar="FOLDER", help="A folder of jobs, or an issued estimate for its contract alone.")],
    *,
    as_of: Annotated[str | None, typer.Option("--as-of", metavar="DAY", help="As it was at the end of that day. Default: now.")] = None,
    as_json: AsJson = False,
    out: Out = None,
) -> None:
    """List the contracts of a folder, or show one in full.

    With --out, write the whole ledger of the folder as CSV tables with their description, or all papers and rows for the books of the one.
    """
    from kit.cli.contracts import books_files, jobs_document, jobs_report, read_day
    from kit.cli.out_folder import file_writers
    from kit.contract.contract_file import open_contract
    from kit.errors import Fault, KitError
    from kit.export.ledger_tables import ledger_files

    day = None if as_of is None else read_day(as_of, "--as-of")
    if not place.exists():
        raise KitError(Fault("", "is not there. Give a folder of jobs, or an issued estimate.", str(place)))
    if place.is_dir():
        answers = (lambda: jobs_document(place, day)), (lambda: jobs_report(place, day))
        answer(*answers, as_json=as_json, out=out, files=lambda _: file_writers(ledger_files(place, day)))
    else:
        contract = open_contract(place)
        _show(contract, as_json=as_json, day=day, out=out, files=lambda _: books_files(contract, day))


def backup(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A folder of jobs, with its ledger.")],
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The ZIP file to write. Never overwrites.")],
    *,
    as_json: AsJson = False,
) -> None:
    """Copy a folder of jobs into one file.

    It holds the ledger, the issued estimates with everything that was sent, and the job files; unpacked, it is the folder again.
    """
    from kit.contract.backup import back_up_folder

    count = back_up_folder(folder, file)
    answer(lambda: {"file": str(file), "files": count}, lambda: f"{count} files of {folder} are in {file}.\n", as_json=as_json)


def learn(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A folder of jobs, with its ledger.")],
    *,
    accept: Annotated[list[str] | None, typer.Option("--accept", metavar="ID", help="Take this lesson into new lists. Repeat for more.")] = None,
    refuse: Annotated[str | None, typer.Option("--refuse", metavar="ID", help="Refuse this lesson until more jobs have finished.")] = None,
    take_in: Annotated[str | None, typer.Option("--take-in", metavar="JOB", help="Count a job that was left out as an outlier.")] = None,
    why: Annotated[str, typer.Option("--why", metavar="TEXT", help="Why, with --refuse or --take-in.")] = "",
    by: Annotated[str, typer.Option("--by", metavar="NAME", help="Who decides. The lists will say so.")] = "",
    out: Annotated[Path | None, typer.Option("--out", metavar="FOLDER", help="Where to put the new folder of lists. Default: beside those in use.")] = None,
    valid_from: Annotated[str | None, typer.Option("--valid-from", metavar="DAY", help="Day in the new folder's name. Default: today.")] = None,
    day: Annotated[str | None, typer.Option("--as-of", metavar="DAY", help="As known at the end of that day. Default: today.")] = None,
    invent: Annotated[
        int | None, typer.Option("--invent", min=1, max=2000, metavar="JOBS", help="First write an invented history of that many jobs into FOLDER (new).")
    ] = None,
    everything: Annotated[bool, typer.Option("--all", help="Also print each cell that would change, and lessons still unclear.")] = False,
    as_json: AsJson = False,
    prices: TaughtLists = None,
) -> None:
    """Say what finished jobs teach about hours, waste and waits. Take it into a new dated folder of lists, or refuse it."""
    from kit.cli.contracts import read_day
    from kit.cli.learning import decide, learning_document, learning_report, open_learning
    from kit.learning.invented import write_invented_history

    if invent is not None:
        write_invented_history(folder, jobs=invent, seed=1)
    learning, home = open_learning(folder, prices, read_day(day, "--as-of"))
    learning, said = decide(
        learning, home, accept=accept or (), refuse=refuse, take_in=take_in, who=by, why=why, out=out, valid_from=read_day(valid_from, "--valid-from")
    )
    answer(lambda: learning_document(learning, said), lambda: learning_report(learning, said, everything=everything), as_json=as_json)
