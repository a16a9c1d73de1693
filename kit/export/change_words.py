"""A change in words for the customer: what was agreed until now and what from now on, what work comes and what falls away."""

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Any

from kit.change.effect import ChangedDraw
from kit.errors import KitError
from kit.estimating import Estimate
from kit.export.papers import sentences
from kit.export.proposal_scope import NOBODY, STAYS, excluded_parts
from kit.export.proposal_words import allowance_rows, choice_rows, help_of, scope_rows, step_sentences
from kit.issued import list_job_changes
from kit.job.field_names import label_of, lower_first, say_value
from kit.lists import Lists
from kit.lists.money_rows import ChangeFalls, WordingUse
from kit.outlook import plan_schedule
from kit.records import CostType

__all__ = ["agreed_falls_words", "changed_sentences", "changed_steps", "changed_words", "falls_choices", "falls_words", "rule_words"]

_OURS = ("terms", "prices", "identity")  # how we price, and who it is for, is no part of the work
_IN_ROWS = ("scope", "sink", "counter")  # parts of the job file whose changes the scope table and the choices show
_HEADINGS = {"Sink": "Sink and its mount", "Backsplash": "Height of the backsplash"}
_IN_SCOPE = {"plumbing.disposer": "Disposer"}  # what a row of the scope table says of itself
_SAID: dict[WordingUse, str] = {"yours": "Your part", "right": "Good to know", "term": "Agreed", "notice": "Handed over"}
_NOTHING = "not part of the work"
_READ_AT = re.compile(r"levelness\.readings\[\d+\]\.at")  # where the level was held: what it read is the change
_OTHERS = {"countertop shop": "the countertop shop", "hired trade": "a hired trade", "licensed plumber": "a licensed plumber"}


_FALLS: dict[ChangeFalls, str] = {
    "by-shares": "What {a} change adds or takes off is spread over the payments that are left, in proportion.",
    "last-draw": "What {a} change adds or takes off falls on the last payment.",
    "own-draw": "What {a} change adds is billed as a payment of its own; what it takes off comes off the last payment.",
}


_FALLS_SHORT: dict[ChangeFalls, str] = {
    "by-shares": "all payments that are left, in proportion",
    "last-draw": "the last payment",
    "own-draw": "a payment of its own; a credit comes off the last one",
}


def falls_words(rule: ChangeFalls, draws: Sequence[ChangedDraw], amount: Decimal, *, agreed: ChangeFalls) -> str:
    """Which payments a change of an amount [USD] moves, with the payments before and after it; that its rule is not the `agreed` one is said."""
    if draws and all(draw.billed or draw.paid for draw in draws if draw.before):
        return f"Every payment was billed before: the change is {'credited' if amount < 0 else 'billed as a payment of its own'}."
    only = " This is agreed for this change only." if rule != agreed else ""
    return f"{_FALLS[rule].format(a='the')}{_too_small(rule) if amount < 0 else ''}{only}"


def _too_small(rule: ChangeFalls) -> str:
    if rule == "by-shares":
        return " If it takes off more than they come to, we credit you the rest."
    return " If it takes off more than that one comes to, the ones before it shrink, too; what is left over we credit to you."


def agreed_falls_words(rule: ChangeFalls) -> str:
    """Which payments the changes of a contract move, for the paper that is signed first."""
    return f"{_FALLS[rule].format(a='a')} A change order may say otherwise."


def falls_choices(agreed: ChangeFalls) -> dict[ChangeFalls, str]:
    """Each rule by which a change may fall on payments, in a few words; the agreed one says so."""
    return {rule: f"{words}{' (as agreed)' if rule == agreed else ''}" for rule, words in _FALLS_SHORT.items()}


def rule_words(lists: Lists) -> dict[str, str]:
    """Each rule of change_rules.csv by its name, in words with its markups on own work."""
    rows = {name: row for (name, kind), row in lists.change_rules.items() if kind is CostType.LABOR}
    return {name: f"{name.replace('-', ' ')}: our work {row.on_adds * 100:g}% on adds, {row.on_credits * 100:g}% on credits" for name, row in rows.items()}


def changed_words(old: Estimate, new: Estimate) -> list[dict[str, str]]:
    """What was agreed and what becomes of it: scope, choices, then what turned out otherwise in the house."""
    parts = [*_compared(_scope(old), _scope(new))]
    whole = {_HEADINGS.get(row["what"], row["what"]) for row in parts if _NOTHING in (row["before"], row["after"])}  # of such a part no choice is said, too
    rows = [*parts, *(row for row in _compared(_choices(old), _choices(new)) if row["what"] not in whole)]
    told = [place for place, part in _IN_SCOPE.items() if any(row["what"] == part for row in rows)]
    return [*rows, *_changed_fields(old, new, (*_OURS, *(_IN_ROWS if rows else ()), *told)), *_lent(old, new)]


