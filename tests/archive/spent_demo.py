"""The invented job with its invented spending, and small tables made in a test."""

from pathlib import Path

import kit

HEAD = "date,cost_code,cost_type,text,amount,currency,hours,supplier,document,credit,job"
SPENT: Path = kit.shipped("examples") / "stone_apron_single_bowl_spent.csv"


def table(*rows: str, head: str = HEAD) -> str:
    """A table of these rows."""
    return "\n".join([head, *rows]) + "\n"
