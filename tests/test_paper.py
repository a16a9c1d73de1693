"""Two examples held line by line against sheets that were worked on paper (tests/paper/README.md says how)."""

import ast
import csv
import math
import operator
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

import kit
from kit import Estimate, read_job, shipped

PAPER = Path(__file__).parent / "paper"
EXAMPLES = sorted(folder.name for folder in PAPER.iterdir() if folder.is_dir())
SIGNS = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}


def sheet(example: str, part: str, key: str) -> dict[str, dict[str, str]]:
    """The rows of one part of a sheet by their id."""
    with (PAPER / example / f"{part}.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    found = {row[key]: row for row in rows}
    assert len(found) == len(rows) > 10
    return found


@cache
def worked_out(example: str) -> Estimate:
    """The kit's own estimate."""
    return kit.estimate(read_job(shipped("examples") / f"{example}.toml"), kit.load_lists(shipped("price_lists")))


def add_up(node: ast.AST) -> float:
    """A sum of the sheet: numbers, + - * /, brackets, pi and ceil."""
    match node:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.Name(id="pi"):
            return math.pi
        case ast.BinOp(left=left, op=sign, right=right):
            return SIGNS[type(sign)](add_up(left), add_up(right))
        case ast.Call(func=ast.Name(id="ceil"), args=[inside]):
            return float(math.ceil(round(add_up(inside), 6)))
    raise AssertionError(ast.dump(node))


def result(row: Mapping[str, str]) -> float:
    """What the sum of a row comes to."""
    return add_up(ast.parse(row["sum"], mode="eval").body)


@pytest.mark.parametrize("example", EXAMPLES)
def test_every_line_of_the_takeoff_is_the_sheets(example: str) -> None:
    """The same lines, each with the sheet's quantity and unit."""
    hand_lines = sheet(example, "lines", "id")
    lines = {line.id: line for line in worked_out(example).lines}
    assert lines.keys() == hand_lines.keys()
    for name, row in hand_lines.items():
        assert (name, lines[name].unit) == (name, row["unit"])
        assert lines[name].quantity == pytest.approx(float(row["quantity"]), abs=6e-5), name
        assert result(row) == pytest.approx(float(row["quantity"]), abs=6e-5), name


@pytest.mark.parametrize("example", EXAMPLES)
def test_every_purchase_is_the_sheets(example: str) -> None:
    """The same goods: need with waste, packs or what is charged, price and amount to the cent."""
    hand_purchases = sheet(example, "purchases", "id")
    purchases = {purchase.id: purchase for purchase in worked_out(example).purchases}
    assert purchases.keys() == hand_purchases.keys()
    for name, row in hand_purchases.items():
        purchase = purchases[name]
        assert purchase.need == pytest.approx(float(row["need"]), abs=6e-5), name
        assert result(row) == pytest.approx(float(row["need"]), abs=6e-5), name
        assert (name, purchase.charged, str(purchase.unit_price), str(purchase.amount)) == (name, float(row["packs"]), row["price"], row["amount"])


@pytest.mark.parametrize("example", EXAMPLES)
def test_every_hour_is_the_sheets(example: str) -> None:
    """The same steps: hours to four places, people, and what they cost to the cent."""
    hand_hours = sheet(example, "hours", "step")
    tasks = {str(task.step): task for task in worked_out(example).tasks}
    assert tasks.keys() == hand_hours.keys()
    for name, row in hand_hours.items():
        task = tasks[name]
        assert (name, task.hours_likely, str(task.crew), str(task.amount)) == (name, float(row["hours"]), row["crew"], row["amount"])
        assert result(row) == pytest.approx(float(row["hours"]), abs=6e-5), name


@pytest.mark.parametrize("example", EXAMPLES)
def test_every_row_of_the_price_is_the_sheets(example: str) -> None:
    """From the goods to the price, to the cent."""
    hand_rows = {name: Decimal(row["amount"]) for name, row in sheet(example, "build_up", "row").items()}
    assert {row.id: row.amount for row in worked_out(example).build_up} == hand_rows


@pytest.mark.parametrize("example", EXAMPLES)
def test_the_sheet_adds_up_by_itself(example: str) -> None:
    """What its last part starts from is what its others come to."""
    hand_rows = {name: Decimal(row["amount"]) for name, row in sheet(example, "build_up", "row").items()}
    bought = sum(Decimal(row["amount"]) for row in sheet(example, "purchases", "id").values())
    worked = sum(Decimal(row["amount"]) for row in sheet(example, "hours", "step").values())
    assert bought == sum(hand_rows.get(name, Decimal(0)) for name in ("material", "hired", "fees", "other"))
    assert (worked, bought + worked + hand_rows["tax-paid"]) == (hand_rows["labor"], hand_rows["cost"])
