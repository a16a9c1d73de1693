"""A finding has one number, in every drawing and in every list of its job."""

import re
from html import escape

from drawn import TOP, boxes, estimated, flag_at, numbers, texts

from kit.cli.report import check_report
from kit.draw.drawings import list_pictures
from kit.draw.level_marks import LEVEL_WORDS
from kit.draw.marks import find_part, number_findings, number_words
from kit.draw.section import draw_section
from kit.panels.check_list import draw_check_list
from kit.records import Level


def test_lists_number_what_is_not_ok_worst_first(example_estimate):
    """1, 2, 3 down the list; what is ok has none."""
    found = number_words(example_estimate.findings)
    wrong = sum(finding.level is not Level.OK for finding in example_estimate.findings)
    assert wrong
    assert found == (*(str(number) for number in range(1, wrong + 1)), *[""] * (len(found) - wrong))


def test_the_screens_and_the_report_print_them(example_estimate):
    """Before the check, in the group of its level on the screen and in what `check` says."""
    groups, report = draw_check_list(example_estimate), check_report(example_estimate)
    for number, finding in number_findings(example_estimate.findings):
        group = groups.partition(f"data-group='{LEVEL_WORDS[finding.level]}'")[2].partition("</details>")[0]
        assert f"<li><span>{number}</span><div><b>{escape(finding.check)}</b>" in group
        start = finding.check.split()[0]
        assert re.search(rf"^ *{number} {finding.level.word.upper()} +{re.escape(start)}", report, re.MULTILINE)


def test_flags_carry_them(example_estimate):
    """Each number on a flag is that of a finding that names the part, in every picture that shows it."""
    listed, flagged = dict(number_findings(example_estimate.findings)), set()
    for _, svg in list_pictures(example_estimate):
        for which in numbers(svg).values():
            flagged |= set(which)
            assert ", ".join(str(number) for number in which) in texts(svg)
    assert flagged
    assert flagged <= set(listed)
    assert all(any(find_part(part) for part in listed[number].parts) for number in flagged)


def test_a_strip_behind_the_sink_has_its_flag_behind_the_sink():
    """In the section, whose wall stands right: nearer to it than the middle of the bowl, not on the strip in front."""
    svg = draw_section(estimated(TOP))
    lefts, rights = zip(*((left, right) for left, _, right, _ in boxes(svg, "bowl")), strict=True)
    assert flag_at(svg, "rear strip")[0] > (min(lefts) + max(rights)) / 2.0
    assert "front strip" not in numbers(svg)
