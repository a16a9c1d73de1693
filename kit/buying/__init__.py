"""What is bought: packs, cut plans, suppliers, and how old their prices are."""

from kit.buying.buy import plan_purchases
from kit.buying.price_ages import check_price_ages, price_row_of

__all__ = ["check_price_ages", "plan_purchases", "price_row_of"]
