"""Lists that come in: which list a file is, and what the lists are with it in place of the one in use, or as a part in it."""

import csv
import datetime as dt
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from kit.errors import Fault, ListError
from kit.lists.company import COMPANY_COLUMNS, COMPANY_FILE
from kit.lists.list_files import FILES, LISTS
from kit.lists.load import Lists, parse_lists
from kit.lists.merging import PRICES, MergedList, merge_list
from kit.lists.older import bring_up_to_date
from kit.tables import content_sheets

__all__ = ["IncomingLists", "ListSource", "date_prices", "recognise_list", "take_in"]

_STEMS = {file.removesuffix(".csv"): file for file in FILES}
_LEAST_COLUMNS = 3  # of a part that is known by its columns
_LEAST_ALIKE = 0.5  # share of column names in common from which a header that does not fit still counts as that list's


@dataclass(frozen=True, slots=True)
class ListSource:
    """A file, or a sheet of one, that takes a list's place: where it came from, which list it is, what shows that, its text.

    `merged` counts the rows that went into the list in use, where it is a part of one; None where it is the whole.
    """

    source: str
    file: str
    known_by: str
    text: str
    merged: int | None = None


@dataclass(frozen=True, slots=True)
class IncomingLists:
    """What files hold: the lists among them, what is no list, every fault, and all lists with these in place where there is no fault."""

    sources: tuple[ListSource, ...]
    left_out: tuple[str, ...]
    faults: tuple[Fault, ...]
    lists: Lists | None

    def source_of(self, file: str) -> str:
        """Where a list came from; "" when it is the one in use."""
        return next((one.source for one in self.sources if one.file == file), "")


def take_in(old: Lists, contents: Mapping[str, bytes], *, dated: dt.date | None = None, merged_on: dt.date | None = None) -> IncomingLists:
    """The lists in use with incoming files in place of the lists that they are, or as parts in them.

    Parameters
    ----------
    old
        The lists in use; what does not come in stays as it is there.
    contents
        Content of each CSV or XLSX file by its name. Each sheet of a workbook can be a list.
    dated
        Day that becomes the date of the prices where prices come in and the company file does not.
    merged_on
        With a day, files are parts that go into the lists in use: their rows take the place of those with the same key, and a price without a
        first day of its own holds from that day on. Without one, each file is a whole list.
    """
    faults: list[Fault] = []
    left_out: list[str] = []
    sources: list[ListSource] = []
    for name, content in contents.items():
        try:
            sheets = content_sheets(content, name)
        except ListError as error:
            faults.extend(error.faults)
        else:
            _sort_sheets(name, sheets, sources, left_out)
    if not sources and not faults:
        faults.append(
            Fault("", "is not one of the lists, by its name or its header. Name it like a list, such as prices.csv.", ", ".join(contents) or "nothing")
        )
    if merged_on is not None:
        return _with_parts(old, sources, left_out, faults, merged_on, dated)
    faults += _doubled(sources)
    texts = {**old.texts, **{one.file: one.text for one in sources}}
    try:
        lists = parse_lists(_dated(texts, sources, dated), old.folder, faults)
    except ListError as error:
        return IncomingLists(tuple(sources), tuple(left_out), tuple(sorted(error.faults, key=_by_row)), None)
    return IncomingLists(tuple(sources), tuple(left_out), (), lists)


def _with_parts(old: Lists, sheets: Sequence[ListSource], left_out: Sequence[str], faults: list[Fault], day: dt.date, dated: dt.date | None) -> IncomingLists:
    """Part after part goes into the lists; a fault of a merged list stands at the row of the part that it came from."""
    texts, merged, sources = dict(old.texts), dict[str, MergedList](), []
    for one in sheets:
        try:
            merged[one.file] = merge_list(texts[one.file], one.text, one.file, one.source, day)
        except ListError as error:
            faults.extend(error.faults)
            sources.append(one)
        else:
            texts[one.file] = merged[one.file].text
            sources.append(replace(one, text=texts[one.file], merged=merged[one.file].rows))
    try:
        lists = parse_lists(_dated(texts, sheets, dated), old.folder, faults)
    except ListError as error:
        at_home = [merged[fault.file].place_of(fault) if fault.file in merged else fault for fault in error.faults]
        return IncomingLists(tuple(sources), tuple(left_out), tuple(sorted(at_home, key=_by_row)), None)
    return IncomingLists(tuple(sources), tuple(left_out), (), lists)


