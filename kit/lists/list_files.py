"""Every list by its file, in the order in which people see them: goods, work, money, the company."""

from kit.lists import goods_rows, money_rows, work_rows
from kit.lists.column_rules import DECLARED, ListKind
from kit.lists.company import COMPANY_FILE

__all__ = ["FILES", "LISTS"]

LISTS: dict[str, ListKind] = {kind.file: kind for rows in (goods_rows, work_rows, money_rows) for kind in DECLARED if kind.row.__module__ == rows.__name__}
FILES = (*LISTS, COMPANY_FILE)
