"""Inputs damaged by chance: a seed makes one, and reading it may end with an answer or with one report, never with anything else."""

import csv
import gzip
import io
import json
import random
import resource
import shutil
import tempfile
import time
import zipfile
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import openpyxl
from contract.contract_walks import walk

from kit import Lists, estimate, load_lists, read_job, shipped
from kit.archive.spent import read_spent
from kit.contract.ledger import LEDGER_FILE, Ledger, contract_states
from kit.errors import KitError
from kit.issued import open_issued
from kit.issued.seals import seal

PROMISES = Path(__file__).parent / "promises"
MOST_SECONDS = 2.0  # of CPU, for one input
MOST_GROWTH_KB = 500_000
ODD = (
    *("", "0", "-1", "1e400", "9" * 30, "9" * 5000, "NaN", "inf", "1/0", "33 1/2 in", "1 parsec", "=1+1", "true", "null"),
    *("\ufeff", "\ufffe", "\u202e", "\x00", '"', "'", "[", "]" * 2, "{", "\n", "\r", ";", ",", "\t", "<b>", "$x$"),
    *("../../x", "/dev/zero", "con", "x" * 300, "a" + ".a" * 2000, "9999-12-31", "0001-01-01", "2026-02-30"),
)


@dataclass(frozen=True)
class Outcome:
    """How reading a damaged input ended: the fault of the program, if there was one, and what it cost."""

    refused: bool
    fault: str
    seconds: float


@cache
def shipped_lists() -> Lists:
    return load_lists(shipped("price_lists"))


def read_damaged_job(path: Path) -> None:
    estimate(read_job(path), shipped_lists())


def read_damaged_lists(path: Path) -> None:
    estimate(read_job(shipped("examples") / "laminate_top_mount.toml"), load_lists(path.parent))


def read_damaged_spent(path: Path) -> None:
    read_spent(path, shipped_lists())


def read_damaged_issued(path: Path) -> None:
    issued = open_issued(path)
    issued.find_figures(issued)
    issued.work_out()


def read_damaged_ledger(path: Path) -> None:
    contract_states(path.parent)


@cache
def sound_ledger() -> bytes:
    """A ledger of one contract with a life of its own."""
    with tempfile.TemporaryDirectory() as name:
        events, state = list(walk(7))[-1]
        Ledger(Path(name)).append_all(state.number, [(event.what, event.day) for event in events])
        return (Path(name) / LEDGER_FILE).read_bytes()


def spread_sheet(source: Path) -> bytes:
    """A spent table as a workbook."""
    book = openpyxl.Workbook()
    for cells in csv.reader(source.read_text(encoding="utf-8").splitlines()):
        book.active.append(cells)
    with tempfile.TemporaryDirectory() as folder:
        book.save(Path(folder) / "spent.xlsx")
        return (Path(folder) / "spent.xlsx").read_bytes()


KINDS: dict[str, Callable[[Path], object]] = {
    "job": read_damaged_job,
    "list": read_damaged_lists,
    "spent table": read_damaged_spent,
    "spent workbook": read_damaged_spent,
    "issued estimate": read_damaged_issued,
    "ledger": read_damaged_ledger,
}


@cache
def sound_files(kind: str) -> tuple[tuple[str, bytes], ...]:
    """Name and content of the sound files of a kind that are damaged."""
    examples = shipped("examples")
    match kind:
        case "job":
            return tuple((path.name, path.read_bytes()) for path in sorted(examples.glob("*.toml")))
        case "list":
            return tuple((path.name, path.read_bytes()) for path in sorted(shipped("price_lists").glob("*.csv")))
        case "spent table":
            return tuple((path.name, path.read_bytes()) for path in sorted(examples.glob("*_spent.csv")))
        case "spent workbook":
            return tuple((f"{path.stem}.xlsx", spread_sheet(path)) for path in sorted(examples.glob("*_spent.csv")))
        case "issued estimate":
            return tuple((path.stem, gzip.decompress(path.read_bytes())) for path in sorted(PROMISES.glob("*/*.json.gz"))[::8])
        case _:
            return ((LEDGER_FILE, sound_ledger()),)


