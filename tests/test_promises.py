"""The corpus of promises opens for ever: with the price, the payments and the files that were sent, whatever rules, lists and constants are by now."""

import gzip
import hashlib
import json
import re
import zipfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from paper_text import text_of

import kit
from kit.contract.contract_file import bill_contract, open_contract, sign_contract
from kit.contract.signing import offer_of, signature_of
from kit.errors import IssueError
from kit.estimating import Estimate
from kit.export.bill import bill_document
from kit.export.control import check_control
from kit.export.estimate_files import sent_files
from kit.export.posting_files import posting_files
from kit.export.proposal import proposal_bytes
from kit.issued import Issued, issue_estimate, kept_folder, open_issued, seals
from kit.lists.older import promised_texts
from kit.money import format_money, sum_money

FOLDERS = sorted(path for path in (Path(__file__).parent / "promises").iterdir() if path.is_dir())
NAMES = [folder.name for folder in FOLDERS]


def content_of(name: str) -> dict[str, Any]:
    """A promise's document, read without the kit."""
    folder = next(folder for folder in FOLDERS if folder.name == name)
    return json.loads(gzip.decompress((folder / f"{name}.json.gz").read_bytes()))


@pytest.fixture
def laid(tmp_path: Path) -> Any:
    """Lays a promise into a folder, with what was sent, and opens it."""

    def lay(name: str) -> Issued:
        folder = next(folder for folder in FOLDERS if folder.name == name)
        path = tmp_path / f"{name}.json"
        path.write_bytes(gzip.decompress((folder / f"{name}.json.gz").read_bytes()))
        if (folder / "sent.zip").exists():
            zipfile.ZipFile(folder / "sent.zip").extractall(kept_folder(path))
        return open_issued(path)

    return lay


def test_the_corpus_is_all_there() -> None:
    """Nine promises of the examples and five of jobs moved by chance in the first format, two in the second, three in the third, one in the fourth."""
    formats = [content_of(name)["format"] for name in NAMES]
    assert [formats.count(number) for number in (1, 2, 3, 4)] == [14, 2, 3, 1]
    assert sum(name.startswith("CORPUS") for name in NAMES) == 5


