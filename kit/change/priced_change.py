"""Change orders: the new estimate less the old, line by line, at the markups agreed for adds and credits."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.change.agreed_finds import agreed_finds
from kit.errors import Fault, PriceError
from kit.estimating import Estimate
from kit.lists.burden import SHARE_PLACES
from kit.lists.money_rows import TaxMode
from kit.money import CHARGED_PLACES, EXACT, require_money, round_cents, sum_money, tax_on, times, to_charged, to_decimal
from kit.pricing.taxed import pays_tax, sells_with_tax
from kit.records import CostType, Kind, Purchase, Task

__all__ = ["KIND_WORDS", "ChangeOrder", "ChangeRow", "ChangedLine", "price_change"]

KIND_WORDS = {"add": "added", "credit": "credit", "find": "found", "tax": "sales tax"}
"""What a kind of row is called for people."""
_ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """One row of a change order; amounts are signed, what is taken away is below 0.

    `before` and `after` are quantities in `unit`. `cost` is what changes for us [USD], `markup` the agreed share on it (0 for agreed unit
    prices and tax), `amount` what the customer pays for it, to the cent.
    """

    id: str
    label: str
    kind: Literal["add", "credit", "find", "tax"]
    cost_type: CostType | None
    before: float
    after: float
    unit: str
    cost: Decimal
    markup: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class ChangedLine:
    """A line of the takeoff that came, went (quantity 0) or changed its quantity."""

    id: str
    kind: Kind
    before: float
    after: float
    unit: str


@dataclass(frozen=True, slots=True)
class ChangeOrder:
    """A change of one contract [USD]: its rows, and the contract sum before it. `hours` are the own worker-hours it adds (or saves)."""

    number: int
    rule: str
    rows: tuple[ChangeRow, ...]
    lines: tuple[ChangedLine, ...]
    hours: float
    contract_before: Decimal

    @property
    def amount(self) -> Decimal:
        """What the change adds to the contract sum, below 0 for a credit."""
        return sum_money([row.amount for row in self.rows])

    @property
    def cost(self) -> Decimal:
        """What the change costs us; agreed unit prices say nothing of their cost."""
        return sum_money([row.cost for row in self.rows])

    @property
    def contract_after(self) -> Decimal:
        """The contract sum with this change."""
        return EXACT.add(self.contract_before, self.amount)


def price_change(
    old: Estimate, new: Estimate, *, number: int = 1, contract: Decimal | str | None = None, rule: str | None = None, finds: Mapping[str, float] | None = None
) -> ChangeOrder:
    """The change order from one estimate of a job to another.

    Parameters
    ----------
    old, new
        The estimate that the contract stands for, and the one with the change. What is in both alike keeps its contract price even if
        lists have moved since; what is added is priced by the new one, what falls away by the old one. An item that is bought in other
        packs than before is the new purchase less the old one, each at its own price.
    number
        Counts the change orders of the contract.
    contract
        Contract sum before this change [USD]; the old estimate's price when left out, as for a first change.
    rule
        Rule of `change_rules.csv`; the company's own when left out.
    finds
        Quantity of each thing found, by its row of `unit_prices.csv`, charged at the price agreed in advance. Its work must not be in the
        new estimate too.

    Raises
    ------
    PriceError
        Other jobs, an unknown rule or find, a find below 0 or without an agreed price in the old estimate, a contract sum that is a float or no
        money, or a find whose work the new estimate holds as well.
    """
    _refuse(old, new, finds or {})
    name = rule or old.lists.company.change_rule
    rules = {kind: row for (rule_name, kind), row in old.lists.change_rules.items() if rule_name == name}
    if not rules:
        raise PriceError(
            Fault("change rule", f'"{name}" is not in change_rules.csv. Known: {", ".join(sorted({known for known, _ in old.lists.change_rules}))}.')
        )

    def marked_up(row: ChangeRow) -> ChangeRow:
        rule_row = rules[row.cost_type or CostType.OTHER]
        markup = to_decimal(rule_row.on_credits if row.cost.is_signed() else rule_row.on_adds, SHARE_PLACES)
        amount = round_cents(times(row.cost, EXACT.add(Decimal(1), markup)))
        return ChangeRow(row.id, row.label, row.kind, row.cost_type, row.before, row.after, row.unit, row.cost, markup, amount)

    bought = tuple(_bought(old, new))
    costs = [marked_up(row) for row in (*bought, *_task_rows(old, new), *_tax_paid(old, new, bought))]
    rows = [*costs, *_find_rows(old, finds or {})]
    rows += _tax_collected(old, new, bought, rows)
    hours = to_charged(new.hours - old.hours)
    before = old.price if contract is None else require_money(contract, "contract sum")
    return ChangeOrder(number, name, tuple(rows), tuple(_changed_lines(old, new)), float(hours), before)


def _refuse(old: Estimate, new: Estimate, finds: Mapping[str, float]) -> None:
    faults = []
    was, now = (one.job.identity.job_number for one in (old, new))
    if was != now:
        faults.append(Fault("change order", f'goes from job "{was}" to job "{now}": both must be one job.'))
    known = old.lists.unit_prices
    faults += [Fault(f'find "{name}"', f"is not in unit_prices.csv. Known: {', '.join(known)}.") for name in finds if name not in known]
    faults += [Fault(f'find "{name}"', f"{quantity:g} is below 0.") for name, quantity in finds.items() if quantity < 0]
    agreed = agreed_finds(old) if finds else {}
    faults += [
        Fault(
            f'find "{name}"',
            f"is not among the prices agreed in this contract: its work can't turn up, or is in the price already. Agreed: {', '.join(agreed) or 'none'}.",
        )
        for name in finds
        if name in known and name not in agreed
    ]
    more = {line.id.split("/")[1] for line in _changed_lines(old, new) if line.kind is Kind.DO and line.after > line.before}
    for name in finds:
        twice = sorted(more.intersection(known[name].covers)) if name in known else []
        if twice:
            faults.append(Fault(f'find "{name}"', f"is charged at its agreed price: take its work ({', '.join(twice)}) out of the new estimate."))
    if faults:
        raise PriceError(faults)


def _changed_lines(old: Estimate, new: Estimate) -> Iterator[ChangedLine]:
    before, after = ({line.id: line for line in one.lines} for one in (old, new))
    for name in dict.fromkeys((*before, *after)):
        line = after.get(name) or before[name]
        was, becomes = (lines[name].quantity if name in lines else 0.0 for lines in (before, after))
        if was != becomes:
            yield ChangedLine(name, line.kind, was, becomes, line.unit)


def _row(row_id: str, label: str, cost_type: CostType, before: float, after: float, unit: str, cost: Decimal) -> ChangeRow:
    return ChangeRow(row_id, label, "credit" if cost.is_signed() else "add", cost_type, before, after, unit, cost, Decimal(0), _ZERO)


def _bought(old: Estimate, new: Estimate) -> Iterator[ChangeRow]:
    """What is bought, hired or paid otherwise, item by item: other packs of the same item are one change."""
    before, after = (_by_item(one) for one in (old, new))
    for item in dict.fromkeys((*before, *after)):
        left, right = before.get(item, ()), after.get(item, ())
        cost = _purchase_change(left, right)
        if cost:
            row = (new if right else old).lists.item(item)
            before_need, after_need = (math.fsum(purchase.need for purchase in side) for side in (left, right))
            yield _row(f"buy:{item}", row.name, row.cost_type, before_need, after_need, row.unit, cost)


def _by_item(estimate: Estimate) -> dict[str, tuple[Purchase, ...]]:
    purchases_of: dict[str, tuple[Purchase, ...]] = {}
    for purchase in estimate.purchases:
        purchases_of[purchase.item] = (*purchases_of.get(purchase.item, ()), purchase)
    return purchases_of


def _purchase_change(left: Sequence[Purchase], right: Sequence[Purchase]) -> Decimal:
    """What changes in cost [USD]; a price that moved counts for what is added only."""
    if {(one.id, one.pack, one.charged) for one in left} == {(one.id, one.pack, one.charged) for one in right}:
        return _ZERO
    if [(one.id, one.pack) for one in left] == [(one.id, one.pack) for one in right] and len(left) == 1 and left[0].unit_price != right[0].unit_price:
        return _moved(left[0].charged, right[0].charged, left[0].unit_price, right[0].unit_price)
    return EXACT.subtract(sum_money([one.amount for one in right]), sum_money([one.amount for one in left]))


def _moved(before: float, after: float, old_price: Decimal, new_price: Decimal) -> Decimal:
    more = EXACT.subtract(to_decimal(after, CHARGED_PLACES), to_decimal(before, CHARGED_PLACES))
    return round_cents(times(old_price if more.is_signed() else new_price, more))


def _task_rows(old: Estimate, new: Estimate) -> Iterator[ChangeRow]:
    """Own labor, step by step."""
    before, after = ({task.step: task for task in one.tasks} for one in (old, new))
    for step in sorted({*before, *after}, key=lambda step: new.lists.steps[step].order):
        left, right = before.get(step), after.get(step)
        cost = _task_change(left, right)
        if cost:
            hours_before, hours_after = (0.0 if task is None else task.hours_likely for task in (left, right))
            yield _row(f"task:{step}", (new if right else old).step_names[step], CostType.LABOR, hours_before, hours_after, "h", cost)


def _task_change(left: Task | None, right: Task | None) -> Decimal:
    if left is not None and right is not None and left.rate != right.rate:
        return _moved(left.hours_likely, right.hours_likely, left.rate, right.rate)
    return EXACT.subtract(_ZERO if right is None else right.amount, _ZERO if left is None else left.amount)


def _taxed(rows: Sequence[ChangeRow], old: Estimate, new: Estimate, whose: Callable[[Purchase, TaxMode], bool], *, added: bool) -> list[Decimal]:
    """Costs that are added (or fall away) and on which the contract's terms see tax: ours, or the customer's."""
    goods = {purchase.item for one in (old, new) for purchase in one.purchases if whose(purchase, old.terms.tax_on)}
    return [row.cost for row in rows if row.id.removeprefix("buy:") in goods and row.cost.is_signed() is not added]


def _tax_paid(old: Estimate, new: Estimate, bought: Sequence[ChangeRow]) -> Iterator[ChangeRow]:
    """Tax that we pay on what is added, and save on what falls away."""
    terms = old.terms
    for added, label in ((True, "Sales tax paid on what is added"), (False, "Sales tax on what falls away")):
        tax = tax_on(_taxed(bought, old, new, pays_tax, added=added), terms.value("in:tax"), basis=terms.tax_rounding)
        if tax:
            yield _row(f"tax-paid/{'adds' if added else 'credits'}", label, CostType.MATERIAL, 0.0, 0.0, "", tax)


def _find_rows(old: Estimate, finds: Mapping[str, float]) -> Iterator[ChangeRow]:
    """What was found, at the price agreed in advance."""
    for name, quantity in finds.items():
        agreed = old.lists.unit_prices[name]
        amount = round_cents(times(agreed.price, quantity))
        if amount:
            yield ChangeRow(f"find:{name}", agreed.name, "find", None, 0.0, quantity, agreed.unit, _ZERO, Decimal(0), amount)


def _tax_collected(old: Estimate, new: Estimate, bought: Sequence[ChangeRow], rows: Sequence[ChangeRow]) -> Iterator[ChangeRow]:
    """Tax that the customer pays on the change, where the contract collects it."""
    terms = old.terms
    if terms.tax_on == "everything":
        stated = [row.amount for row in rows]
    elif terms.tax_on == "material-price":
        factor = EXACT.add(Decimal(1), terms.value("in:material-markup"))
        stated = [round_cents(times(cost, factor)) for added in (True, False) for cost in _taxed(bought, old, new, sells_with_tax, added=added)]
    else:
        return
    tax = tax_on(stated, terms.value("in:tax"), basis=terms.tax_rounding)
    if tax:
        yield ChangeRow("tax-collected", "Sales tax collected", "tax", None, 0.0, 0.0, "", _ZERO, Decimal(0), tax)
