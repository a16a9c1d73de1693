"""LibreOffice as an outside judge of our sheets: found here, asked by `recalculate.py` in a Python that can talk to it."""

import json
import os
import shutil
import subprocess
import sys
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

SCRIPT = Path(__file__).with_name("recalculate.py")
MISSING = "LibreOffice and its Python bridge are not installed. On Debian: apt install libreoffice-calc-nogui python3-uno"
PATIENCE_S = 1_200


@lru_cache
def find_office() -> tuple[str, str] | None:
    """The office program and a Python that imports `uno`; None when one is missing."""
    office = shutil.which("soffice") or shutil.which("libreoffice")
    pythons = [sys.executable, "/usr/bin/python3", shutil.which("python3")]
    if office:
        pythons.append(str(Path(office).resolve().parent / "python"))
    for python in pythons:
        if python and Path(python).exists() and subprocess.run([python, "-c", "import uno"], capture_output=True, check=False).returncode == 0:
            return (office, python) if office else None
    return None


def recalculate(requests: list[dict[str, Any]], folder: Path) -> list[dict[str, Any]]:
    """What LibreOffice answers, in one run with a fresh user folder; skips without it, fails instead where CI is "true"."""
    found = find_office()
    if found is None:
        if os.environ.get("CI") == "true":
            pytest.fail(MISSING)
        pytest.skip(MISSING)
    office, python = found
    request, answer, user = folder / "request.json", folder / "answer.json", folder / "user"
    user.mkdir()
    request.write_text(json.dumps(requests), encoding="utf-8")
    log = folder / "office.log"  # no pipe: an office that outlives the script would hold it open, and this would wait for good
    with log.open("wb") as out:
        run = subprocess.run([python, str(SCRIPT), office, str(user), str(request), str(answer)], stdout=out, stderr=out, timeout=PATIENCE_S, check=False)
    assert run.returncode == 0, log.read_text(encoding="utf-8", errors="replace")
    return json.loads(answer.read_text(encoding="utf-8"))


def check_sound(answer: dict[str, Any]) -> None:
    """A workbook opened without a word: nothing was asked or told, nothing mended; no cell holds an error, no link leads out, no code is inside."""
    assert "refused" not in answer
    assert (answer["asked"], answer["links"], answer["macros"]) == ([], [], [])
    assert len(answer["formulas"]) > 250
    assert [entry for entry in answer["formulas"] if entry[5]] == []