@pytest.mark.parametrize("name", ["DEMO-005-r01", "SECOND-001-r01", "THIRD-001-r01", "FOURTH-001-r01"])
def test_every_format_is_held_against_its_seal(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A price, a fingerprint of a file or what stands behind the seal changed by hand: refused. The same document with other blanks opens all the same.

    An earlier format is not written again where its file is the text that was sealed: that takes most of the time.
    """
    path, document = tmp_path / f"{name}.json", content_of(name)
    text = gzip.decompress((next(folder for folder in FOLDERS if folder.name == name) / f"{name}.json.gz").read_bytes())
    price = document["result"]["price"].encode()
    changed = [text.replace(price, b"1.00", 1), text.replace(document["sha256"].encode(), b"0" * 64), text[:-3] + b',\n  "more": 1\n}\n']
    changed += [text.replace(found.encode(), b"0" * 64, 1) for found in list(document.get("files", {}).values())[:1]]
    for wrong in changed:
        path.write_bytes(wrong)
        with pytest.raises(IssueError, match="was changed after it was issued"):
            open_issued(path)
    path.write_text(json.dumps(document), encoding="utf-8")
    assert open_issued(path).price == Decimal(document["result"]["price"])
    path.write_bytes(text)
    if document["format"] < 4:
        monkeypatch.setattr(seals, "seal", None)
    assert open_issued(path).sha256 == document["sha256"]


@pytest.mark.parametrize("name", NAMES)
def test_a_promise_is_as_it_was_issued(name: str) -> None:
    """The seal over everything but itself fits; the proposal that was sent names the job and states the price."""
    document = content_of(name)
    whole = {key: value for key, value in document.items() if key != "whole_sha256"}
    promise = {key: value for key, value in whole.items() if key not in {"sha256", "files"}}
    assert document["sha256"] == (seal_of(promise) if document["format"] < 4 else compact_seal_of(promise))
    assert f"{document['number']}-r{document['revision']:02d}" == name
    if document["format"] == 3:
        assert document["whole_sha256"] == seal_of({**promise, "sha256": document["sha256"], "files": document["files"]})
    if document["format"] == 4:
        assert document["whole_sha256"] == compact_seal_of({"sha256": document["sha256"], "files": document["files"]})
    if document["format"] == 1:
        proposal = (next(folder for folder in FOLDERS if folder.name == name) / "proposal.txt").read_text(encoding="utf-8")
        assert document["number"] in proposal
        assert f"{Decimal(document['result']['price']):,.2f}" in proposal


def seal_of(content: dict[str, Any]) -> str:
    return hashlib.sha256((json.dumps(content, indent=2, ensure_ascii=False) + "\n").encode()).hexdigest()


def compact_seal_of(content: dict[str, Any]) -> str:
    return hashlib.sha256(json.dumps(content, separators=(",", ":"), ensure_ascii=False).encode()).hexdigest()


@pytest.mark.parametrize("name", NAMES)
def test_a_promise_opens_with_what_was_sent(laid: Any, name: str) -> None:
    """Price and cost are the document's; what today's rules make of it is a difference, or a reason, and never a refusal."""
    issued, result = laid(name), content_of(name)["result"]
    assert (issued.price, issued.cost) == (Decimal(result["price"]), Decimal(result["cost"]))
    assert offer_of(issued).price == issued.price
    words = issued.differences().words
    assert words.startswith("By today's rules: ")
    if issued.differences().problem:
        assert "What was sent stays valid" in words
        assert words.endswith("issue it again from its job file.")


@pytest.mark.parametrize("name", [name for name in NAMES if name.startswith(("THIRD", "FOURTH"))])
def test_its_figures_are_those_of_the_document(laid: Any, name: str) -> None:
    """Payments sum to the price, planned costs to the direct cost; a signature takes them as they are."""
    issued, promise = laid(name), content_of(name)["promise"]
    figures, signed = issued.figures, signature_of(issued)
    assert sum_money([draw.due for draw in figures.payments.draws]) == sum_money([draw.due for draw in signed.draws]) == issued.price == signed.contract_sum
    assert sum_money(list(figures.cost_by_code.values())) == issued.cost
    assert [f"{draw.due}" for draw in signed.draws] == [draw["due"] for draw in promise["payments"]["draws"]]
    assert sum(figures.hours_by_step.values()) == pytest.approx(figures.hours)


def test_the_first_format_says_how_to_go_on(laid: Any) -> None:
    """Its payments stand on the paper that was sent; the document has none, and today's rules don't read its lists."""
    issued = laid("DEMO-006-r01")
    assert issued.price == Decimal("14195.07")
    wording = r"^DEMO-006-r01\.json can't be worked out today: .*What was sent stays valid.*issue it again from its job file\.$"
    with pytest.raises(IssueError, match=wording):
        _ = issued.draws
    with pytest.raises(IssueError, match=wording):
        _ = issued.estimate


def test_what_was_sent_comes_out_byte_for_byte(laid: Any) -> None:
    """Papers, workbook, rows and drawings are the kept files; the paper states the promised price."""
    issued = laid("THIRD-001-r01")
    sent = sent_files(issued, papers=True)
    packed = zipfile.ZipFile(next(folder for folder in FOLDERS if folder.name == "THIRD-001-r01") / "sent.zip")
    assert sent == {name: packed.read(name) for name in packed.namelist()}
    assert set(sent_files(issued)) == {name for name in sent if name.endswith((".xlsx", ".svg"))}
    text = text_of(sent["THIRD-001-r01-proposal.pdf"])
    assert f"{issued.price:,.2f}" in text


@pytest.mark.parametrize("name", [name for name in NAMES if name.startswith(("THIRD", "FOURTH"))])
def test_rows_that_were_sent_still_agree_with_their_control_totals(laid: Any, name: str) -> None:
    """Whatever their columns are called by now; the bookkeeper's screen shows it."""
    issued = laid(name)
    ending = {file.partition("-books")[2]: issued.file(file) for file in issued.file_names if "-books." in file}
    if ending:
        assert all(check.agrees for check in check_control(ending[".csv"], ending[".control.json"], issued))


def _more_is_bought(patched: pytest.MonkeyPatch) -> None:
    """A rule: the takeoff counts three times what is bought."""
    from kit.takeoff import takeoff

    def more(step: Any) -> Any:
        return lambda sheet: [replace(line, quantity=line.quantity * 3) if line.kind.value == "buy" else line for line in step(sheet)]

    patched.setattr(takeoff, "TRADE_STEPS", tuple(more(step) for step in takeoff.TRADE_STEPS))


def _dearer_shelf(patched: pytest.MonkeyPatch) -> None:
    """A list: it is read otherwise by then, with another wage and other rules of payment."""
    lists = kit.load_lists(kit.shipped("price_lists"))
    company = replace(lists.company, wage=Decimal("68.00"), change_falls="last-draw", pay_within_days=99)
    patched.setattr("kit.issued.opening._lists_as_promised", lambda *_: replace(lists, company=company))


def _coarser_hours(patched: pytest.MonkeyPatch) -> None:
    """A constant of the code: hours are rounded to a whole number."""
    patched.setattr("kit.labor.hours.HOURS_PLACES", 0)


@pytest.mark.parametrize("change", [_more_is_bought, _dearer_shelf, _coarser_hours])
@pytest.mark.parametrize("name", ["counter_stays_sink_only", "stone_apron_single_bowl", "wood_apron_two_bowl"])
def test_promises_stand_when_rules_lists_and_constants_change(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: Any, name: str) -> None:
    """Price, payments, signature and files stay to the cent and byte; the difference is told with its lines."""
    job = kit.read_job(kit.shipped("examples") / f"{name}.toml")
    made = kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))
    path = issue_estimate(made, tmp_path, make_files=lambda *_: {"proposal.pdf": b"as it was sent"}, today=job.identity.visit_date)
    before = open_issued(path)
    signed, sent = signature_of(before), before.files()
    assert (before.estimate.price, before.differences().words) == (made.price, "By today's rules: the same.")
    with monkeypatch.context() as patched:
        change(patched)
        after = open_issued(path)
        assert (after.price, after.cost, after.figures, signature_of(after), after.files()) == (made.price, made.cost, before.figures, signed, sent)
        differences = after.differences()
        assert differences.amount == after.estimate.price - made.price != 0
        assert differences.lines
        sign = "+" if differences.amount > 0 else ""
        assert differences.words == f"By today's rules: {sign}{format_money(differences.amount)}."


