"""Ask LibreOffice: does a file open without a word, what does every formula give after a full recalculation, what follows a change of inputs?

No test and no part of the kit: a script for a Python that has `uno` (Debian: python3-uno), run by `export_office.py` beside it.

    python3 recalculate.py SOFFICE USER_FOLDER REQUEST.json ANSWER.json

The request is a list of {"path", "watch": [[sheet, cell], ...], "read": [[sheet, cell], ...], "changes": [[[sheet, cell, value], ...],
...], "options"}. A change may set several cells; each is taken back before the next. With "options" the file is read as CSV under those
options of the office's filter, and its one sheet is found by the name "". For each file the answer holds
{"formulas": [[sheet, cell, formula, value, text, error], ...], "read": [[kind, text], ...], "watched": [[value, ...] for each change],
"faults": [[change, place], ...], "restored": [value, ...], "asked": [question or notice to the user while it opened the
file], "links": [kind of way to another document], "macros": [module of code in it]}; of a file that it won't open only "asked"
and "refused": true.
"""

import json
import os
import pathlib
import re
import signal
import subprocess
import sys
import time

import uno
import unohelper
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException
from com.sun.star.task import XInteractionHandler2

WAIT_S = 300.0
FORMULA_CELLS = 16  # com.sun.star.sheet.CellFlags.FORMULA
FAULTY_RESULTS = 4  # com.sun.star.sheet.FormulaResult.ERROR
AS_THE_USER_SET = {"MacroExecutionMode": 3, "UpdateDocMode": 2}  # USE_CONFIG and ACCORDING_TO_CONFIG: ask about macros and links
CSV_FILTER = "Text - txt - csv (StarCalc)"


class Listener(unohelper.Base, XInteractionHandler2):
    """Stands in for the person in front of the office: writes down what is asked, answers nothing."""

    def __init__(self):
        self.asked = []

    def handle(self, request):
        """A question or a notice. What it says is an exception of the office's, which the bridge throws on its way here: that it came must do."""
        self.asked.append(f"question or notice {len(self.asked) + 1}")

    def handleInteractionRequest(self, request):  # noqa: N802 - the office's own name
        """The same, telling whether it was dealt with."""
        self.handle(request)
        return False


def connect(pipe):
    """Wait for the office to answer on its pipe."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    end = time.monotonic() + WAIT_S
    while True:
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except NoConnectException:
            if time.monotonic() > end:
                raise
            time.sleep(0.1)


def numbers(name):
    """Column and row of a cell, counted from 0."""
    letters, digits = re.fullmatch(r"([A-Z]+)([0-9]+)", name).groups()
    column = 0
    for letter in letters:
        column = column * 26 + ord(letter) - 64
    return column - 1, int(digits) - 1


def name_of(column, row):
    """The cell's name."""
    letters, rest = "", column + 1
    while rest:
        rest, place = divmod(rest - 1, 26)
        letters = chr(65 + place) + letters
    return f"{letters}{row + 1}"


def cells_of(ranges):
    """Column and row of each cell in some ranges."""
    return [(column, row) for found in ranges for row in range(found.StartRow, found.EndRow + 1) for column in range(found.StartColumn, found.EndColumn + 1)]


def formulas_of(document):
    """Every formula cell; a sheet's values and formulas are fetched at once, since each call to the office takes its time."""
    found = []
    for sheet in document.Sheets:
        places = cells_of(sheet.queryContentCells(FORMULA_CELLS).RangeAddresses)
        if not places:
            continue
        faulty = set(cells_of(sheet.queryFormulaCells(FAULTY_RESULTS).RangeAddresses))
        cursor = sheet.createCursor()
        cursor.gotoEndOfUsedArea(False)
        area = sheet.getCellRangeByPosition(0, 0, cursor.RangeAddress.EndColumn, cursor.RangeAddress.EndRow)
        formulas, values = area.getFormulaArray(), area.getDataArray()
        for column, row in places:
            value, error = values[row][column], int((column, row) in faulty)
            number, text = (value, "") if isinstance(value, float) else (0.0, str(value))
            found.append([sheet.Name, name_of(column, row), formulas[row][column], number, text, error])
    return found


def watch_cells(document, places):
    """A function that gives the values of some cells with one call for each sheet, and the places of those that hold no number."""
    areas, spots = {}, [(sheet, *numbers(name)) for sheet, name in places]
    for sheet in {sheet for sheet, _, _ in spots}:
        columns, rows = ([spot[side] for spot in spots if spot[0] == sheet] for side in (1, 2))
        left, top = min(columns), min(rows)
        areas[sheet] = left, top, document.Sheets.getByName(sheet).getCellRangeByPosition(left, top, max(columns), max(rows))

    def look():
        found = {sheet: (left, top, area.getDataArray()) for sheet, (left, top, area) in areas.items()}
        values = [found[sheet][2][row - found[sheet][1]][column - found[sheet][0]] for sheet, column, row in spots]
        return values, [place for place, value in zip(places, values, strict=True) if not isinstance(value, float)]

    return look