def _dated(texts: dict[str, str], sources: Sequence[ListSource], dated: dt.date | None) -> dict[str, str]:
    files = {one.file for one in sources}
    if dated is not None and PRICES in files and COMPANY_FILE not in files:
        texts[COMPANY_FILE] = date_prices(texts[COMPANY_FILE], dated)
    return texts


def _sort_sheets(name: str, sheets: Mapping[str, str], sources: list[ListSource], left_out: list[str]) -> None:
    stem = name.rpartition(".")[0] or name
    for title, text in sheets.items():
        source = f"{name}, sheet {title}" if title else name
        names = [title] if len(sheets) > 1 else [stem, title]
        known = recognise_list([one for one in names if one], text)
        if known is None:
            left_out.append(source)
        else:
            sources.append(ListSource(source, *known, text))


def recognise_list(names: Sequence[str], text: str) -> tuple[str, str] | None:
    """The list that a table is and what shows it; None when nothing does.

    A name that is a list's counts first, then a header that fits one list alone, then a list's name within the name
    (`prices (1)`), then the header that has most columns in common with one list, then one of a few columns of one list alone.
    """
    plain = [re.sub(r"[\s-]+", "_", name.strip().casefold()) for name in names]
    for name in plain:
        if name in _STEMS:
            return _STEMS[name], "its name"
    headers = {file: _header(bring_up_to_date(file, text)) for file in FILES}
    fitting = [file for file, header in headers.items() if _fits(header, file)]
    if len(fitting) == 1:
        return fitting[0], "its header"
    within = sorted((stem for stem in _STEMS if any(re.search(rf"(?<![a-z]){stem}(?![a-z])", name) for name in plain)), key=len)
    if within:
        return _STEMS[within[-1]], "a part of its name"
    alike = sorted(((_likeness(header, file), file) for file, header in headers.items()), reverse=True)
    if alike[0][0] >= max(_LEAST_ALIKE, alike[1][0] + 0.01):
        return alike[0][1], "most of its header"
    parts = [file for file, header in headers.items() if _is_part(header, file)]
    return (parts[0], "some of its columns") if len(parts) == 1 else None


def _header(text: str) -> frozenset[str]:
    try:
        return next((frozenset(cells) for row in csv.reader(io.StringIO(text, newline="")) if any(cells := [cell.strip() for cell in row])), frozenset())
    except csv.Error:
        return frozenset()


def _columns(file: str) -> dict[str, bool]:
    """Each column of a list, and whether it must be there."""
    if file == COMPANY_FILE:
        return dict.fromkeys(COMPANY_COLUMNS, True)
    return {column.name: not column.may_be_absent for column in LISTS[file].columns}


def _fits(header: frozenset[str], file: str) -> bool:
    columns = _columns(file)
    return {name for name, required in columns.items() if required} <= header <= columns.keys()


def _is_part(header: frozenset[str], file: str) -> bool:
    """Whether all columns of a header are a list's, those among them that say what a row is about."""
    columns = _columns(file)
    first = next(iter(columns))
    return len(header) >= _LEAST_COLUMNS and first in header and header <= columns.keys()


def _likeness(header: frozenset[str], file: str) -> float:
    columns = _columns(file).keys()
    return len(header & columns) / len(header | columns)


def _doubled(sheets: Sequence[ListSource]) -> list[Fault]:
    sources: dict[str, list[str]] = {}
    for one in sheets:
        sources.setdefault(one.file, []).append(one.source)
    return [Fault("", f"was picked {len(names)} times: {'; '.join(names)}. Pick one.", file) for file, names in sources.items() if len(names) > 1]


def _by_row(fault: Fault) -> tuple[int, int]:
    """Lists in their order, faults of a whole file first, then by row."""
    row = re.match(r"row (\d+)", fault.place)
    return (FILES.index(fault.file) if fault.file in FILES else -1), (int(row[1]) if row else 0)


def date_prices(text: str, day: dt.date) -> str:
    """The company's text with another date of the prices; a text without that row stays as it is: the reader says that it is missing."""
    rows = list(csv.reader(io.StringIO(text, newline="")))
    written = io.StringIO(newline="")
    writer = csv.writer(written, lineterminator="\n")
    place = rows[0].index("value") if rows and "value" in rows[0] else None
    for row in rows:
        dated = place is not None and "price_date" in row[:1] and len(row) > place
        writer.writerow([*row[:place], day.isoformat(), *row[place + 1 :]] if dated and place is not None else row)
    return written.getvalue()
