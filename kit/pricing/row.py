"""How a row of the build-up is defined before it has an amount."""

from decimal import Decimal

from kit.records import BuildUp, Op

__all__ = ["CENT", "NOTHING", "make_row"]

CENT = 2
NOTHING = ("0",)


def make_row(row_id: str, label: str, op: Op, args: tuple[str, ...], places: int | None = None) -> BuildUp:
    """A row whose amount is still 0."""
    return BuildUp(row_id, label, op, args, places, Decimal(0))
