"""Is a price list that came in perhaps a part of one, or an empty form? What is asked before it takes the place of the whole."""

import datetime as dt
from collections.abc import Iterable, Mapping

from kit.draw.tables import count_words
from kit.lists import Lists
from kit.panels.job_files import FROM_EXAMPLES
from kit.repricing import Repriced

__all__ = ["list_doubts", "lost_prices"]

_NAMED = 3


def list_doubts(old: Lists, new: Lists, day: dt.date) -> list[str]:
    """What speaks against taking new lists into use on a day, in sentences; none where nothing does.

    Parameters
    ----------
    old, new
        The lists in use, and those that may take their place.
    day
        The day from which they are to be used.
    """
    before, after = ({item for item, prices in lists.prices.items() if any(price.holds_on(day) for price in prices)} for lists in (old, new))
    free = {item for item, prices in new.prices.items() if any(price.holds_on(day) and not price.price for price in prices)}
    free -= {item for item, prices in old.prices.items() if any(price.holds_on(day) and not price.price for price in prices)}
    return [
        *(
            [f"{len(before - after)} of {count_words(len(before), 'item')} would no longer have a price: {_name(old, before - after)}."]
            if before - after
            else []
        ),
        *([f"{count_words(len(free), 'item')} would cost nothing: {_name(new, free)}."] if free else []),
    ]


def lost_prices(repriced: Iterable[Repriced], titles: Mapping[str, str]) -> list[str]:
    """Which jobs, or examples in their place, would no longer have a price, in a sentence; none where every one keeps its price."""
    lost = [one.name for one in repriced if one.before is not None and one.after is None]
    if not lost:
        return []
    what = count_words(len(lost), "example") if lost[0].startswith(FROM_EXAMPLES) else f"{count_words(len(lost), 'job')} on hand"
    return [f"{what} would no longer have a price: {_shorten([titles.get(name, name) for name in lost])}."]


def _name(lists: Lists, items: set[str]) -> str:
    return _shorten(sorted(lists.name_of(item) for item in items))


def _shorten(names: list[str]) -> str:
    more = len(names) - _NAMED
    return "; ".join(names[:_NAMED]) + (f" and {more} more" if more > 0 else "")
