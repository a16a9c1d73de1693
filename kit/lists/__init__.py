"""Prices, rates, catalogue and company: the folder `price_lists/` as frozen rows."""

from kit.lists.company import Company
from kit.lists.load import Lists, load_lists, parse_lists
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
    "Company",
    "CostCode",
    "CounterKind",
    "Factor",
    "Hired",
    "Item",
    "LeadTime",
    "Lifters",
    "Lists",
    "Mount",
    "OrderRule",
    "Price",
    "Rate",
    "SinkKind",
    "SiteRiskRow",
    "StepRow",
    "SupplierRow",
    "TakeOut",
    "Transition",
    "Wording",
    "load_lists",
    "parse_lists",
]
