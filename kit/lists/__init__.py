"""Prices, rates, catalogue and company: the folder `price_lists/` as frozen rows."""

from kit.lists.burden import Burden, add_up_burden
from kit.lists.company import Company
from kit.lists.load import Lists, load_lists, parse_lists
from kit.lists.money_rows import BurdenPart, ChangeRule, DrawRow, PayTerm, StatePreset, TaxMode, TaxWhenBought, UnitPrice
from kit.lists.paper_rows import BookEntry, CostCode, SupplierRow, Wording
from kit.lists.rows import (
    Account,
    CounterKind,
    Factor,
    Hired,
    Item,
    LeadTime,
    Lifters,
    Mount,
    OrderRule,
    Price,
    Rate,
    SinkKind,
    SiteRiskRow,
    StepRow,
    TakeOut,
    Transition,
)

__all__ = [
    "Account",
    "BookEntry",
    "Burden",
    "BurdenPart",
    "ChangeRule",
    "Company",
    "CostCode",
    "CounterKind",
    "DrawRow",
    "Factor",
    "Hired",
    "Item",
    "LeadTime",
    "Lifters",
    "Lists",
    "Mount",
    "OrderRule",
    "PayTerm",
    "Price",
    "Rate",
    "SinkKind",
    "SiteRiskRow",
    "StatePreset",
    "StepRow",
    "SupplierRow",
    "TakeOut",
    "TaxMode",
    "TaxWhenBought",
    "Transition",
    "UnitPrice",
    "Wording",
    "add_up_burden",
    "load_lists",
    "parse_lists",
]