def test_a_kit_that_can_not_work_it_out_at_all_still_opens_it(laid: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever breaks in later code, the promise can be read, signed and sent again."""

    def broken(*_: object) -> Iterator[Estimate]:
        raise ValueError("no such rule")

    name = "THIRD-001-r01"
    before = laid(name)
    monkeypatch.setattr("kit.issued.opening.work_out", broken)
    after = open_issued(Path(f"{before.folder}.json"))
    assert signature_of(after).contract_sum == before.price
    assert sent_files(after, papers=True) == before.files()
    assert "can't be worked out today: its job or price lists have something this version can't read" in after.differences().problem
    contract = bill_contract(sign_contract(open_contract(Path(f"{before.folder}.json")), after.issued, None), after.issued, credit=None)
    paper = bill_document(contract.issued, contract.state, 1)
    assert (paper["due"], paper["summary"]) == (format_money(before.draws.draws[0].due), "The work as in the estimate that was signed.")
    assert posting_files(contract.issued, contract.ledger.events(before.number))


def amounts_of(content: bytes) -> Counter[str]:
    """Every amount of money on a paper, to the cent."""
    return Counter(re.findall(r"-?\$[0-9][0-9,]*\.[0-9]{2}", text_of(content)))


def test_papers_asked_for_again_are_the_papers_that_were_sent(laid: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Text and cents are those of the kept paper, whatever sentences and rules there are by now."""
    name = "THIRD-001-r01"
    issued = laid(name)
    packed = zipfile.ZipFile(next(folder for folder in FOLDERS if folder.name == name) / "sent.zip")
    with monkeypatch.context() as patched:  # nothing is set again where the kept file is there
        patched.setattr("kit.export.estimate_files.estimate_files", lambda *_, **__: pytest.fail("made again"))
        given = sent_files(issued, papers=True)
    for paper in ("proposal", "purchases", "crew"):
        assert text_of(given[f"{name}-{paper}.pdf"]) == text_of(packed.read(f"{name}-{paper}.pdf"))


@pytest.mark.parametrize("name", [name for name in NAMES if name.startswith(("SECOND", "THIRD", "FOURTH"))])
def test_papers_are_made_again_with_the_promised_cents_or_not_at_all(laid: Any, name: str) -> None:
    """While today's rules give the same price, a proposal made anew states it with every payment as promised; else none is made, and it says why."""
    issued = laid(name)
    assert signature_of(issued).contract_sum == issued.price
    if issued.differences().amount:
        issued.content["files"] = {}  # as if none had been kept
        with pytest.raises(IssueError, match="can't be made again as it was sent"):
            sent_files(issued)
        return
    found = amounts_of(proposal_bytes(issued.estimate, issued=issued))
    promised = Counter(format_money(draw.due) for draw in issued.draws.draws)
    assert found & promised == promised
    assert found[format_money(issued.price)] >= 1


def test_an_older_promise_gets_a_row_for_each_step_that_came_since(laid: Any) -> None:
    """Its own rows stay as they are; those of steps and waits that its job does not know are today's: it can be worked out, signed and changed."""
    issued = laid("SECOND-001-r01")
    texts = content_of("SECOND-001-r01")["lists"]["texts"]
    brought = promised_texts(texts)
    assert {"steps.csv", "lead_times.csv"} <= {file for file in texts if brought[file] != texts[file]}
    for file in ("steps.csv", "lead_times.csv"):
        assert brought[file].startswith(texts[file].rstrip())
    assert issued.differences().problem == ""
    assert sum_money([draw.due for draw in issued.draws.draws]) == issued.price
