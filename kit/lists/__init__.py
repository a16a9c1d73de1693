"""Prices, rates, catalogue and company: the folder `price_lists/` as frozen rows."""

from kit.lists.company import Company
from kit.lists.load import Lists, load_lists, parse_lists
from kit.lists.rows import Account, CounterKind, Factor, Item, Lifters, Mount, Price, Rate, SinkKind, StepRow, TakeOut, Transition

__all__ = [
    "Account",
    "Company",
    "CounterKind",
    "Factor",
    "Item",
    "Lifters",
    "Lists",
    "Mount",
    "Price",
    "Rate",
    "SinkKind",
    "StepRow",
    "TakeOut",
    "Transition",
    "load_lists",
    "parse_lists",
]
