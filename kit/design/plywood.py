"""Which sheet of plywood is a panel of some thickness cut from?"""

from functools import lru_cache

from kit.sources import rows_under

__all__ = ["sheet_item"]


@lru_cache(maxsize=64)
def sheet_item(thick_in: float) -> str:
    """The item of items.csv that comes nearest to a thickness [in], the thicker of two as near."""
    sheets = {item: row.value for item, row in rows_under("practice", "sheet").items()}
    return min(sheets, key=lambda item: (abs(sheets[item] - thick_in), -sheets[item]))
