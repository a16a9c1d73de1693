"""Why is a number of an estimate what it is? In plain text."""

import difflib
from collections.abc import Iterator

from kit.draw.why import explain_in_words
from kit.errors import KitError
from kit.estimating import Estimate

__all__ = ["why"]

MOST_NAMES = 8


def why(estimate: Estimate, about: str) -> str:
    """How a number came about, and who says so.

    Parameters
    ----------
    estimate
        The estimate.
    about
        A row of the build-up ("price", "cost", "margin" ...), or the id of a line, a purchase, a task (its step), a finding or an assumption.

    Returns
    -------
    Text of several lines, for `print`: the number, then its working, what it is made of, its source.

    Raises
    ------
    KitError
        If the estimate holds no such number; names that are near are given.

    Examples
    --------
    >>> import kit
    >>> job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    >>> priced = kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))
    >>> print(kit.why(priced, "price").splitlines()[0].startswith("Why? Price"))
    True
    """
    known = dict(_names(estimate))
    if about in known:
        return str(explain_in_words(estimate, known[about]))
    near = difflib.get_close_matches(about, known, n=MOST_NAMES, cutoff=0.5) or [name for name in known if about in name][:MOST_NAMES]
    meant = f"Did you mean {' or '.join(near)}?" if near else 'Try "price", or an id from `frame`.'
    raise KitError(f'This estimate has no number "{about}". {meant}')


def _names(estimate: Estimate) -> Iterator[tuple[str, str]]:
    """What a person may ask about, and the same as the screens ask it; rows of the price come last and so before what has the same name."""
    yield from ((one.id, f"assume:{one.id}") for one in estimate.assumptions)
    yield from ((one.field, f"assume:{one.id}") for one in estimate.assumptions)
    yield from ((one.id, f"finding:{one.id}") for one in estimate.findings)
    yield from ((str(one.step), f"task:{one.step}") for one in estimate.tasks)
    yield from ((one.id, f"buy:{one.id}") for one in estimate.purchases)
    yield from ((one.id, f"line:{one.id}") for one in estimate.lines)
    yield from ((one.id, f"row:{one.id}") for one in estimate.build_up)
