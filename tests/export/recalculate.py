"""Ask LibreOffice: what every formula gives after a full recalculation, and what totals say after each change of inputs.

No test and no part of the kit: a script for a Python that has `uno` (Debian: python3-uno), run by `export_office.py` beside it.

    python3 recalculate.py SOFFICE USER_FOLDER REQUEST.json ANSWER.json

The request is a list of {"path", "watch": [[sheet, cell], ...], "read": [[sheet, cell], ...], "changes": [[[sheet, cell, value],
...], ...]}. For each file the answer holds {"formulas": [[sheet, cell, formula, value, text, error], ...], "read": [[kind, text],
...], "watched": [[value, ...] for each change], "faults": [[change, place], ...], "restored": [value, ...]}. A change may set
several cells; each is taken back before the next.
"""

import json
import os
import pathlib
import signal
import subprocess
import sys
import time

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException

WAIT_S = 60.0
FORMULA_CELLS = 16  # com.sun.star.sheet.CellFlags.FORMULA


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


def formula_cells(document):
    """Every formula cell with its sheet's name and its own."""
    for sheet in document.Sheets:
        for found in sheet.queryContentCells(FORMULA_CELLS).RangeAddresses:
            for row in range(found.StartRow, found.EndRow + 1):
                for column in range(found.StartColumn, found.EndColumn + 1):
                    cell = sheet.getCellByPosition(column, row)
                    yield sheet.Name, cell.AbsoluteName.split(".")[-1].replace("$", ""), cell


def ask(desktop, request):
    """One workbook: its formulas recalculated, then each change in turn."""
    hidden = PropertyValue()
    hidden.Name, hidden.Value = "Hidden", True
    document = desktop.loadComponentFromURL(pathlib.Path(request["path"]).as_uri(), "_blank", 0, (hidden,))
    cells = {}

    def find(sheet, name):
        if (sheet, name) not in cells:
            cells[sheet, name] = document.Sheets.getByName(sheet).getCellRangeByName(name)
        return cells[sheet, name]

    try:
        document.calculateAll()
        formulas = [[sheet, name, cell.Formula, cell.Value, cell.String, cell.getError()] for sheet, name, cell in formula_cells(document)]
        read = [[find(*place).Type.value, find(*place).String] for place in request["read"]]
        watch = [(place, find(*place)) for place in request["watch"]]
        watched, faults = [], []
        for number, change in enumerate(request["changes"]):
            before = [(find(sheet, name), find(sheet, name).Value) for sheet, name, _ in change]
            for sheet, name, value in change:
                find(sheet, name).Value = value
            watched.append([total.Value for _, total in watch])
            faults += [[number, place] for place, total in watch if total.getError()]
            for cell, value in before:
                cell.Value = value
        restored = [total.Value for _, total in watch]
    finally:
        document.close(True)
    return {"formulas": formulas, "read": read, "watched": watched, "faults": faults, "restored": restored}


def main(soffice, folder, request, answer):
    """Start an office of our own, ask it about every workbook, end it."""
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
