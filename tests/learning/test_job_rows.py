"""All jobs of a folder in one table: never signed, signed, finished, canceled; promised and real; as of a day; what can't be read is told."""

import datetime as dt
import gzip
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from work_history import finished_job

from kit.contract.bills import closing_of
from kit.contract.canceling import canceling_of
from kit.contract.events import Voided
from kit.contract.ledger import Ledger
from kit.contract.signing import offer_of
from kit.draw.jobs_on_hand import draw_jobs_on_hand
from kit.issued import open_issued
from kit.learning.job_rows import FolderJobs, list_jobs
from kit.units import format_day


def row_of(folder, number, day=None):
    return next(row for row in list_jobs(folder, day).rows if row.number == number)


def test_a_job_goes_from_offered_to_signed_to_finished(own):
    """As of the days between: price from the start, real margin and days only at the end; by hand from the events."""
    number = "INVENTED-001"
    events = Ledger(own).events(number)
    days = {event.what.kind: event.day for event in reversed(events)}
    offered, signed = (row_of(own, number, days[kind]) for kind in ("offered", "signed"))
    ended = row_of(own, number)
    assert (offered.stage, signed.stage, ended.stage) == ("offered", "signed", "finished")
    assert offered.price == signed.price == ended.price
    assert (offered.margin_real, signed.margin_real, offered.days, signed.days) == (None, None, None, 0)
    worked = [event.what for event in events if event.what.kind == "worked"]
    bought = [event.what for event in events if event.what.kind == "bought"]
    hand_cost = sum(one.amount for one in bought) + sum(one.wages + one.burden for one in worked)
    assert (ended.cost_real, ended.hours_real) == (hand_cost, pytest.approx(sum(one.hours for one in worked)))
    assert ended.margin_real == pytest.approx(float(1 - hand_cost / ended.revenue))
    assert ended.margin_promised == pytest.approx(float(1 - ended.cost_promised / ended.revenue))
    assert (ended.days, ended.mount, ended.counter_name) == ((days["closed"] - days["signed"]).days, "top", "Laminate countertop, which stays")
    assert ended.days_worked == len({event.day for event in events if event.what.kind == "worked"})


def test_the_table_of_jobs_says_where_each_stands_and_since_when(own):
    """Offered, under way and finished, as a person says it; the countertop before its mount."""
    number = "INVENTED-001"
    days = {event.what.kind: event.day for event in reversed(Ledger(own).events(number))}
    for kind, hand_state in (
        ("offered", f"offered, not signed; holds until {format_day(row_of(own, number).valid_until)}"),
        ("signed", f"signed {format_day(days['signed'])}"),
        ("closed", f"finished {format_day(days['closed'])}"),
    ):
        drawn = draw_jobs_on_hand(list_jobs(own, days[kind]))
        assert not re.search(r", [A-Z][a-z]{2} \d", drawn)  # no line ends between month and day
        said = drawn.replace("\N{NO-BREAK SPACE}", " ")
        assert f">{hand_state}</td>" in said
        row = row_of(own, number, days[kind])
        actual = f", {row.margin_real:.1%} actual" if kind == "closed" else ""
        assert f">{row.margin_promised:.1%} promised{actual}</td>" in said
        if kind == "closed":  # nothing is to come
            assert f">{row.hours_promised:.1f} promised, {row.hours_real:.1f} actual</td>" in said
        assert ">Laminate countertop, which stays, top mount</td>" in said


def test_days_that_had_passed_at_the_signature_are_told_as_offered_only(own):
    """Signed the day after the work was to start: that day is as offered; the day it was to be done, not passed yet, stands alone."""
    signed = {event.what.kind: event.day for event in reversed(Ledger(own).events("INVENTED-001"))}["signed"]
    jobs = list_jobs(own, signed)
    start = signed - dt.timedelta(days=1)
    rows = tuple(replace(row, starts_promised=start, done_promised=signed) for row in jobs.rows if row.number == "INVENTED-001")
    said = draw_jobs_on_hand(replace(jobs, rows=rows)).replace("\N{NO-BREAK SPACE}", " ")
    assert f">{format_day(start)}, as offered; signed later</td>" in said
    assert f">{format_day(signed)}</td>" in said


def test_an_open_job_counts_its_days_to_today(own, monkeypatch):
    """Where no day is asked for, the table is as of the office's own day, and so are the days since the signature."""
    number, ledger = "INVENTED-001", Ledger(own)
    days = {event.what.kind: event.day for event in reversed(ledger.events(number))}
    closed = [event for event in ledger.events(number) if event.what.kind == "closed"][-1]
    ledger.append(number, Voided(event=closed.id, reason="not done after all"), closed.day)
    monkeypatch.setattr("kit.learning.job_rows.office_day", lambda: days["signed"] + dt.timedelta(days=300))
    assert (row_of(own, number).days, row_of(own, number, closed.day).days) == (300, (closed.day - days["signed"]).days)


