"""The lists of burden, presets, change rules, unit prices, draws and pay terms, and the company's keys that name them."""

from collections.abc import Callable
from pathlib import Path

import pytest
from list_changes import add_row, change, copy_lists, faults_of

from kit import Lists, load_lists
from kit.records import CostType
from kit.steps import Step

Edit = Callable[[Path], object]


def edited(name: str, pattern: str, new: str) -> Edit:
    return lambda folder: change(folder, name, pattern, new)


def added(name: str, row: str) -> Edit:
    return lambda folder: add_row(folder, name, row)


FAULTS: dict[str, tuple[Edit, str]] = {
    "unknown way to count": (edited("burden.csv", "of-pay,,6.2 %", "of-luck,,6.2 %"), '"of-luck" is not one of: paid-hours, overtime-hours'),
    "share missing": (edited("burden.csv", "of-pay,,6.2 %", "of-pay,,"), 'burden.csv, row 8, share is empty; "of-pay" needs it.'),
    "hours without meaning": (edited("burden.csv", "of-pay,,6.2 %", "of-pay,9 h,6.2 %"), 'hours means nothing for "of-pay": leave it empty.'),
    "part twice": (added("burden.csv", "health,x,a-year,,,1,,USD,x"), '"health" is there twice.'),
    "unknown state": (edited("state_presets.csv", "^tx-lump-sum,(.*),tx,", r"tx-lump-sum,\1,moon,"), 'state: "moon" is not one of: ca, tx, ny.'),
    "unknown tax": (
        edited("state_presets.csv", "^ny-repair,(.*),ny,everything", r"ny-repair,\1,ny,luck"),
        '"luck" is not one of: material-cost, material-price, everything',
    ),
    "deposit beyond all": (edited("state_presets.csv", "^(ca-lump-sum,.*,ca,material-cost),10 %", r"\1,110 %"), 'deposit_share: "110 %" is more than 100 %.'),
    "markup beyond all": (edited("change_rules.csv", "^(markup-both-ways,labor),30 %", r"\1,130 %"), 'on_adds: "130 %" is more than 100 %.'),
    "rule with a hole": (edited("change_rules.csv", "^markup-both-ways,fee.*\n", ""), 'Rule "markup-both-ways" has no row for the cost type "fee".'),
    "find of no work": (edited("unit_prices.csv", ",cabinet-floor,one", ",moon-floor,one"), 'covers: "moon-floor" is not in rates.csv.'),
    "free find in another currency": (edited("unit_prices.csv", ",185.00,USD", ",185.00,EUR"), '"EUR" is not USD'),
    "draws out of order": (edited("draws.csv", "^(set,.*),80 %", r"\1,30 %"), "draws.csv, row 4 is out of order: steps and shares must rise."),
    "steps out of order": (edited("draws.csv", "progress,set-counter", "progress,protect"), "draws.csv, row 4 is out of order: steps and shares must rise."),
    "no deposit": (edited("draws.csv", "^deposit,.*\n", ""), "draws.csv, row 2, pays: The first row, and no other, is the deposit."),
    "hold in between": (edited("draws.csv", "progress,clean", "hold,clean"), "draws.csv, row 5, pays: The last row, and no other, pays what was held back."),
    "draw without step": (edited("draws.csv", "progress,template", "progress,"), "draws.csv, row 3, step is empty; only the deposit is paid at signing."),
    "not all earned": (edited("draws.csv", "hold,punch-list,100 %", "hold,punch-list,100.1 %"), 'earned: "100.1 %" is more than 100 %.'),
    "part earned": (
        lambda folder: (change(folder, "draws.csv", "progress,clean,100 %", "progress,clean,90 %"), change(folder, "draws.csv", "list,100 %", "list,95 %")),
        "draws.csv, row 6, earned must be 100 %: by then the whole contract is earned.",
    ),
    "paid ahead when": (edited("pay_terms.csv", "^(material,,100 %),order", r"\1,"), "deposit_step is empty; a deposit needs the step at which it is paid."),
    "paid twice": (added("pay_terms.csv", "hired,,0 %,,14,x"), 'pay_terms.csv, row 10: "hired" is there twice.'),
    "paid to nobody": (edited("pay_terms.csv", "Invented Lumber Yard", "Moon Yard"), 'supplier: "Moon Yard" is not in suppliers.csv.'),
    "kind of cost without terms": (edited("pay_terms.csv", "^fee,.*\n", ""), 'Cost type "fee" has no row without a supplier.'),
    "unknown preset": (
        edited("company.csv", "^state_preset,none", "state_preset,moon"),
        'state_preset: "moon" is not in state_presets.csv. Known: ca-lump',
    ),
    "unknown rule": (
        edited("company.csv", "^change_rule,markup-both-ways", "change_rule,moon"),
        'change_rule: "moon" is not in change_rules.csv.',
    ),
    "hold beyond all": (edited("company.csv", "^hold,10 %", "hold,110 %"), 'hold: "110 %" is more than 100 %.'),
    "unknown reading": (edited("company.csv", "^overhead_as,of-cost", "overhead_as,of-luck"), '"of-luck" is not one of: of-cost, of-price.'),
    "a year without work": (
        lambda folder: (change(folder, "company.csv", "^burden_from,share", "burden_from,parts"), change(folder, "burden.csv", "2080 h", "168 h")),
        "burden.csv: A year of 0 worked hours at a wage of 34.00 has no cost per hour",
    ),
}


@pytest.mark.parametrize("name", list(FAULTS))
def test_each_fault_is_said(tmp_path: Path, name: str) -> None:
    """With file, row and column, and in the words of the trade."""
    folder = copy_lists(tmp_path)
    edit, words = FAULTS[name]
    edit(folder)
    assert any(words in fault for fault in faults_of(folder)), faults_of(folder)


def test_the_lists_hold_what_the_rooms_need(lists: Lists) -> None:
    """Presets, rules, finds, draws and pay terms are there, and each points at something."""
    assert {rule for rule, _ in lists.change_rules} >= {lists.company.change_rule}
    assert [row.draw for row in lists.draws][:1] == ["deposit"]
    assert lists.draws[-1].step is Step.PUNCH_LIST
    assert {kind for kind, supplier in lists.pay_terms if supplier is None} == set(CostType)
    assert {"cabinet-floor", "cabinet-side", "stop-valve"} <= set(lists.unit_prices)
    assert all(find.price > 0 and find.covers for find in lists.unit_prices.values())


def test_a_company_of_a_state_takes_its_preset(tmp_path: Path) -> None:
    """The name of a row is enough."""
    folder = copy_lists(tmp_path)
    change(folder, "company.csv", "^state_preset,none", "state_preset,tx-separated")
    assert load_lists(folder).company.state_preset == "tx-separated"
