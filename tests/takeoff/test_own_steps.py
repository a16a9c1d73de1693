"""A takeoff step that a person brings along: its lines stand last, as it wrote them; what can't be counted or bought is refused in words."""

from dataclasses import replace

import pytest
from work_jobs import STONE, estimated, lists

from kit.errors import KitError
from kit.records import Kind, Piece
from kit.steps import Step
from kit.takeoff.takeoff import name_of_step, take_off
from kit.takeoff.working import number, pieces_length


def count_corbels(sheet):
    pieces = (Piece(24.0, 2, "corbel"),)
    return [
        sheet.buy("build-frame", "lumber-2x4", "corbels", pieces_length(pieces) / number(12), pieces=pieces),
        sheet.do("build-frame", "frame-member", "corbels", number(2, "corbels")),
        sheet.do("build-frame", "frame-member", "none", number(0, "more")),
    ]


def taken_off(*counts):
    found = estimated(STONE)
    return take_off(found.job, found.design, lists(), counts)


def test_its_lines_stand_last_and_those_of_nothing_are_left_out():
    """Two pieces of 24 in are 4 ft of lumber, and two members to build; a step named by its text is one all the same."""
    plain, found = taken_off(), taken_off(count_corbels)
    assert found[: len(plain)] == plain
    hand_lines = [(Kind.BUY, "lumber-2x4", 4.0), (Kind.DO, "frame-member", 2.0)]
    assert [(line.kind, line.item, line.quantity) for line in found[len(plain) :]] == hand_lines
    assert all(line.step is Step.BUILD_FRAME for line in found[len(plain) :])


def test_sheets_are_counted_by_area():
    """A panel of 24 x 18 in is 3 sq ft; another quantity is refused."""
    piece = (Piece(24.0, 1, "shelf", 18.0),)
    (line,) = taken_off(lambda sheet: [sheet.buy("build-frame", "plywood-1-2", "shelf", number(3, "sq ft"), pieces=piece)])[-1:]
    assert (line.quantity, line.unit) == (3.0, "sq ft")
    with pytest.raises(KitError, match=r"counts 2 sq ft of .*, but its pieces come to 3 sq ft"):
        taken_off(lambda sheet: [sheet.buy("build-frame", "plywood-1-2", "shelf", number(2, "sq ft"), pieces=piece)])


@pytest.mark.parametrize(
    ("count", "wording"),
    [
        (lambda sheet: None, "without a name gives no list of lines"),
        (lambda sheet: [1], "gives no list of lines"),
        (lambda sheet: [replace(count_corbels(sheet)[0], step="paint")], 'is of the step "paint", which there is not'),
        (lambda sheet: [replace(count_corbels(sheet)[0], quantity=-1.0)], "counts -1 ft: no quantity"),
        (lambda sheet: [replace(count_corbels(sheet)[1], quantity=float("inf"))], "counts inf each: no quantity"),
        (lambda sheet: count_corbels(sheet) + count_corbels(sheet), "which is there already"),
        (lambda sheet: [sheet.buy("build-frame", "lumber-2x4", "corbels", number(4, "ft"))], "which is cut, without its pieces"),
        (lambda sheet: [replace(count_corbels(sheet)[0], quantity=48.0)], "counts 48 ft of 2x4 framing lumber, but its pieces come to 4 ft"),
        (lambda sheet: [sheet.buy("build-frame", "corbel-oak", "corbels", number(2))], 'item "corbel-oak" is not in any list'),
        (lambda sheet: [sheet.do("build-frame", "carve", "corbels", number(2))], 'driver "carve" has no rate'),
        (lambda sheet: [sheet.do("seal", "frame-member", "corbels", number(2))], "belongs to the step build-frame, not seal"),
    ],
)
def test_a_faulty_own_step_is_refused_in_words(count, wording):
    """Never an exception of another kind."""
    with pytest.raises(KitError, match=wording):
        taken_off(count)


def test_a_step_is_called_as_its_function():
    assert name_of_step(count_corbels) == "count_corbels"
    assert name_of_step(lambda sheet: []) == "without a name"
