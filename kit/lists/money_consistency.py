"""Do the lists of burden, presets, change orders, draws and payments agree with themselves, the company and each other?"""

import re
from itertools import pairwise

from kit.errors import Fault, KitError
from kit.lists.burden import add_up_burden
from kit.lists.company import Company
from kit.lists.consistency import Rows
from kit.lists.money_rows import NO_PRESET, BurdenPart
from kit.records import CostType
from kit.tables import Row

__all__ = ["check_company_money", "check_money"]

_WANTS = {
    "paid-hours": {"hours"},
    "overtime-hours": {"hours", "share"},
    "hours-off": {"hours"},
    "pay-added": {"amount"},
    "of-pay": {"share"},
    "of-plain-pay": {"share"},
    "a-year": {"amount"},
    "a-worked-hour": {"amount"},
}
_MAY = {"of-pay": {"up_to"}, "of-plain-pay": {"up_to"}}


def check_money(rows: Rows, faults: list[Fault]) -> None:
    """Cells that a row needs are there, draws rise to the whole contract, every kind of cost has its row."""
    for row, part in rows["burden.csv"]:
        _check_part(row, part, faults)
    _check_rules(rows, faults)
    _check_draws(rows, faults)
    _check_pay_terms(rows, faults)


def check_company_money(company: Company, rows: Rows, faults: list[Fault]) -> None:
    """What the company file names is in the lists, and its burden can be worked out."""
    presets = {NO_PRESET} | {preset.preset for _, preset in rows["state_presets.csv"]}
    if company.state_preset not in presets:
        faults.append(Fault("state_preset", f'"{company.state_preset}" is not in state_presets.csv. Known: {", ".join(sorted(presets))}.', "company.csv"))
    rules = {rule.rule for _, rule in rows["change_rules.csv"]}
    if company.change_rule not in rules:
        faults.append(Fault("change_rule", f'"{company.change_rule}" is not in change_rules.csv. Known: {", ".join(sorted(rules))}.', "company.csv"))
    if company.burden_from == "parts":
        try:
            add_up_burden(company.wage, tuple(part for _, part in rows["burden.csv"]))
        except KitError as error:
            faults.append(Fault("", error.faults[0].message, "burden.csv"))


def _check_part(row: Row, part: BurdenPart, faults: list[Fault]) -> None:
    if not re.fullmatch(r"[a-z0-9-]+", part.part):
        faults.append(Fault(f"row {row.number}, part", f'"{part.part}" must be of small letters, digits and "-".', "burden.csv"))
    required, may = _WANTS[part.counted_as], _MAY.get(part.counted_as, set())
    for column in ("hours", "share", "amount", "up_to"):
        filled = getattr(part, column) is not None
        if column in required and not filled:
            faults.append(Fault(f"row {row.number}, {column}", f'is empty; "{part.counted_as}" needs it.', "burden.csv"))
        elif filled and column not in required | may:
            faults.append(Fault(f"row {row.number}, {column}", f'means nothing for "{part.counted_as}": leave it empty.', "burden.csv"))


def _check_rules(rows: Rows, faults: list[Fault]) -> None:
    kinds_of: dict[str, set[CostType]] = {}
    for _, rule in rows["change_rules.csv"]:
        kinds_of.setdefault(rule.rule, set()).add(rule.cost_type)
    faults.extend(
        Fault("", f'Rule "{name}" has no row for the cost type "{kind}".', "change_rules.csv")
        for name, kinds in kinds_of.items()
        for kind in CostType
        if kind not in kinds
    )


def _check_draws(rows: Rows, faults: list[Fault]) -> None:
    draws = rows["draws.csv"]
    order = {step.step: step.order for _, step in rows["steps.csv"]}
    for (_, before), (row, after) in pairwise(draws):
        early = after.step is None or (before.step is not None and order.get(after.step, 0) < order.get(before.step, 0))
        if after.earned < before.earned or early:
            faults.append(Fault(f"row {row.number}", "is out of order: steps and shares must rise.", "draws.csv"))
    for row, draw in draws:
        if (draw.pays == "deposit") != (row is draws[0][0]):
            faults.append(Fault(f"row {row.number}, pays", "The first row, and no other, is the deposit.", "draws.csv"))
        if (draw.pays == "hold") != (row is draws[-1][0]):
            faults.append(Fault(f"row {row.number}, pays", "The last row, and no other, pays what was held back.", "draws.csv"))
        if draw.pays != "deposit" and draw.step is None:
            faults.append(Fault(f"row {row.number}, step", "is empty; only the deposit is paid at signing.", "draws.csv"))
    if draws and draws[-1][1].earned != 1:
        faults.append(Fault(f"row {draws[-1][0].number}, earned", "must be 100 %: by then the whole contract is earned.", "draws.csv"))


def _check_pay_terms(rows: Rows, faults: list[Fault]) -> None:
    terms = rows["pay_terms.csv"]
    for row, term in terms:
        if term.deposit and term.deposit_step is None:
            faults.append(Fault(f"row {row.number}, deposit_step", "is empty; a deposit needs the step at which it is paid.", "pay_terms.csv"))
    if terms:
        general = {term.cost_type for _, term in terms if term.supplier is None}
        faults.extend(Fault("", f'Cost type "{kind}" has no row without a supplier.', "pay_terms.csv") for kind in CostType if kind not in general)
