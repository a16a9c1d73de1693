"""The new splash of the counter's material: whose it is and how long."""

from collections.abc import Sequence

from kit.records import Piece
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, n, total

__all__ = ["pieces_length", "splash_is_ours"]


def splash_is_ours(sheet: Sheet) -> bool:
    """Whether a splash comes with the counter and we answer for it: made by us or by a fabricator whom we pay."""
    scope = sheet.job.scope.splash
    return bool(sheet.design.top.splash) and scope.renewed and scope.installed_by != "customer"


def pieces_length(pieces: Sequence[Piece]) -> Amount:
    """Length of all pieces [in]."""
    return total([n(piece.length_in, "in") if piece.count == 1 else n(piece.count, "pieces") * n(piece.length_in, "in") for piece in pieces])
