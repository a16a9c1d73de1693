"""The estimate as one document: complete, plain, and the same bytes for the same estimate."""

import json
from dataclasses import dataclass, fields
from decimal import Decimal

import pytest

from kit import Estimate
from kit.document import document_bytes, estimate_document, findings_document, money_text, plain
from kit.job import fill_assumptions, parse_job
from kit.records import Assumption, BuildUp, Finding, Level, Line, Purchase, Task

RECORDS = {"findings": Finding, "lines": Line, "purchases": Purchase, "tasks": Task, "build_up": BuildUp, "assumptions": Assumption}


def test_items_carry_their_records_field_names(example_estimate: Estimate) -> None:
    """One item for each record, one key for each field."""
    document = estimate_document(example_estimate)
    for key, record in RECORDS.items():
        assert len(document[key]) == len(getattr(example_estimate, key))
        for item in document[key]:
            assert list(item) == [field.name for field in fields(record)]


def test_the_document_survives_json(example_estimate: Estimate) -> None:
    """Written and read back it is the same; no number is infinite or none."""
    document = estimate_document(example_estimate)
    data = document_bytes(document)
    assert json.loads(data) == document
    assert data.endswith(b"}\n")
    assert document_bytes(estimate_document(example_estimate)) == data


def test_the_job_in_the_document_can_be_read_as_a_job(example_estimate: Estimate) -> None:
    """It is the job that was priced, assumptions filled in: nothing is left to assume, and what was is listed beside it."""
    filled, assumptions = fill_assumptions(parse_job(estimate_document(example_estimate)["job"]))
    assert (filled.model_dump(), assumptions) == (example_estimate.job.model_dump(), ())


def test_a_checks_document_has_no_money(example_estimate: Estimate) -> None:
    """What was found, assumed and read, and nothing that only the owner should see."""
    document = findings_document(example_estimate)
    assert list(document) == ["job", "mount", "buildable", "findings", "assumptions", "lists"]


@dataclass(frozen=True)
class Sample:
    """One field of each kind."""

    length_in: float
    share: float
    unit_price: Decimal
    amount: Decimal
    level: Level
    nothing: None
    parts: tuple[str, ...]


def test_each_kind_of_value_by_hand() -> None:
    """Lengths with unit, money with cents, prices with up to four decimals, no minus zero, noise of floats taken off."""
    sample = Sample(0.1 + 0.2, -0.0, Decimal("0.0425"), Decimal("1234.5"), Level.STOP, None, ("a", "b"))
    assert plain(sample) == {
        "length_in": "0.3 in",
        "share": 0.0,
        "unit_price": "0.0425",
        "amount": "1234.50",
        "level": "stop",
        "nothing": None,
        "parts": ["a", "b"],
    }
    assert str(plain(sample)["share"]) == "0.0"
    assert plain(Sample(20.5, 1 / 3, Decimal("5.1"), Decimal(0), Level.OK, None, ()))["length_in"] == "20 1/2 in"
    assert plain(Sample(20.5, 1 / 3, Decimal("5.1"), Decimal(0), Level.OK, None, ()))["unit_price"] == "5.10"


def test_money_is_rounded_half_up() -> None:
    """Away from zero."""
    assert [money_text(Decimal(text)) for text in ("2.675", "-2.675", "0", "1E+3")] == ["2.68", "-2.68", "0.00", "1000.00"]


def test_no_number_is_written_that_json_does_not_know() -> None:
    """Infinite or not a number is refused, not written."""
    with pytest.raises(ValueError, match="not JSON compliant"):
        document_bytes({"x": float("nan")})
