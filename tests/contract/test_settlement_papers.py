"""Credit notes and papers of canceled contracts over random lives, changes and sales tax among them: every table adds up."""

from decimal import Decimal

from contract_walks import issued_of, walk

from kit.contract.contract_file import written_state
from kit.contract.events import Canceled, Credited
from kit.contract.following import standing_events
from kit.export.settlement import settlement_document
from kit.money import format_money

LIVES = 60


def amount(words: str) -> Decimal:
    return Decimal(words.replace("$", "").replace(",", ""))


def test_every_table_of_a_settlement_adds_up_and_names_what_is_owed():
    seen = {"credited": 0, "canceled": 0, "changed": 0, "taxed": 0, "asked": 0, "late": 0, "credit": 0}
    for seed in range(LIVES):
        events, last = list(walk(seed))[-1]
        for event in standing_events(events):
            if not isinstance(event.what, Credited | Canceled):
                continue
            state = written_state(last.number, events, event.id)
            paper = settlement_document(issued_of(state), state, event.what, event.day)
            for table in paper["tables"]:
                total = table["total"]["what"], amount(table["total"]["amount"])
                hand_sum = sum(amount(row["amount"]) for row in table["rows"])
                assert total[1] == (-hand_sum if total[0] == "Paid beyond that" else hand_sum)
                assert total[1] >= 0
            hand_left = next((amount(table["total"]["amount"]) for table in paper["tables"] if table["total"]["what"] == "Left to pay"), Decimal(0))
            asked = [words for words in paper["next"] if "lease pay" in words]
            hand_days = [one.bill.pay_by for one in state.bills if one.open]
            assert bool(asked) is (hand_left > 0 and bool(hand_days))
            late = bool(asked) and max(hand_days) < event.day
            assert not asked or asked[0].startswith("What is left was due " if late else "Please pay what is left by ")  # no day that is past to pay by
            hand_open = {one.bill.number: one.open for one in state.bills if one.open}
            for number, unpaid in hand_open.items() if asked else ():
                assert f"bill {number} ({format_money(unpaid)})" in asked[0]
            whole = sum(hand_open.values())
            assert not asked or f"after the credit {format_money(hand_left)} of that is left" in asked[0] or whole <= hand_left
            assert not asked or ("and for the last bill" in asked[0]) is (whole < hand_left)
            seen["credit"] += bool(asked) and whole > hand_left
            seen["asked"] += len(asked)
            seen["late"] += late
            assert paper["amount"] == format_money(event.what.owed if isinstance(event.what, Canceled) else event.what.amount)
            seen[event.what.kind] += 1
            seen["changed"] += any(change.signed for change in state.changes)
            seen["taxed"] += event.what.tax != 0
    assert min(seen.values()) > 0, seen
