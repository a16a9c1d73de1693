"""A promise as opened: what was sent stands in it as numbers and files; what today's rules would give is worked out only when asked for."""

import datetime as dt
import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property
from pathlib import Path
from typing import Any

from kit.document import estimate_document
from kit.errors import Fault, IssueError
from kit.estimating import Estimate
from kit.issued.promised_figures import PromisedFigures, figures_of
from kit.issued.todays_rules import Differences, find_differences
from kit.job.prices import lists_words
from kit.lists import Lists
from kit.pricing.draws import DrawSchedule

__all__ = ["Issued"]


@dataclass(frozen=True)
class Issued:
    """An issued estimate as opened: number, revision, day, why it was issued in spite of what speaks against it, what changed, and its content.

    `sha256` is the fingerprint of the promise, as its papers show it; `content` is the document; `folder` keeps the files that were sent, None for
    one that isn't written. Price and cost [USD] are those of the document.
    """

    number: str
    revision: int
    issued: dt.date
    stop_reason: str | None
    changes: tuple[str, ...]
    sha256: str
    price: Decimal
    cost: Decimal
    content: Mapping[str, Any] = field(repr=False, compare=False)
    folder: Path | None = field(repr=False, compare=False)
    find_figures: Callable[["Issued"], PromisedFigures] = field(repr=False, compare=False)
    work_out: Callable[[], Estimate] = field(repr=False, compare=False)
    read_lists: Callable[[], Lists] = field(repr=False, compare=False)

    @classmethod
    def of(cls, estimate: Estimate, number: str, revision: int, day: dt.date, sha256: str) -> "Issued":
        """An estimate that has just been worked out, as if it were opened."""
        content = {"result": estimate_document(estimate)}
        return cls(
            number,
            revision,
            day,
            None,
            (),
            sha256,
            estimate.price,
            estimate.cost,
            content,
            None,
            lambda _: figures_of(estimate, day),
            lambda: estimate,
            lambda: estimate.lists,
        )

    @property
    def document(self) -> str:
        """Number and revision, such as `DEMO-001-r02`."""
        return f"{self.number}-r{self.revision:02d}"

    @property
    def customer(self) -> str:
        """Who the customer is, and where, as its papers say."""
        identity = self.content["result"]["job"]["identity"]
        return f"{identity['customer']}, {identity['address']}"

    @property
    def lists_words(self) -> str:
        """Whose price lists it was issued with; earlier versions did not write that down."""
        lists = self.content["lists"]
        return lists_words(lists["folder"], of_the_kit=lists["of_the_kit"]) if "of_the_kit" in lists else f"Price lists: folder {lists['folder']}."

    @cached_property
    def figures(self) -> PromisedFigures:
        """What was promised, as numbers.

        Raises IssueError if the document is of an earlier version that did not hold them, and today's rules don't give them either.
        """
        return self.find_figures(self)

    @cached_property
    def lists(self) -> Lists:
        """The lists that it was issued with. Raises IssueError if this version of the kit can't read them."""
        return self.read_lists()

    @property
    def draws(self) -> DrawSchedule:
        """The payments as they were promised; errors as `figures`."""
        return self.figures.payments

    @cached_property
    def estimate(self) -> Estimate:
        """The estimate by today's rules, from the job and the lists in the document; `differences` says where it is another.

        Raises
        ------
        IssueError
            If today's rules can't work it out; it says how to go on.
        """
        return self.work_out()

    def differences(self) -> Differences:
        """What it would be by today's rules."""
        try:
            today = self.estimate
        except IssueError as error:
            return Differences((), None, "; ".join(fault.message for fault in error.faults))
        return find_differences(self.content["result"], today)

    @property
    def overruled(self) -> tuple[str, ...]:
        """What spoke against it as it was issued with a reason; none where nothing did."""
        return tuple(self.content.get("against", (self.stop_reason,) if self.stop_reason else ()))

    @property
    def file_names(self) -> tuple[str, ...]:
        """The files that were sent with it and are kept beside it; none with those of an earlier version."""
        return tuple(self.content.get("files", {}))

    def file(self, name: str) -> bytes:
        """A file as it was sent, byte for byte. Raises IssueError if it is not among them, is gone, or is not as it was sent."""
        if self.folder is None or name not in self.file_names:
            raise IssueError(Fault("", f"was not sent with {self.document}.", name))
        try:
            content = (self.folder / name).read_bytes()
        except OSError as error:
            sentence = f"was sent with {self.document} and can't be read: {error.strerror or error}. Take it back from your backup."
            raise IssueError(Fault("", sentence, f"{self.folder.name}/{name}")) from None
        if hashlib.sha256(content).hexdigest() != self.content["files"][name]:
            raise IssueError(
                Fault("", "was changed after it was sent: its fingerprint does not match. Restore it from your backup.", f"{self.folder.name}/{name}")
            )
        return content

    def files(self) -> dict[str, bytes]:
        """Every file as it was sent, by name; errors as in `file`."""
        return {name: self.file(name) for name in self.file_names}
