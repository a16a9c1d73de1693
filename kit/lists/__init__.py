"""Prices, rates, catalogue and company: the folder `price_lists/` as frozen rows, which `goods_rows`, `work_rows`, `money_rows` and `company` declare."""

from kit.lists.load import Lists, load_lists, parse_lists

__all__ = ["Lists", "load_lists", "parse_lists"]
"""Prices, rates, catalogue and company: the folder `price_lists/` as frozen rows, which `goods_rows`, `work_rows`, `money_rows` and `company` declare."""
