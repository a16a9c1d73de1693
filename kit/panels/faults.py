"""What is wrong with entries that were not taken over, as a person reads it: at the field, in the list above, and before anything goes out."""

import re
from collections.abc import Mapping, Sequence
from html import escape

from kit.errors import Fault, KitError
from kit.failures import keep_details
from kit.job import Job
from kit.job.field_names import label_of
from kit.panels.job_state import Refused
from kit.panels.visit_steps import link_to_field, part_of
from kit.whole_files import explain_os_error

__all__ = ["draw_faults", "explain_failure", "explain_refused", "list_open", "say_fault"]

_FIELD = re.compile(r'"[^"]*"|\b[a-z]+(?:_[a-z]+)*(?:\[\d+\])?\.[a-z_]+(?:\[\d+\])?(?:\.[a-z_]+)*|\b[a-z]+(?:_[a-z]+)+\b')


def explain_refused(place: str, entry: Refused) -> str:
    """Why an entry is not taken over; another field is named where the fault lies between two."""
    return " ".join(_capital(_words(fault, place)) for fault in entry.faults)


def _words(fault: Fault, place: str) -> str:
    """A fault at a place in the words of the screen, where fields have names and no paths."""
    message = _FIELD.sub(_name_field, fault.message)
    return message if not fault.place or place.startswith(fault.place) else str(Fault(label_of(fault.place), message))


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _name_field(match: re.Match[str]) -> str:
    """What was typed stays as it was typed, between quotes; a field by its path gets its name."""
    words = match[0]
    return words if words.startswith('"') else label_of(words) if "." in words else words.replace("_", " ")


def say_fault(fault: Fault) -> str:
    """A fault on a line of its own: file, field by its name, and what is wrong. The places in a list are rows, and stay as they are."""
    if part_of(fault.place) not in Job.model_fields:
        return str(fault)
    return str(Fault(label_of(fault.place), _words(fault, fault.place), fault.file))


def explain_failure(error: Exception) -> str:
    """Why something failed, as a sentence: what a person can mend, what the disk refuses, or a fault of the program and where its details lie."""
    if isinstance(error, KitError):
        return " ".join(say_fault(fault) for fault in error.faults)
    if isinstance(error, OSError):
        return f"{explain_os_error(error)}."
    return f"the program's fault, not yours. {keep_details(error)}"


def list_open(refused: Mapping[str, Refused]) -> list[str]:
    """A sentence for each fault of an entry that waits to be mended, with the name of its field."""
    return [str(Fault(label_of(place), _words(fault, place))) for place, entry in refused.items() for fault in entry.faults]


def draw_faults(refused: Mapping[str, Refused], trouble: Sequence[Fault] = ()) -> str:
    """The list above the fields: what is not taken over, each field a way to it, and what could not be worked out; empty where all is well."""
    lines = [_lead(place, _words(fault, place), fault) for place, entry in refused.items() for fault in entry.faults]
    lines += [escape(_capital(_words(fault, fault.place))) for fault in trouble]
    if not lines:
        return ""
    return f"<div class='sk-faults' role='alert'>Not accepted: {''.join(f'<div>{line}</div>' for line in lines)}</div>"


def _lead(place: str, words: str, fault: Fault) -> str:
    """What is wrong with an entry, its field's name a way to it; so is that of another field in which the fault lies."""
    label, other = label_of(place), fault.place
    says = escape(str(Fault(label, words)).removeprefix(label))
    if other and not place.startswith(other) and part_of(other) in Job.model_fields:
        says = says.replace(escape(label_of(other)), link_to_field(other, label_of(other)), 1)
    return f"{link_to_field(place, label)}{says}"
