"""Lists that come in: which list is a picked file, and which lists come of it."""

import csv
import datetime as dt
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from kit.errors import Fault, ListError
from kit.lists.columns import Column
from kit.lists.load import Lists, parse_lists
from kit.lists.schema import COLUMNS, FILES
from kit.tables import content_sheets

__all__ = ["Picked", "TakenIn", "recognise_list", "take_in"]

_COMPANY = "company.csv"
_COMPANY_COLUMNS = frozenset({"key", "value", "note"})
_STEMS = {file.removesuffix(".csv"): file for file in FILES}
_LEAST_ALIKE = 0.5  # share of column names in common from which a header that does not fit is still told for what it tried to be


@dataclass(frozen=True, slots=True)
class Picked:
    """A file, or a sheet of one, in the place of a list: where it came from, the list, by what it is known, its text."""

    source: str
    file: str
    known_by: str
    text: str


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What came of picked files: those that take a list's place, those that are no list, every fault, and the lists where there is none."""

    picked: tuple[Picked, ...]
    left_out: tuple[str, ...]
    faults: tuple[Fault, ...]
    lists: Lists | None

    def source_of(self, file: str) -> str:
        """Where a list came from; "" when it is the one in use."""
        return next((picked.source for picked in self.picked if picked.file == file), "")


def take_in(old: Lists, contents: Mapping[str, bytes], *, dated: dt.date | None = None) -> TakenIn:
    """The lists in use with picked files in the place of the lists that they are; whole lists only, nothing is merged.

    Parameters
    ----------
    old
        The lists in use; what is not picked stays as it is there.
    contents
        Content of each picked CSV or XLSX file by its name. Each sheet of a workbook can be a list.
    dated
        Day that becomes the date of the prices where prices are picked and the company file is not.
    """
    faults: list[Fault] = []
    left_out: list[str] = []
    picked: list[Picked] = []
    for name, content in contents.items():
        try:
            sheets = content_sheets(content, name)
        except ListError as error:
            faults.extend(error.faults)
        else:
            _sort_sheets(name, sheets, picked, left_out)
    if not picked and not faults:
        faults.append(
            Fault("", "is no list: neither its name nor its header is known. Name it as a list, such as prices.csv.", ", ".join(contents) or "nothing")
        )
    faults += _doubled(picked)
    texts = {**old.texts, **{one.file: one.text for one in picked}}
    files = {one.file for one in picked}
    if dated is not None and "prices.csv" in files and _COMPANY not in files:
        texts[_COMPANY] = _date_prices(texts[_COMPANY], dated)
    try:
        lists = parse_lists(texts, old.folder, faults)
    except ListError as error:
        return TakenIn(tuple(picked), tuple(left_out), tuple(sorted(error.faults, key=_by_row)), None)
    return TakenIn(tuple(picked), tuple(left_out), (), lists)


def _sort_sheets(name: str, sheets: Mapping[str, str], picked: list[Picked], left_out: list[str]) -> None:
    stem = name.rpartition(".")[0] or name
    for title, text in sheets.items():
        source = f"{name}, sheet {title}" if title else name
        names = [title] if len(sheets) > 1 else [stem, title]
        known = recognise_list([one for one in names if one], text)
        if known is None:
            left_out.append(source)
        else:
            picked.append(Picked(source, *known, text))


def recognise_list(names: Sequence[str], text: str) -> tuple[str, str] | None:
    """The list that a table is and by what it is known; None when nothing tells.

    A name that is a list's counts first, then a header that fits one list alone, then a list's name within the name
    (`prices (1)`), then the header that has most columns in common with one list.
    """
    plain = [re.sub(r"[\s-]+", "_", name.strip().casefold()) for name in names]
    for name in plain:
        if name in _STEMS:
            return _STEMS[name], "its name"
    header = _header(text)
    fitting = [file for file in FILES if _fits(header, file)]
    if len(fitting) == 1:
        return fitting[0], "its header"
    within = sorted((stem for stem in _STEMS if any(re.search(rf"(?<![a-z]){stem}(?![a-z])", name) for name in plain)), key=len)
    if within:
        return _STEMS[within[-1]], "a part of its name"
    alike = sorted(((_likeness(header, file), file) for file in FILES), reverse=True)
    return (alike[0][1], "most of its header") if alike[0][0] >= max(_LEAST_ALIKE, alike[1][0] + 0.01) else None


def _header(text: str) -> frozenset[str]:
    try:
        return next((frozenset(cells) for row in csv.reader(io.StringIO(text, newline="")) if any(cells := [cell.strip() for cell in row])), frozenset())
    except csv.Error:
        return frozenset()


def _names(columns: Iterable[Column]) -> frozenset[str]:
    return frozenset(column.name for column in columns)


def _fits(header: frozenset[str], file: str) -> bool:
    if file == _COMPANY:
        return header == _COMPANY_COLUMNS
    columns = COLUMNS[file][1]
    return _names(column for column in columns if not column.may_be_absent) <= header <= _names(columns)


def _likeness(header: frozenset[str], file: str) -> float:
    wanted = _COMPANY_COLUMNS if file == _COMPANY else _names(COLUMNS[file][1])
    return len(header & wanted) / len(header | wanted)


def _doubled(picked: Sequence[Picked]) -> list[Fault]:
    sources: dict[str, list[str]] = {}
    for one in picked:
        sources.setdefault(one.file, []).append(one.source)
    return [Fault("", f"was picked {len(names)} times: {'; '.join(names)}. Pick one.", file) for file, names in sources.items() if len(names) > 1]


def _by_row(fault: Fault) -> tuple[int, int]:
    """Lists in their order, faults of a whole file first, then by row."""
    row = re.match(r"row (\d+)", fault.place)
    return (FILES.index(fault.file) if fault.file in FILES else -1), (int(row[1]) if row else 0)


def _date_prices(text: str, day: dt.date) -> str:
    """The company's text with another date of the prices; a text without that row stays as it is, and is told elsewhere."""
    rows = list(csv.reader(io.StringIO(text, newline="")))
    found = io.StringIO(newline="")
    writer = csv.writer(found, lineterminator="\n")
    place = rows[0].index("value") if rows and "value" in rows[0] else None
    for row in rows:
        dated = place is not None and "price_date" in row[:1] and len(row) > place
        writer.writerow([*row[:place], day.isoformat(), *row[place + 1 :]] if dated and place is not None else row)
    return found.getvalue()
