"""Lists with some cells changed in memory: read and checked anew like a file, under fingerprints of their own, and named as changed."""

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import replace

from kit.errors import Fault, ListError
from kit.lists.company import COMPANY_FILE
from kit.lists.list_files import LISTS
from kit.lists.load import Lists, parse_lists

__all__ = ["change_lists"]


def change_lists(lists: Lists, changes: Mapping[str, str]) -> Lists:
    """The lists with some cells changed; no file is touched.

    Parameters
    ----------
    lists
        The lists; they stay as they are.
    changes
        What stands in a cell from now on, as it is typed in the file, by "LIST/ROW/COLUMN": "rates/set-sink/likely": "3 h",
        "company/wage/value": "32.00 USD". A row that needs several words to be told has "@" between them: "prices/lumber-2x4@96 in stick/price".

    Returns
    -------
    Lists that say "changed in memory", as everything written from them does; an estimate from them can be issued, since the promise holds the lists.

    Raises
    ------
    ListError
        If there is no such list, row or column, the row is not the only one, or the lists are not sound with the change: all faults together.

    Examples
    --------
    >>> import kit
    >>> lists = kit.load_lists(kit.shipped("price_lists"))
    >>> dearer = kit.change_lists(lists, {"prices/lumber-2x4@96 in stick/price": "5.60"})
    >>> dearer.retyped, dearer.folder_words
    (('prices.csv',), 'price_lists, changed in memory')
    """
    texts, faults = dict(lists.texts), list[Fault]()
    for place, typed in changes.items():
        file = f"{place.partition('/')[0].removesuffix('.csv')}.csv"
        if file in texts:
            texts[file] = _changed(texts[file], file, place, typed, faults)
        else:
            faults.append(Fault(place, f"names no list. Use one of: {', '.join(name.removesuffix('.csv') for name in texts)}."))
    if faults:
        raise ListError(faults)
    retyped = tuple(name for name, text in texts.items() if name in lists.retyped or text != lists.texts[name])
    return replace(parse_lists(texts, lists.folder), retyped=retyped)


def _changed(text: str, file: str, place: str, typed: str, faults: list[Fault]) -> str:
    """The text of a list with one cell changed; as it was where the place is not one cell of it."""
    header, *rows = csv.reader(io.StringIO(text, newline=""))
    row, _, column = place.partition("/")[2].rpartition("/")
    keys = ["key"] if file == COMPANY_FILE else [known.name for known in LISTS[file].keys]
    places = [header.index(key) for key in keys if key in header]
    matching = [cells for cells in rows if set(row.split("@")) <= set(_cells(cells, places))]
    if column not in header:
        faults.append(Fault(place, f"has no column of that name. Use one of: {', '.join(header)}."))
    elif len(matching) != 1:
        near = "; ".join("@".join(_cells(cells, places)) for cells in matching[:6])
        faults.append(Fault(place, f"is {len(matching)} rows; name one of them: {near}." if matching else f"is not a row of {file}."))
    else:
        matching[0][header.index(column)] = typed
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\n").writerows([header, *rows])
    return out.getvalue()


def _cells(cells: list[str], places: list[int]) -> Iterator[str]:
    return (cells[at].strip() for at in places if at < len(cells) and cells[at].strip())
