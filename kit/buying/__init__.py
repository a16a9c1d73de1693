"""What is bought: packs, cut plans, suppliers."""

from kit.buying.buy import plan_purchases

__all__ = ["plan_purchases"]
