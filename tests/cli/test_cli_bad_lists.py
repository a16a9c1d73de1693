"""Bad price lists and bad command lines: 2, one report, nothing written."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from changes import EXAMPLE, again, assert_refused, edit

BAD_LISTS: dict[str, tuple[Callable[[Path], object], str]] = {
    "missing file": (lambda folder: (folder / "rates.csv").unlink(), "rates.csv can't be read"),
    "missing column": (edit("items.csv", "^item,name", "item,title"), 'items.csv, row 1: Column "name" is missing'),
    "unknown column": (edit("items.csv", "^item,name", "item,title"), 'items.csv, row 1: Column "title" is not known'),
    "doubled row": (again("sinks.csv"), "sinks.csv, row [0-9]+: .* is there twice"),
    "doubled price": (again("prices.csv"), "prices.csv, row [0-9]+: .* is there 2 times"),
    "unknown unit": (edit("items.csv", r"^(lumber-2x4,[^,]*),ft", r"\1,furlong"), 'items.csv, row [0-9]+, unit: "furlong" is not one of'),
    "unit of a length": (edit("prices.csv", ",96 in,", ",96 furlongs,"), "prices.csv, row [0-9]+, stock_length: .*furlongs"),
    "bare length": (edit("prices.csv", ",96 in,", ",96,"), "prices.csv, row [0-9]+, stock_length: .*96.* has no unit"),
    "bare percent": (edit("items.csv", ",15 %,", ",0.15,"), 'items.csv, row [0-9]+, waste: "0.15" has no unit'),
    "bare money": (edit("company.csv", "^wage,34.00 USD", "wage,34.00"), 'company.csv, row [0-9]+, wage: "34.00" has no currency'),
    "negative price": (edit("prices.csv", ",5.10,", ",-5.10,"), 'prices.csv, row [0-9]+, price: "-5.10" is negative'),
    "price that is no number": (edit("prices.csv", ",5.10,", ",nan,"), 'prices.csv, row [0-9]+, price: "nan" is not a finite number'),
    "other currency": (edit("prices.csv", "5.10,USD", "5.10,EUR"), 'prices.csv, row [0-9]+, currency: "EUR" is not USD'),
    "price of no item": (edit("prices.csv", "^lumber-2x4,", "lumber-9x9,"), 'prices.csv, row [0-9]+, item: "lumber-9x9" is not in items.csv'),
    "unknown company key": (edit("company.csv", "^wage,", "wages,"), 'company.csv, row [0-9]+: "wages" is not a known key'),
    "not UTF-8": (lambda folder: (folder / "items.csv").write_bytes(b"item,name\nsink,\xff\n"), "items.csv, byte 16 is not UTF-8"),
    "empty": (lambda folder: (folder / "items.csv").write_bytes(b""), "items.csv is empty"),
    "header only": (edit("lifters.csv", r"(?s)\n.*", "\n"), "lifters.csv has a header but no rows"),
    "short row": (edit("lifters.csv", ",[^,\n]*$", ""), "lifters.csv, row [0-9]+ has [0-9]+ cells"),
}


@pytest.mark.parametrize("name", list(BAD_LISTS))
def test_bad_lists_end_with_2_and_one_report(run: Any, price_lists: Path, tmp_path: Path, name: str) -> None:
    """Each kind of bad list is refused with file, row and column, what was given and what is wanted."""
    change, wanted = BAD_LISTS[name]
    change(price_lists)
    out = tmp_path / "out"
    assert_refused(run("estimate", EXAMPLE, "--prices", price_lists, "--out", out), wanted, out)


def test_no_folder_of_lists_ends_with_2(run: Any, tmp_path: Path) -> None:
    """A folder that is not there."""
    ended = run("estimate", EXAMPLE, "--prices", tmp_path / "nowhere")
    assert (ended.code, ended.out) == (2, b"")
    assert "is not a folder of price lists" in ended.err


@pytest.mark.parametrize("words", [["estimate"], ["guess", EXAMPLE], ["estimate", EXAMPLE, "--cheap"], ["lab", "--port", "x"]])
def test_bad_command_line_ends_with_2(run: Any, words: list[object]) -> None:
    """A missing file, an unknown command or option."""
    ended = run(*words)
    assert (ended.code, ended.out) == (2, b"")
    assert "Usage:" in ended.err
