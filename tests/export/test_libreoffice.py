"""LibreOffice recalculates every workbook and gives what the kit gives, whichever input is changed."""

import random
from decimal import Decimal

import export_demo as demo
import export_office as office
import openpyxl
import pytest
from input_cells import InputCell, input_cells

import kit
from kit.export.workbook import place_figures
from kit.money import round_cents

WATCHED = ("price", "cost")
# other terms than those of the examples and most examples are in the long run; the random jobs have them in every run
NAMES = [*demo.SOME, *(pytest.param(name, marks=pytest.mark.long) for name in demo.VARIANTS)]
SEED = 20260302
TOGETHER = 6  # changes of many inputs at once, for each workbook


def changed_value(cell: InputCell, chance: random.Random) -> Decimal | float:
    """Another value that a person might type."""
    if cell.kind == "rates":
        return round(float(cell.value) * chance.uniform(1.5, 3.0) + 0.01, chance.choice((2, 3, 4)))
    if cell.name == "in:least":
        return Decimal(chance.randint(20_000_00, 90_000_00)).scaleb(-2)
    if cell.kind == "terms" and cell.value < 1:
        value = Decimal(chance.randint(1, 60)).scaleb(-2) + Decimal(chance.choice((0, 5, 25))).scaleb(-4)
        return value + Decimal("0.01") if value == cell.value else value
    return Decimal(chance.randint(1, 90_000)).scaleb(-2) + round_cents(Decimal(cell.value))


def changes_of(estimate: kit.Estimate) -> list[list[tuple[InputCell, Decimal | float]]]:
    """Each input in turn; prices and hours at nothing; then several at once."""
    chance, cells = random.Random(SEED), input_cells(estimate)
    single = [[(cell, changed_value(cell, chance))] for cell in cells]
    nothing = [[(cell, 0.0 if cell.kind == "rates" else Decimal(0))] for cell in cells if not cell.name.startswith(("in:", "factor:"))]
    several = [[(cell, changed_value(cell, chance)) for cell in chance.sample(cells, len(cells) // 2)] for _ in range(TOGETHER)]
    return single + nothing + several


def revalued(estimate: kit.Estimate, change: list[tuple[InputCell, Decimal | float]]) -> kit.Estimate:
    new: dict[str, dict] = {"prices": {}, "rates": {}, "terms": {}}
    for cell, value in change:
        new[cell.kind][cell.name] = value
    return kit.revalue(estimate, **new)


@pytest.fixture(scope="module")
def answers(request, tmp_path_factory):
    """Every estimate that this run is about written, every change asked of LibreOffice in one run of it."""
    folder = tmp_path_factory.mktemp("office")
    requests, names = [], []
    here = {item.callspec.params["name"] for item in request.session.items if item.path == request.path and "answers" in item.fixturenames}
    for number, name in enumerate(name for name in demo.NAMES if name in here):
        estimate = demo.estimate_of(name)
        places = place_figures(estimate)
        changes = [[[cell.sheet, cell.cell, float(value)] for cell, value in change] for change in changes_of(estimate)]
        watch = [[places[f"row:{row}"].sheet, places[f"row:{row}"].cell] for row in WATCHED]
        path = folder / f"{number}.xlsx"
        path.write_bytes(demo.workbook_of(name))
        requests.append({"path": str(path), "watch": watch, "read": [], "changes": changes})
        names.append(name)
    found = office.recalculate(requests, folder)
    return {name: (request, answer) for name, request, answer in zip(names, requests, found, strict=True)}


@pytest.mark.parametrize("name", NAMES)
def test_the_workbook_opens_without_a_word_and_is_sound(answers, name):
    """No question, no repair, no error, no link, no macro."""
    office.check_sound(answers[name][1])


@pytest.mark.parametrize("name", NAMES)
def test_every_changed_input_gives_the_price_and_cost_of_revalue(answers, name):
    """Packs and plans held, each changed input gives the same price and cost to the cent in LibreOffice and in the kit."""
    estimate, (_, answer) = demo.estimate_of(name), answers[name]
    changes = changes_of(estimate)
    assert len(answer["watched"]) == len(changes) > len(input_cells(estimate)) > 40
    wrong = []
    for change, watched in zip(changes, answer["watched"], strict=True):
        expected = revalued(estimate, change)
        given = [round_cents(Decimal(repr(value))) for value in watched]
        if given != [expected.amount(row) for row in WATCHED]:
            wrong.append(([(cell.name, value) for cell, value in change][:3], given, expected.price, expected.cost))
    assert wrong == []
    assert answer["faults"] == []


@pytest.mark.parametrize("name", demo.EXAMPLES)
def test_every_input_moves_the_cost_or_the_price(name):
    """No input is a dead cell: each changes the price, and but for shares above cost also the cost."""
    estimate = demo.example(name)
    changes = changes_of(estimate)[: len(input_cells(estimate))]
    assert [change[0][0].name for change in changes if revalued(estimate, change).price == estimate.price] == []


@pytest.mark.parametrize("name", NAMES)
def test_values_in_the_file_are_those_that_libreoffice_computes(answers, name):
    """The value stored with each formula is what a full recalculation gives, and none is an error."""
    request, answer = answers[name]
    stored = openpyxl.load_workbook(request["path"], data_only=True)
    written = openpyxl.load_workbook(request["path"])
    formulas = {(sheet.title, cell.coordinate) for sheet in written for row in sheet.iter_rows() for cell in row if cell.data_type == "f"}
    assert {(sheet, cell) for sheet, cell, *_ in answer["formulas"]} == formulas
    assert len(formulas) > 250
    assert [entry for entry in answer["formulas"] if entry[5]] == []
    computed = {(sheet, cell): value for sheet, cell, _, value, _, _ in answer["formulas"]}
    given = {place: stored[place[0]][place[1]].value for place in formulas}
    assert computed == pytest.approx(given, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_taking_a_change_back_gives_the_old_price(answers, name):
    """Nothing in the sheet remembers what was tried."""
    _, answer = answers[name]
    estimate = demo.estimate_of(name)
    assert [round_cents(Decimal(repr(value))) for value in answer["restored"]] == [estimate.price, estimate.cost]