def test_a_canceled_contract_is_not_a_finished_job(own):
    """It was canceled by an event of its own, whatever the reason of its end; in a ledger of an earlier version the reason says it."""
    number = "INVENTED-002"
    ledger = Ledger(own)
    last = ledger.events(number)[-1].day
    reworded = closing_of(ledger.state(number), "canceled by the customer")
    for what, stage in ((reworded, "finished"), (reworded.model_copy(update={"after_canceling": None}), "canceled")):
        closed = [event.id for event in ledger.events(number) if event.what.kind == "closed"][-1]
        ledger.append_all(number, [(Voided(event=closed, reason="reworded"), last), (what, last)])
        assert row_of(own, number).stage == stage
    closed = ledger.events(number)[-1].id
    ledger.append(number, Voided(event=closed, reason="canceled instead"), last)
    ledger.append(number, canceling_of(ledger.state(number), Decimal("0.00"), "the customer moved"), last)
    row = row_of(own, number)
    assert (row.stage, row.price, row.margin_real, row.margin_promised) == ("canceled", Decimal("0.00"), None, None)
    assert row_of(own, number, last + dt.timedelta(days=90)).days == (last - row.signed).days  # they don't count on
    drawn = draw_jobs_on_hand(FolderJobs((row,), ()))
    assert (" promised" in drawn, drawn.count(">-</td>")) == (False, 3)  # margin and both days
    assert finished_job(1).margin_real is None  # nobody wrote down what was spent
    assert list_jobs(own, dt.date(2020, 1, 1)).rows == ()


def test_promised_days_stand_beside_real_ones(own):
    """Those of the papers, and of the time sheets: visit, office and a call-back are no work in the house; an open job is not done."""
    number = "INVENTED-001"
    ledger = Ledger(own)
    issued = open_issued(own / f"{number}-r01.json")
    worked = [event for event in ledger.events(number) if event.what.kind == "worked"]
    hand_days = sorted(event.day for event in worked if event.what.step not in {"visit", "order", "rest-blank", "coat-blank"})
    row = row_of(own, number)
    assert (row.started, row.done) == (hand_days[0], hand_days[-1])
    assert (row.starts_promised, row.done_promised) == (issued.figures.starts_on, issued.figures.done_by)
    assert row.starts_promised <= row.done_promised
    (signed,) = (event.day for event in ledger.events(number) if event.what.kind == "signed")
    nameless = worked[0].what.model_copy(update={"step": None})
    ledger.append(number, nameless, signed - dt.timedelta(days=1))  # the visit, on a time sheet without steps
    assert row_of(own, number).started == hand_days[0]
    ledger.append(number, nameless, signed)  # orders and papers have the code of the visit: no start
    assert row_of(own, number).started == hand_days[0]
    ledger.append(number, nameless.model_copy(update={"cost_code": "210"}), signed)
    assert row_of(own, number).started == signed
    call_back = worked[-1].what.model_copy(update={"call_back": True})
    ledger.append(number, call_back, ledger.events(number)[-1].day)
    assert row_of(own, number).done == row.done
    assert row_of(own, number, row.done).done is None


def test_a_promise_that_can_not_be_opened_is_told_and_the_others_are_there(own):
    """Damaged, with its name; the table has the other nine."""
    (own / "INVENTED-003-r01.json").write_text("{}", encoding="utf-8")
    found = list_jobs(own)
    assert len(found.rows) == 9
    assert found.unreadable == (
        "INVENTED-003 is left out: INVENTED-003-r01.json is not an issued estimate. If it should be one, it is damaged: restore it from a backup.",
    )
    assert all(isinstance(row.price, Decimal) for row in found.rows)


def test_what_teaches_is_held_against_its_fingerprint(own):
    """A promise whose hours were changed by hand teaches nothing; a table that only shows many jobs may pass it."""
    path = own / "INVENTED-003-r01.json"
    path.write_text(path.read_text(encoding="utf-8").replace('"hours": ', '"hours": 1', 1), encoding="utf-8")
    (sentence,) = list_jobs(own).unreadable
    assert "was changed after it was issued" in sentence
    assert len(list_jobs(own, checked=False).rows) == 10


@pytest.mark.parametrize("name", ["DEMO-002-r01", "SECOND-001-r01", "THIRD-001-r01"])
def test_promises_of_every_format_stand_in_the_table(tmp_path, name):
    """With the price in the document, and a plan that later jobs can be held against."""
    kept = Path(__file__).parents[1] / "promises" / name / f"{name}.json.gz"
    (tmp_path / f"{name}.json").write_bytes(gzip.decompress(kept.read_bytes()))
    issued = open_issued(tmp_path / f"{name}.json")
    Ledger(tmp_path).append(issued.number, offer_of(issued), issued.issued)
    (row,) = list_jobs(tmp_path).rows
    assert (row.stage, row.price, row.number) == ("offered", issued.price, issued.number)
    assert row.hours_promised == pytest.approx(sum(step.hours for step in row.plan.steps.values()), abs=0.01)
    assert {line["item"] for line in issued.content["result"]["lines"] if line["kind"] == "buy"} == set(row.plan.items)