def _scope(estimate: Estimate) -> dict[str, str]:
    return {row["part"]: "; ".join(words for words in (row["what"], _who(row["brought"], row["fitted"])) if words) for row in scope_rows(estimate)}


def _who(supplied: str, installed: str) -> str:
    """Who supplies and installs a part, in the words of the proposal's table, "" where nobody does either."""
    supplied, installed = (_OTHERS.get(who, who) for who in (supplied, installed))
    if supplied == NOBODY:
        return "" if installed == NOBODY else f"done by {installed}"
    words = supplied if supplied == STAYS else f"supplied by {supplied}"
    return words if installed == NOBODY else f"{words}, installed by {installed}"


def _choices(estimate: Estimate) -> dict[str, str]:
    """Choices by name; of two holes alike each has its number."""
    choices: dict[str, str] = {}
    for row in choice_rows(estimate):
        name = next(name for name in (row["choice"], *(f"{row['choice']} {number}" for number in range(2, 20))) if name not in choices)
        choices[name] = row["taken"]
    return {_HEADINGS.get(name, name): taken for name, taken in choices.items() if name != "Countertop"}  # it stands in the scope table


def _compared(before: dict[str, str], after: dict[str, str]) -> Iterator[dict[str, str]]:
    for name in dict.fromkeys((*before, *after)):
        if before.get(name) != after.get(name):
            yield {"what": name, "before": before.get(name, _NOTHING), "after": after.get(name, _NOTHING)}


def _changed_fields(old: Estimate, new: Estimate, left_out: Sequence[str]) -> Iterator[dict[str, str]]:
    """Fields of the job that differ, by what they ask for, without these parts and places of the job file."""
    for place, before, after in list_job_changes(old.job_as_read, new.job_as_read):
        if not _READ_AT.fullmatch(place) and not {place, place.partition(".")[0].partition("[")[0]} & set(left_out):
            yield {"what": _asks(old, new, place), "before": _value_words(old, place, before), "after": _value_words(new, place, after)}


def _asks(old: Estimate, new: Estimate, place: str) -> str:
    """What a field asks for; what is taken from a list, or stands in a row that neither of them has, by its label."""
    for one in () if place.endswith(".item") else (new, old):
        try:
            return help_of(one.job, place)
        except (StopIteration, AttributeError, IndexError, KitError):  # a row of a list that only one of them has
            continue
    return label_of(place)


def _value_words(estimate: Estimate, place: str, value: str) -> str:
    """What a field says, in words: a choice, a flag, the name of what a list holds by its id; what nobody measured as it was assumed."""
    if not value:
        assumed = next((one.value for one in estimate.assumptions if one.field == place), "")
        return f"assumed {say_value(place, assumed)}" if assumed else "not stated"
    return lower_first(estimate.lists.name_of(value)) if place.endswith(".item") else say_value(place, value.lower() if value in {"True", "False"} else value)


def _lent(old: Estimate, new: Estimate) -> Iterator[dict[str, str]]:
    before, after = (one.job.terms.temporary_sink for one in (old, new))
    if before is not after:
        words = {True: "lent while the kitchen waits", False: _NOTHING}
        yield {"what": "Temporary sink", "before": words[before], "after": words[after]}


def changed_steps(old: Estimate, new: Estimate) -> dict[str, Any]:
    """Sentences of the work that comes and of the work that falls away, in the order of the calendar."""
    before, after = (step_sentences(one, plan_schedule(one)) for one in (old, new))
    return {
        "comes": [sentence for sentence in after if sentence not in before],
        "goes": [sentence for sentence in before if sentence not in after],
    }


def changed_sentences(old: Estimate, new: Estimate) -> dict[str, list[str]]:
    """What the proposal would say besides the work that this contract did not say so far, and what of it no longer holds."""
    before, after = (list(_sentences_besides(one)) for one in (old, new))
    parts = tuple(
        f"Not included: {row['what']}: " for row in _compared(_scope(old), _scope(new))
    )  # that one of them is part of the work now is said in the table
    return {
        "says": [says for says in after if says not in before],
        "says-no-more": [says for says in before if says not in after and not says.startswith(parts)],
    }


def _sentences_besides(estimate: Estimate) -> Iterator[str]:
    """What is not included, the customer's part, rights, terms and notices, allowances with what was taken."""
    yield from (f"Not included: {says}" for says in excluded_parts(estimate))
    for use, heading in _SAID.items():
        yield from (f"{heading}: {says}" for says in sentences(estimate, use))
    yield from (f"Allowance: {row['what']}, {row['taken']}" for row in allowance_rows(estimate))