def damage_text(content: bytes, draw: random.Random) -> bytes:
    """One to three damages: a piece replaced by an odd one, a line doubled, dropped or moved, a cell or number exchanged, bytes cut or turned."""
    for _ in range(draw.randint(1, 3)):
        lines = content.split(b"\n")
        at = draw.randrange(len(lines))
        odd = draw.choice(ODD).encode("utf-8", "surrogatepass")
        match draw.randrange(7):
            case 0:
                lines.insert(at, lines[at])
            case 1:
                del lines[at]
            case 2:
                lines.insert(draw.randrange(len(lines)), lines.pop(at))
            case 3:
                cells = lines[at].split(b",")
                cells[draw.randrange(len(cells))] = odd
                lines[at] = b",".join(cells)
            case 4:
                head, sign, _ = lines[at].partition(b"=")
                lines[at] = head + sign + odd
            case 5:
                start = draw.randrange(len(lines[at]) + 1)
                lines[at] = lines[at][:start] + odd + lines[at][start + draw.randrange(8) :]
            case _:
                return damage_bytes(content, draw)
        content = b"\n".join(lines)
    return content


def damage_workbook(content: bytes, draw: random.Random) -> bytes:
    """Its bytes, or the text of one of the parts that are packed in it."""
    if draw.random() < 0.5:
        return damage_bytes(content, draw)
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as sound, zipfile.ZipFile(packed, "w") as damaged:
        hit = draw.choice(sound.namelist())
        for name in sound.namelist():
            part = sound.read(name)
            damaged.writestr(name, damage_text(part.replace(b">", b">\n"), draw) if name == hit else part)
    return packed.getvalue()


def damage_issued(content: bytes, draw: random.Random) -> bytes:
    """Its text; or one value in it, sealed anew as if that had been promised."""
    if draw.random() < 0.3:
        return damage_text(content, draw)
    document = json.loads(content)
    place, key = document, draw.choice(sorted(set(document) - {"sha256", "whole_sha256"}))
    while draw.random() < 0.85 and isinstance(place[key], dict | list) and place[key]:
        place = place[key]
        key = draw.choice(list(place)) if isinstance(place, dict) else draw.randrange(len(place))
    place[key] = draw.choice((None, True, -1, 0, 1e300, 10**30, [], {}, [[]], {"": None}, *ODD))
    with suppress(TypeError, ValueError, AttributeError, LookupError):  # what can't be sealed comes in unsealed
        document.update(seal(document))
    return json.dumps(document).encode("utf-8", "surrogatepass")


def damage_bytes(content: bytes, draw: random.Random) -> bytes:
    """Cut off, or some bytes exchanged."""
    if draw.random() < 0.2:
        return content[: draw.randrange(len(content) + 1)]
    changed = bytearray(content)
    for _ in range(draw.randint(1, 8)):
        changed[draw.randrange(len(changed))] = draw.randrange(256)
    return bytes(changed)


def try_input(kind: str, seed: int, folder: Path) -> Outcome:
    """Read the input of this kind and seed, in an own folder; what it writes there is part of the outcome."""
    draw = random.Random(f"{kind} {seed}")
    name, content = draw.choice(sound_files(kind))
    if kind == "list":
        shutil.copytree(shipped("price_lists"), folder, dirs_exist_ok=True)
    damage = {"spent workbook": damage_workbook, "issued estimate": damage_issued, "ledger": damage_bytes}.get(kind, damage_text)
    path = folder / name
    path.write_bytes(damage(content, draw))
    before = {file: file.stat().st_mtime_ns for file in folder.rglob("*")}
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    start = time.process_time()
    refused, fault = False, ""
    try:
        KINDS[kind](path)
    except KitError as error:
        refused = True
        if not str(error).strip():
            fault = "a report without words"
    except Exception as error:  # noqa: BLE001 - this is what is looked for
        fault = f"{type(error).__name__}: {error}"[:200]
    seconds = time.process_time() - start
    if not fault and seconds > MOST_SECONDS:
        fault = f"{seconds:.1f} s of CPU"
    if not fault and resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - memory > MOST_GROWTH_KB:
        fault = "more than 500 MB"
    if not fault and {file: file.stat().st_mtime_ns for file in folder.rglob("*")} != before:
        fault = "reading wrote something"
    return Outcome(refused, fault, seconds)
