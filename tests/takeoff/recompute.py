"""Work out a line's basis again, by nothing but the rules written in kit/takeoff/working.py.

A second reading of that small language, apart from the code that writes it:

    sum      = product { (" + " | " - ") product }
    product  = part { (" x " | " / ") part }
    part     = ["round up"] "(" sum ")" | number words
    number   = ["-"] digits [ "." digits ] | digits "/" digits | digits " " digits "/" digits
    words    = nothing | words without a digit, of which none is a sign
"""

import math
import re
from fractions import Fraction

__all__ = ["BasisError", "recompute"]

SIGNS = {"+", "-", "x", "/"}
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_FRACTION = re.compile(r"\d+/\d+")


class BasisError(ValueError):
    """A basis that is no sentence of the language."""


def recompute(basis: str) -> float:
    """The quantity that a basis gives."""
    reader = _Reader(basis)
    found = reader.sum()
    if reader.peek() is not None:
        raise BasisError(f"{basis!r}: something is left over from {reader.peek()!r}.")
    return float(found)


class _Reader:
    def __init__(self, basis: str) -> None:
        self.basis = basis
        self.parts = re.sub(r"([()])", r" \1 ", basis).split()
        self.at = 0

    def peek(self) -> str | None:
        return self.parts[self.at] if self.at < len(self.parts) else None

    def take(self) -> str:
        part = self.peek()
        if part is None:
            raise BasisError(f"{self.basis!r}: ends too early.")
        self.at += 1
        return part

    def sum(self) -> float:
        found = self.product()
        while self.peek() in {"+", "-"}:
            sign = self.take()
            found = found + self.product() if sign == "+" else found - self.product()
        return found

    def product(self) -> float:
        found = self.part()
        while self.peek() in {"x", "/"}:
            sign = self.take()
            found = found * self.part() if sign == "x" else found / self.part()
        return found

    def part(self) -> float:
        if self.parts[self.at : self.at + 3] == ["round", "up", "("]:
            self.at += 2
            return float(math.ceil(round(self.bracket(), 6)))
        return self.bracket() if self.peek() == "(" else self.number()

    def bracket(self) -> float:
        self.take()
        found = self.sum()
        if self.take() != ")":
            raise BasisError(f"{self.basis!r}: a bracket is not closed.")
        return found

    def number(self) -> float:
        first = self.take()
        if _FRACTION.fullmatch(first):
            found = float(Fraction(first))
        elif _NUMBER.fullmatch(first):
            found = float(first)
            following = self.peek()
            if following is not None and _FRACTION.fullmatch(following):
                found += float(Fraction(self.take()))
        else:
            raise BasisError(f"{self.basis!r}: {first!r} stands where a number is wanted.")
        self.words()
        return found

    def words(self) -> None:
        while (part := self.peek()) is not None and part not in SIGNS | {"(", ")"}:
            if any(sign.isdigit() for sign in part):
                raise BasisError(f"{self.basis!r}: the word {part!r} holds a digit.")
            self.at += 1
