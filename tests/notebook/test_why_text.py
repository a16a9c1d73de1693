"""Figures of "why?" are such as a person wants: hundredths at most, pieces whole, no zeros at the end."""

import re

import pytest
from work_jobs import STEMS, estimated

from kit.draw.why import explain_in_words


@pytest.mark.parametrize("stem", STEMS)
def test_quantities_have_two_decimals_at_most(stem):
    """In the heading, in what waste makes of it, in packs and in the working of hours; rates stand as in the lists."""
    found = estimated(stem)
    rates = {f"{rate.likely_h:g}" for rate in found.lists.rates.values()}
    abouts = [f"line:{line.id}" for line in found.lines] + [f"buy:{one.id}" for one in found.purchases] + [f"task:{task.step}" for task in found.tasks]
    told = 0
    for about in abouts:
        for line in explain_in_words(found, about).splitlines():
            if not line.startswith(("Why?", "  Waste", "  Needed", "  Packs")) and not (about.startswith("task:") and line.startswith("  Working")):
                continue
            for figure in re.findall(r"(?<![\d.])\d[\d,]*\.\d+(?! (?:x|h per))", line):
                told += 1
                assert figure in rates or float(figure.replace(",", "")) < 0.1 or len(figure.partition(".")[2]) <= 2, line
            assert not re.search(r"\d each\b", line), line
    assert told > 20


def test_the_coats_of_a_blank_read_as_hundredths():
    """173.2292 sq ft as they are worked out."""
    said = explain_in_words(estimated("wood_apron_two_bowl"), "task:coat-blank")
    assert "Working: 173.23 sq ft (coat the blank, one coat) x 0.015 h + 5.37 ft (mask the bond line) x 0.02 h" in said
    screws = explain_in_words(estimated("wood_apron_two_bowl"), "line:build-frame/screw-structural/frame")
    assert screws.startswith("Why? Structural wood screw 3 in: 36\n")
    assert "Waste: 10% of 36 makes 40 to buy" in screws


def test_a_ratio_reads_in_percent():
    """Of what it may be, not 0.6277 1."""
    found = estimated("wood_apron_two_bowl")
    spared = [explain_in_words(found, f"finding:{one.id}") for one in found.findings if one.unit == "1" and one.margin is not None]
    assert spared
    assert all(re.search(r"(To spare|Short by): \d+%", words) for words in spared)
