"""Change orders: what a change costs, what it does to days and payments, and how the contract sum carries forward."""

from kit.change.effect import ChangedDays, ChangedDraw, change_days, change_draws
from kit.change.order import ChangedLine, ChangeOrder, ChangeRow, carry_forward, price_change

__all__ = ["ChangeOrder", "ChangeRow", "ChangedDays", "ChangedDraw", "ChangedLine", "carry_forward", "change_days", "change_draws", "price_change"]
