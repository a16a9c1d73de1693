"""Every field of a job has a name of its own in a tradesperson's words, help, and words for its choices."""

import csv
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import kit
from kit.job import Job
from kit.job.field_names import field_labels, label_of, say_choice
from kit.job.fields import Record, Rule
from kit.job.file import record_in

LONGEST = 36  # letters: what stands beside an entry on a tablet


def walk(record: type[Record], path: str = "") -> Iterator[tuple[str, Rule | None]]:
    """Places of all fields and parts that a job can have, with [] for a list's number, and the rule of each field."""
    for name, field in record.model_fields.items():
        place, rule = f"{path}{record.key(name)}", record.rules.get(name)
        yield place, rule
        inner = record_in(field.annotation) if rule is None else None
        if inner is not None and "tuple" in str(field.annotation):
            yield f"{place}[]", None
            yield from walk(inner, f"{place}[].")
        elif inner is not None:
            yield from walk(inner, f"{place}.")


PLACES = dict(walk(Job))
FIELDS = {place: rule for place, rule in PLACES.items() if rule is not None}


def test_every_field_has_a_label_of_its_own_and_none_is_made_from_its_name():
    """The table of labels names every field and part and nothing else; no two fields of the job share a label."""
    labels = field_labels()
    assert set(labels) == set(PLACES)
    assert [label for label, times in Counter(labels[place] for place in FIELDS).items() if times > 1] == []
    assert [label for label in labels.values() if len(label) > LONGEST or "_" in label or not label[:1].isupper()] == []


def test_every_field_says_what_it_is():
    """A word or two more than the label: whoever asks learns where it is measured."""
    assert [place for place, rule in FIELDS.items() if len(rule.help) <= len("Name of it")] == []
    assert [place for place, rule in FIELDS.items() if re.search(r"\.csv|\.toml|_[a-z]|(?<!\w)'[a-z]", rule.help)] == []


def test_labels_number_the_parts_of_lists_and_give_units():
    """The second bowl is bowl 2; a key that no job has is still told from its part."""
    assert label_of("sink.bowls[2].depth", "in") == "Bowl 2: inside depth [in]"
    assert label_of("counter.runs[1]") == "Run 1"
    assert label_of("cabinet.widht") == "Cabinet: widht"


def test_choices_are_words():
    """Each row of the table of choices is a choice of a field; abbreviations stand in capitals, two choices of one field never read alike."""
    choices = {(place.rpartition(".")[2], option) for place, rule in FIELDS.items() for option in rule.options}
    with (Path(kit.__file__).parent / "job" / "choice_words.csv").open(encoding="utf-8", newline="") as file:
        assert [row for row in csv.DictReader(file) if (row["field"], row["choice"]) not in choices] == []
    said = {place: [say_choice(place, option) for option in rule.options] for place, rule in FIELDS.items() if rule.options}
    assert [words for words in said.values() if len(set(words)) < len(words)] == []
    assert [word for words in said.values() for word in words if word in {"pvc", "abs", "irc", "ipc", "upc", "ca", "tx", "ny", "mdf", "pex"}] == []
    assert say_choice("scope.sink.supplied_by", "fabricator") == "the countertop shop"
