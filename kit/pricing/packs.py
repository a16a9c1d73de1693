"""Are opened packs charged whole, or by the share that the job uses?"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from kit.money import CHARGED_PLACES, EXACT, round_cents, to_decimal
from kit.records import Purchase

__all__ = ["charge_packs"]


def charge_packs(purchases: Sequence[Purchase], charged: Literal["whole", "by-use"]) -> tuple[Purchase, ...]:
    """The purchases as the job is charged for them; packs, plans and suppliers stay.

    By use, a pack is charged in the share that the job uses, to four places; the rest is stock of the company's. Hired work and fees are
    charged as measured either way.
    """
    if charged == "whole":
        return tuple(purchases)
    return tuple(_by_use(purchase) if purchase.packs else purchase for purchase in purchases)


def _by_use(purchase: Purchase) -> Purchase:
    part = to_decimal(round(purchase.packs * purchase.used, 12), CHARGED_PLACES)
    return replace(purchase, charged=float(part), amount=round_cents(EXACT.multiply(purchase.unit_price, part)))