def fill_cells(document, cells, areas):
    """Write numbers into cells, neighbors below each other with one call; `areas` keeps what was found for the next time."""
    runs = []
    for sheet, (column, row), value in sorted((sheet, numbers(name), value) for sheet, name, value in cells):
        last = runs[-1] if runs else None
        if last and last[:2] == (sheet, column) and last[2] + len(last[3]) == row:
            last[3].append(value)
        else:
            runs.append((sheet, column, row, [value]))
    for sheet, column, row, values in runs:
        place = sheet, column, row, row + len(values) - 1
        if place not in areas:
            areas[place] = document.Sheets.getByName(sheet).getCellRangeByPosition(column, row, column, place[-1])
        areas[place].setDataArray(tuple((value,) for value in values))


def links_of(document):
    """Ways to documents outside that this one would read, by their kind."""
    kinds = ("SheetLinks", "AreaLinks", "DDELinks", "ExternalDocLinks")
    return [kind for kind in kinds if getattr(document, kind).hasElements()]


def macros_of(document):
    """Modules of code in it; the office keeps an empty library of its own in each document."""
    return [f"{library}/{module}" for library in document.BasicLibraries.ElementNames for module in document.BasicLibraries.getByName(library).ElementNames]


def prepare(properties):
    """Named values as the office takes them."""
    made = []
    for name, value in properties.items():
        one = PropertyValue()
        one.Name, one.Value = name, value
        made.append(one)
    return tuple(made)


def open_file(desktop, request, listener):
    """The document, opened as a person's office would, or None when it refuses."""
    wanted = {"Hidden": True, "InteractionHandler": listener, **AS_THE_USER_SET}
    if "options" in request:
        wanted |= {"FilterName": CSV_FILTER, "FilterOptions": request["options"]}
    try:
        return desktop.loadComponentFromURL(pathlib.Path(request["path"]).as_uri(), "_blank", 0, prepare(wanted))
    except Exception as error:  # noqa: BLE001 - whatever the office throws: it did not open
        listener.asked.append(f"{type(error).__name__}: {error}")
        return None


def ask(desktop, request):
    """One file: how it opened, its formulas recalculated, then each change in turn."""
    listener = Listener()
    document = open_file(desktop, request, listener)
    if document is None:
        return {"asked": listener.asked, "refused": True}

    cells = {}

    def find(sheet, name):
        if (sheet, name) not in cells:
            cells[sheet, name] = (document.Sheets.getByName(sheet) if sheet else document.Sheets.getByIndex(0)).getCellRangeByName(name)
        return cells[sheet, name]

    try:
        document.calculateAll()
        answer = {"formulas": formulas_of(document), "read": [[find(*place).Type.value, find(*place).String] for place in request["read"]]}
        document.enableAutomaticCalculation(False)
        look, watched, faults, areas = watch_cells(document, request["watch"]), [], [], {}
        changed = sorted({(sheet, name) for change in request["changes"] for sheet, name, _ in change})
        before = dict(zip(changed, watch_cells(document, changed)()[0], strict=True))
        for number, change in enumerate(request["changes"]):
            fill_cells(document, change, areas)
            document.calculate()
            values, faulty = look()
            watched.append(values)
            faults += [[number, place] for place in faulty]
            fill_cells(document, [(sheet, name, before[sheet, name]) for sheet, name, _ in change], areas)
        document.calculate()
        restored, _ = look()
        return answer | {
            "watched": watched,
            "faults": faults,
            "restored": restored,
            "asked": listener.asked,
            "links": links_of(document),
            "macros": macros_of(document),
        }
    finally:
        document.close(True)


def main(soffice, folder, request, answer):
    """Start an office of our own, ask it about every file, end it."""
    pipe = f"sheets{os.getpid()}"
    command = [soffice, f"-env:UserInstallation={pathlib.Path(folder).as_uri()}", "--headless", "--norestore", "--nologo", "--nodefault", "--nolockcheck"]
    office = subprocess.Popen([*command, f"--accept=pipe,name={pipe};urp;"], start_new_session=True)
    try:
        context = connect(pipe)
        desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
        answers = [ask(desktop, wanted) for wanted in json.loads(pathlib.Path(request).read_text(encoding="utf-8"))]
        pathlib.Path(answer).write_text(json.dumps(answers), encoding="utf-8")
        desktop.terminate()
        office.wait(WAIT_S)
    finally:
        if office.poll() is None:
            os.killpg(office.pid, signal.SIGKILL)


if __name__ == "__main__":
    main(*sys.argv[1:])
