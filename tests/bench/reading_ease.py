"""How easy are the full sentences of the customer's papers to read? `python tests/bench/reading_ease.py`, a figure to watch.

textstat is held at 0.7.4: later versions ask for a word list that is fetched from the network. Flesch's reading ease: 60 to
70 is plain English, higher is easier; the grade is that of a US school.
"""

import re
from collections.abc import Iterable, Iterator
from typing import Any

import textstat

import kit
from kit.export.proposal import proposal_document

LEAST_WORDS = 4


def sentences_in(thing: Any) -> Iterator[str]:
    """Every full sentence in nested data."""
    if isinstance(thing, str):
        yield from (one for one in re.split(r"(?<=[.:;])\s+", thing) if one.endswith((".", ":", ";")) and len(one.split()) >= LEAST_WORDS)
    elif isinstance(thing, dict):
        yield from (one for value in thing.values() for one in sentences_in(value))
    elif isinstance(thing, Iterable):
        yield from (one for value in thing for one in sentences_in(value))


def main() -> None:
    """A line for each example's proposal; the three hardest sentences of all."""
    lists, seen = kit.load_lists(kit.shipped("price_lists")), set[str]()
    for path in sorted(kit.shipped("examples").glob("*.toml")):
        found = list(sentences_in(proposal_document(kit.estimate(kit.read_job(path), lists))))
        text, seen = " ".join(found), seen | set(found)
        print(f"{path.stem:32} {len(found)} sentences, ease {textstat.flesch_reading_ease(text):.0f}, grade {textstat.flesch_kincaid_grade(text):.1f}")
    for sentence in sorted(seen, key=textstat.flesch_reading_ease)[:12]:
        print(f"{textstat.flesch_reading_ease(sentence):5.0f}  {sentence}")


if __name__ == "__main__":
    main()
