"""What must hold of the workbook and the rows of any job, shared by the tests of random jobs and the bench of more."""

import io
import json
import random
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import pandas as pd
from frictionless import Package
from input_cells import InputCell, input_cells

import kit
from kit.errors import PriceError
from kit.export.handoff import control_totals, handoff_files
from kit.export.handoff_rows import handoff_rows
from kit.export.papers import payments_of
from kit.export.workbook import place_figures
from kit.money import EXACT, round_cents, sum_money
from kit.pricing.draws import plan_draws

__all__ = ["CHANGES", "change_inputs", "faults_of_rows", "faults_of_workbook", "request_of", "revalued"]

CHANGES = 3  # for each workbook: twice half of the inputs at once, then what no price survives in many readings
_HARSH = (
    {"in:overhead": Decimal("0.6"), "in:profit": Decimal("0.6")},
    {"in:overhead": Decimal(0), "in:profit": Decimal(0), "in:material-markup": Decimal(1), "in:least": Decimal(0)},
)
_NOISE = Decimal("0.000000001")  # floats hold ten thousand dollars some hundred times finer
_TOTALS = ("all:buy", "all:task", "all:hours")

Change = Sequence[tuple[InputCell, Decimal | float]]


def _changed(found: kit.Estimate, cell: InputCell, chance: random.Random) -> Decimal | float:
    """Another value that a person might type: money in cents, a share in hundredths of a percent."""
    if cell.kind == "rates":
        return round(float(cell.value) * chance.uniform(0.4, 2.5), 3)
    if cell.kind == "terms" and cell.name.startswith("in:") and found.terms.input(cell.name).kind == "share":
        return Decimal(chance.randint(0, 4500)).scaleb(-4)
    return round_cents(EXACT.multiply(Decimal(cell.value), Decimal(chance.randint(30, 190)).scaleb(-2)))


def change_inputs(found: kit.Estimate, seed: int) -> list[Change]:
    """Changes of half of the inputs at once, then harsh terms with dear goods; the same seed gives the same ones."""
    chance, cells = random.Random(seed), input_cells(found)
    starts = [chance.randrange(len(cells)) for _ in range(CHANGES - 1)]
    halves = [[(cell, _changed(found, cell, chance)) for cell in (cells[start:] + cells[:start])[: len(cells) // 2]] for start in starts]
    dear = [(cell, EXACT.multiply(Decimal(cell.value), Decimal(20))) for cell in cells if cell.kind == "prices"]
    harsh = _HARSH[seed // 2 % len(_HARSH)]
    return [*halves, [*dear, *((cell, harsh[cell.name]) for cell in cells if cell.name in harsh)]]


def revalued(found: kit.Estimate, change: Change) -> kit.Estimate:
    """What the kit makes of changed inputs."""
    new: dict[str, dict[str, Any]] = {"prices": {}, "rates": {}, "terms": {}}
    for cell, value in change:
        new[cell.kind][cell.name] = value
    return kit.revalue(found, **new)


def _watched(found: kit.Estimate) -> list[str]:
    return [*(f"row:{row.id}" for row in found.build_up), *_TOTALS, *(f"due:{draw.id}" for draw in plan_draws(found, keep_empty=True).draws), "all:due"]


def _figures(found: kit.Estimate) -> list[Decimal]:
    """What the watched cells must show."""
    bought, worked = (sum_money([one.amount for one in some]) for some in (found.purchases, found.tasks))
    due = [draw.due for draw in plan_draws(found, keep_empty=True).draws]
    return [*(row.amount for row in found.build_up), bought, worked, Decimal(repr(found.hours)), *due, found.price]


def request_of(found: kit.Estimate, path: Path, changes: Sequence[Change]) -> dict[str, Any]:
    """What to ask of the office about a written workbook: every row of the build-up, the totals and the payments, as written and after each change."""
    places = place_figures(found)
    asked = [[[cell.sheet, cell.cell, float(value)] for cell, value in change] for change in changes]
    return {"path": str(path), "watch": [[places[key].sheet, places[key].cell] for key in _watched(found)], "read": [], "changes": asked}


def faults_of_workbook(found: kit.Estimate, changes: Sequence[Change], answer: dict[str, Any]) -> list[str]:
    """What the office gives otherwise than the kit, in words; none for a sound workbook."""
    faults = [f"asked: {asked}" for asked in answer["asked"]] + [f"{kind}: {name}" for kind in ("links", "macros") for name in answer[kind]]
    faults += [f"{sheet}!{cell} holds an error" for sheet, cell, *_, error in answer["formulas"] if error]
    faults += _differences("as written", found, answer["restored"])
    broken = {number for number, _ in answer["faults"]}
    for number, (change, values) in enumerate(zip(changes, answer["watched"], strict=True)):
        try:
            wanted = revalued(found, change)
        except PriceError as error:
            faults += [] if number in broken else [f"change {number}: the kit refuses it ({error}), the sheet shows a price"]
            continue
        faults += [f"change {number}: an error"] if number in broken else _differences(f"change {number}", wanted, values)
    return faults


def _differences(when: str, wanted: kit.Estimate, values: Sequence[float]) -> list[str]:
    pairs = zip(_watched(wanted), _figures(wanted), values, strict=True)
    return [f"{when}: {name} is {value}, not {figure}" for name, figure, value in pairs if abs(Decimal(repr(value)) - figure) > _NOISE]


def faults_of_rows(found: kit.Estimate, folder: Path) -> list[str]:
    """What rows, payments and totals come to otherwise than the estimate, read back by pandas and by the standard's own library."""
    rows, files = handoff_rows(found), handoff_files(found, "rows")
    for name, content in files.items():
        (folder / name).write_bytes(content)
    told, totals = json.loads(files["rows.control.json"]), (found.cost, found.price)
    faults = [] if {**control_totals(rows), "file_sha256": told["file_sha256"]} == told else ["the control totals are of other rows"]
    faults += [] if sum_money([payment.amount for payment in payments_of(found)]) == found.price else ["the payments don't sum to the price"]
    table = pd.read_csv(io.BytesIO(files["rows.csv"]), keep_default_na=False)
    package = Package(str(folder / "rows.datapackage.json"))
    report = package.validate()
    faults += [] if report.valid else [str(report.flatten(["rowNumber", "fieldName", "type", "note"])[:3])]
    read = package.get_resource("rows").read_rows()
    sums = {
        "control totals": (told["count"], Decimal(told["sum_cost"]), Decimal(told["sum_sell"])),
        "pandas": (len(table), *(round_cents(Decimal(repr(float(table[column].sum())))) for column in ("cost", "sell"))),
        "the reference library": (len(read), *(sum((row[column] for row in read), Decimal(0)) for column in ("cost", "sell"))),
    }
    return faults + [f"{reader}: {found_sums}, not {(len(rows), *totals)}" for reader, found_sums in sums.items() if found_sums != (len(rows), *totals)]
