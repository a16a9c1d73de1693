"""Every printed case, one test each."""

from decimal import Decimal

import printed_cases
import pytest

from kit.sources import source

CASES = printed_cases.read_cases()


@pytest.mark.parametrize("case", CASES, ids=str)
def test_printed_case(case):
    """The kit gives what the publication prints."""
    case.check()


@pytest.mark.parametrize("case", CASES, ids=str)
def test_printed_case_names_its_source(case):
    """Each case has a key that is known and that somebody read, and says where in it the value stands."""
    assert source(case.key).status in {"published", "general web"}
    assert case.locator.strip()


def test_no_case_stands_twice():
    """The same call is printed once for each source."""
    calls = [(case.key, case.function, case.inputs) for case in CASES]
    assert len(set(calls)) == len(calls)


def test_a_wrong_case_fails():
    """The driver does compare: a printed value that is off by more than half its last digit fails."""
    right = printed_cases.PrintedCase(0, "k", "l", "kit.units.convert", "value=1; unit=in; into=mm", "25.4", "", "")
    right.check()
    wrong = printed_cases.PrintedCase(0, "k", "l", "kit.units.convert", "value=1; unit=in; into=mm", "25.5", "", "")
    with pytest.raises(AssertionError, match=r"the kit gives 25\.4"):
        wrong.check()
    assert right.allowed() == Decimal("0.05")
