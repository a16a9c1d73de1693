"""Every line's working, worked out again by a second reading of its language, gives the line's quantity."""

from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from job_moves import example_paths, read_example
from random_jobs import random_job
from recompute import BasisError, recompute
from takeoff_jobs import changed, lists

from kit.design.design import design_job
from kit.job import Job, fill_assumptions
from kit.records import Kind, Line
from kit.sources import sources
from kit.takeoff.takeoff import take_off
from kit.takeoff.working import Amount, counted, number, round_up, total

FEW, MANY = 100, 1_500  # random jobs


def lines_of(job: Job) -> tuple[Line, ...]:
    """Lines of a job as typed."""
    filled, _ = fill_assumptions(job)
    return take_off(filled, design_job(filled, lists()), lists())


def wrong_lines(lines: Iterable[Line]) -> list[str]:
    """Lines whose working gives another quantity, or none."""
    found = []
    for line in lines:
        try:
            again = recompute(line.basis)
        except BasisError as error:
            found.append(f"{line.id}: {error}")
            continue
        if again != pytest.approx(line.quantity, rel=1e-8, abs=1e-9):
            found.append(f"{line.id}: {line.quantity} {line.unit}, but {line.basis!r} gives {again}")
    return found


@pytest.mark.parametrize("path", example_paths(), ids=lambda path: path.stem)
def test_basis_gives_the_quantity_in_every_example(path):
    """No line of a shipped job says one thing and counts another."""
    lines = lines_of(read_example(path))
    assert lines
    assert wrong_lines(lines) == []


def test_basis_gives_the_quantity_in_random_jobs():
    """The same for jobs of every kind, to both ends of every range."""
    for seed in range(FEW):
        lines = lines_of(random_job(seed))
        assert lines, f"seed {seed}"
        assert wrong_lines(lines) == [], f"seed {seed}"


@pytest.mark.long
def test_basis_gives_the_quantity_in_many_random_jobs():
    """The same for many more."""
    assert {seed: wrong for seed in range(FEW, MANY) if (wrong := wrong_lines(lines_of(random_job(seed))))} == {}


def test_lines_have_their_own_ids_and_known_sources():
    """An id stands once; a source is a key of the sources; no quantity is negative."""
    for seed in range(FEW):
        lines = lines_of(random_job(seed))
        ids = [line.id for line in lines]
        assert len(ids) == len(set(ids)), f"seed {seed}: {sorted(name for name in set(ids) if ids.count(name) > 1)}"
        assert {line.source for line in lines} <= set(sources())
        assert all(line.quantity > 0.0 for line in lines)


words = st.text(alphabet="abcdefgh ", max_size=12).map(lambda text: " ".join(part for part in text.split() if part != "x"))
leaves = st.builds(number, st.one_of(st.integers(-50, 5000), st.floats(-500, 500).map(lambda value: round(value * 64) / 64), st.floats(1e-9, 1e9)), words)


@st.composite
def amounts(draw: st.DrawFn) -> Amount:
    """A sum of products of sums, as deep as takeoff goes and deeper."""
    made = draw(leaves)
    for _ in range(draw(st.integers(0, 6))):
        other = draw(leaves)
        match draw(st.sampled_from("+-x/ut")):
            case "+":
                made = made + other
            case "-":
                made = other - made
            case "x":
                made = other * made
            case "/":
                made = made / (number(2) + number(abs(other.value)))
            case "u":
                made = round_up(made) if abs(made.value) < 1e6 else made
            case _:
                made = total([made, other])
    return made


@given(amounts())
def test_whatever_is_written_reads_back(amount):
    """The writer and the second reader agree on brackets, signs and fractions.

    Figures keep ten digits; where large parts cancel, what is left may be off by that much of the parts.
    """
    assert recompute(amount.text) == pytest.approx(amount.value, rel=1e-6, abs=max(1e-3, 1e-8 * largest(amount.text)))


def largest(text: str) -> float:
    """A bound for every part of a working: the product of its numbers above one."""
    bound = 1.0
    for part in text.replace("(", " ").replace(")", " ").split():
        if part.lstrip("-").replace(".", "", 1).isdecimal():
            bound *= max(1.0, abs(float(part)))
    return bound


@pytest.mark.parametrize(
    ("basis", "hand_value"),
    [
        ("3 supports", 3.0),
        ("20 1/2 in", 20.5),
        ("1/2", 0.5),
        ("2 side cleats x 20 1/2 in + 1 rear cross piece x 31 in", 72.0),
        ("(96 in + 25 1/2 in) / 12 in a foot", 10.125),
        ("5 - (2 - 1)", 4.0),
        ("8 / 4 / 2", 1.0),
        ("round up (110 in / 12 in) x 2 rows", 20.0),
        ("round up (3 ft / 0.9999999999)", 3.0),
        ("6 / 1/2", 12.0),
        ("-3 + 5", 2.0),
    ],
)
def test_second_reader_by_hand(basis, hand_value):
    """Workings small enough to do in one's head."""
    assert recompute(basis) == pytest.approx(hand_value)


@pytest.mark.parametrize(
    ("basis", "wording"),
    [
        ("", "ends too early"),
        ("some words", "'some' stands where a number is wanted"),
        ("(2 + 3", "ends too early"),
        ("2 + ", "ends too early"),
        ("2 parts in run 1", "the word '1' holds a digit"),
        ("2 ) 3", r"left over from '\)'"),
        ("1e5 in", "'1e5' stands where"),
    ],
)
def test_second_reader_refuses_what_is_no_working(basis, wording):
    """A digit in a word, an open bracket or a missing part is found, not guessed at."""
    with pytest.raises(BasisError, match=wording):
        recompute(basis)


@pytest.mark.parametrize(("value", "hand_text"), [(0, "0 stops"), (1, "1 stop"), (2, "2 stops"), (1.5, "1 1/2 stops")])
def test_counted_takes_the_form_that_fits(value, hand_text):
    """One is singular, nothing and more are plural."""
    assert counted(value, "stop", "stops").text == hand_text


@pytest.mark.parametrize(
    ("value", "hand_text"), [(0.00002, "0.00002"), (1e-9, "0.000000001"), (12345678901.25, "12345678901 1/4"), (1 / 3, "0.3333333333"), (-0.5, "-0.5")]
)
def test_figures_have_no_powers(value, hand_text):
    """Very small and very large numbers are written out."""
    assert number(value).text == hand_text


@pytest.mark.parametrize(("own", "hand_waste"), [(None, None), ("12 %", 0.12)])
def test_only_what_is_bought_and_not_planned_piece_by_piece_has_waste(own, hand_waste):
    """Work, hired trades and fees are as much as they are; goods take the share of their own row, or the job's in its place."""
    job = changed({"terms.waste": own})
    lines = take_off(job, design_job(job, lists()), lists())
    assert {line.kind for line in lines} == set(Kind)
    rows = {line.id: lists().item(line.item).waste if line.kind is Kind.BUY and not line.pieces else 0.0 for line in lines}
    assert {line.id: line.waste for line in lines} == {name: hand_waste if share and hand_waste else share for name, share in rows.items()}
    assert sum(share > 0 for share in rows.values()) > 3
