"""Opening a promise: from what was sent, whatever this version of the kit would work out; older formats are migrated or say how to go on."""

import datetime as dt
import json
from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache, partial
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from kit.errors import Fault, IssueError, KitError
from kit.estimating import Estimate, revalue
from kit.estimating import estimate as work_out
from kit.incoming import MOST_ISSUED_BYTES, read_file
from kit.issued.file_names import kept_folder
from kit.issued.promise import Issued
from kit.issued.promised_figures import PromisedFigures, figures_of
from kit.issued.seals import FORMAT, is_sealed
from kit.job import parse_job
from kit.lists import Lists, parse_lists
from kit.lists.older import promised_texts
from kit.pricing.draws import plan_draws

__all__ = ["KIND", "open_issued", "promise_of"]


KIND = "sinkset issued estimate"
_LISTS_KEPT = 4  # of many promises most share their lists
_SHAPES: dict[str, type] = {
    "number": str,
    "revision": int,
    "issued": str,
    "changes": list,
    "against": list,
    "files": dict,
    "job": dict,
    "lists": dict,
    "result": dict,
}


def open_issued(path: Path, *, checked: bool = True) -> Issued:
    """Open an issued estimate as it was sent; where not `checked`, without holding it against its fingerprints, for tables of many jobs alone.

    Raises IssueError if the file is not an issued estimate, was changed, or is of a later version of the kit. What today's rules make of it is no reason.
    """
    return promise_of(_read(path, checked=checked), path)


def promise_of(content: Mapping[str, Any], path: Path) -> Issued:
    """The promise in a document that lies, or will lie, at a path; errors as in `open_issued`."""
    try:
        result = content["result"]
        find = _find_older if "promise" not in content else _find_figures
        return Issued(
            number=content["number"],
            revision=content["revision"],
            issued=dt.date.fromisoformat(content["issued"]),
            stop_reason=content["stop_reason"],
            changes=tuple(content["changes"]),
            sha256=content["sha256"],
            price=Decimal(result["price"]),
            cost=Decimal(result["cost"]),
            content=content,
            folder=kept_folder(path),
            find_figures=find,
            work_out=partial(_work_out, content, path.name),
            read_lists=partial(_read_lists, content, path.name),
        )
    except (KeyError, TypeError, ValueError, ArithmeticError):
        raise IssueError(Fault("", "is an incomplete issued estimate: parts are missing or damaged. Restore it from a backup.", path.name)) from None


def _not_issued(path: Path) -> Fault:
    hint = (
        " If it should be one, it is damaged: restore it from a backup."
        if path.suffix == ".json"
        else " Give the file that issuing wrote, such as K-001-r01.json."
    )
    return Fault("", f"is not an issued estimate.{hint}", path.name)


def _read(path: Path, *, checked: bool) -> dict[str, Any]:
    try:
        text = read_file(path, MOST_ISSUED_BYTES, IssueError)
        document = json.loads(text.decode(), parse_constant=_refuse_constant)
    except IssueError:
        raise
    except (ValueError, RecursionError):
        raise IssueError(_not_issued(path)) from None
    if not isinstance(document, dict) or document.get("kind") != KIND:
        raise IssueError(_not_issued(path))
    if document.get("format") not in range(1, FORMAT + 1):
        raise IssueError(
            Fault("format", f'"{document.get("format")}" is not known to this version of the kit. Open it with the one that issued it.', path.name)
        )
    wrong = next((name for name, kind in _SHAPES.items() if name in document and not isinstance(document[name], kind)), None)
    if wrong is not None or not isinstance(document.get("lists", {}).get("folder", ""), str):
        raise IssueError(Fault(wrong or "lists", "was changed after it was issued. Restore the file from your backup.", path.name))
    if checked and not is_sealed(document, text):
        raise IssueError(Fault("", "was changed after it was issued: its fingerprint does not match. Restore it from your backup.", path.name))
    return document


def _refuse_constant(name: str) -> Any:
    """Numbers that are none (NaN, Infinity) are no JSON, though the library reads them."""
    raise ValueError(name)


def _work_out(content: Mapping[str, Any], name: str) -> Estimate:
    """The estimate by today's rules, revalued again where it was."""
    try:
        again = work_out(parse_job(content["job"]), _lists_of(content))
        revalued = content.get("revalued")
        if not revalued:
            return again
        prices, terms = ({key: Decimal(value) for key, value in revalued[part].items()} for part in ("prices", "terms"))
        return revalue(again, prices, revalued["rates"], terms)
    except (KeyError, TypeError, ValueError, ArithmeticError, AttributeError, KitError) as error:
        faults = error.faults if isinstance(error, KitError) else ()
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        reason = f"{faults[0]}{more}" if faults else "its job or price lists have something this version can't read."
        sentence = (
            f"can't be worked out today: {reason} What was sent stays valid: price and papers are kept. "
            "To go on with the job, issue it again from its job file."
        )
        raise IssueError(Fault("", sentence, name)) from None


def _read_lists(content: Mapping[str, Any], name: str) -> Lists:
    try:
        return _lists_of(content)
    except (KeyError, TypeError, ValueError, ArithmeticError, AttributeError, KitError) as error:
        raise IssueError(Fault("lists", f"can't be read by this version of the kit: {error}", name)) from None


def _lists_of(content: Mapping[str, Any]) -> Lists:
    return _lists_as_promised(content["lists"]["folder"], tuple(content["lists"]["texts"].items()))


@lru_cache(maxsize=_LISTS_KEPT)
def _lists_as_promised(folder: str, texts: tuple[tuple[str, str], ...]) -> Lists:
    return parse_lists(promised_texts(dict(texts)), folder)


def _find_figures(issued: Issued) -> PromisedFigures:
    try:
        return PromisedFigures.model_validate(issued.content["promise"])
    except ValidationError as error:
        raise IssueError(Fault("promise", f"can't be read by this version of the kit: {error.errors()[0]['msg']}.", issued.document)) from None


def _find_older(issued: Issued) -> PromisedFigures:
    """The figures of a document that holds only its result: the price as promised, its payments planned by today's rules for that price."""
    try:
        return _older_figures(issued, issued.content["result"])
    except KitError:  # says already how to go on
        raise
    except (KeyError, TypeError, ValueError, ArithmeticError):
        raise IssueError(Fault("result", "is damaged and can't be read. Restore the file from your backup.", issued.document)) from None


def _older_figures(issued: Issued, result: Mapping[str, Any]) -> PromisedFigures:
    tax = next((row["amount"] for row in result["build_up"] if row["id"] == "tax-collected"), "0.00")
    return figures_of(issued.estimate, issued.issued).model_copy(
        update={
            "price": issued.price,
            "cost": issued.cost,
            "tax_collected": Decimal(tax),
            "hours": result["hours"],
            "payments": plan_draws(issued.estimate, contract=issued.price),
            "starts_on": None,
            "done_by": None,
        }
    )
