"""Why is a number of an estimate what it is? In plain text."""

import difflib
from collections.abc import Iterator

from kit.draw.why import explain_in_words
from kit.errors import KitError
from kit.estimating import Estimate
from kit.job.field_names import label_of

__all__ = ["why"]

MOST_NAMES = 8


def why(estimate: Estimate, about: str) -> str:
    """How a number came about, and who says so.

    Parameters
    ----------
    estimate
        The estimate.
    about
        A row of the build-up ("price", "cost", "margin" ...), or a line, a purchase, a task (its step), a finding or an assumption by its id, or
        by its name as it is printed, such as "Build the support frame".

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
    printed = _printed(estimate)
    asked = about.strip().casefold()
    if asked in printed:
        return "\n".join(str(explain_in_words(estimate, meant)) for meant in printed[asked])
    near = difflib.get_close_matches(about, known, n=MOST_NAMES, cutoff=0.5) or [name for name in (*known, *printed) if asked in name.casefold()][:MOST_NAMES]
    meant = f"Did you mean {' or '.join(near)}?" if near else 'Try "price", or a name from `frame`.'
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


def _printed(estimate: Estimate) -> dict[str, list[str]]:
    """What carries each name that people read, in small letters: all of one kind, such as the packs of one item; rows of the price before the rest."""
    lists, printed = estimate.lists, dict[str, list[str]]()
    kinds = (
        ((row.label, f"row:{row.id}") for row in estimate.build_up),
        ((estimate.step_names[one.step], f"task:{one.step}") for one in estimate.tasks),
        ((one.check, f"finding:{one.id}") for one in estimate.findings),
        ((label_of(one.field), f"assume:{one.id}") for one in estimate.assumptions),
        ((lists.name_of(one.item), f"buy:{one.id}") for one in estimate.purchases),
        ((lists.name_of(one.item), f"line:{one.id}") for one in estimate.lines),
    )
    for kind in kinds:
        named: dict[str, list[str]] = {}
        for name, about in kind:
            named.setdefault(name.casefold(), []).append(about)
        printed = named | printed
    return printed
