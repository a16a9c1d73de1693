"""The takeoff sheet: what every step's function is given, and how it writes a line."""

from collections.abc import Callable
from dataclasses import dataclass, field

from kit.design.design import Design
from kit.errors import Fault, ListError
from kit.job import FilledJob
from kit.job.scope import ScopeItem
from kit.lists import Lists
from kit.records import Kind, Line, Piece
from kit.steps import Step
from kit.takeoff.working import Amount, number

__all__ = ["ALLOWANCE", "PLUMBER", "Sheet"]

ALLOWANCE = "allowance"
PLUMBER = "hire-plumber"


@dataclass(frozen=True, slots=True, eq=False)
class Sheet:
    """One job, its design and the lists, on the way to lines."""

    job: FilledJob
    design: Design
    lists: Lists
    _counted: dict[Callable[["Sheet"], list[Line]], list[Line]] = field(default_factory=dict, init=False, repr=False)

    def lines_of(self, count: Callable[["Sheet"], list[Line]]) -> list[Line]:
        """The lines that a step's function writes: counted once, however many steps ask."""
        if count not in self._counted:
            self._counted[count] = count(self)
        return self._counted[count]

    def buy(
        self,
        step: Step,
        item: str,
        part: str,
        amount: Amount,
        *,
        source: str = "job",
        pieces: tuple[Piece, ...] = (),
        parts: tuple[str, ...] = (),
    ) -> Line:
        """Something to buy, in the item's own unit; planned pieces carry no waste."""
        row = self.lists.item(item)
        terms = self.job.terms.waste_share
        waste = 0.0 if pieces else row.waste if terms is None or row.waste == 0.0 else terms
        return Line(f"{step}/{item}/{part}", step, Kind.BUY, item, amount.value, row.unit, waste, pieces, amount.text, source, parts)

    def do(self, step: Step, driver: str, part: str, amount: Amount, *, source: str = "job", parts: tuple[str, ...] = ()) -> Line:
        """Work to do, in the unit of its rate."""
        rate = self.lists.rate(driver)
        if rate.step != step:
            raise ListError(Fault(f'driver "{driver}"', f"belongs to the step {rate.step}, not {step}.", "rates.csv"))
        return Line(f"{step}/{driver}/{part}", step, Kind.DO, driver, amount.value, rate.unit, 0.0, (), amount.text, source, parts)

    def hire(self, step: Step, item: str, part: str, amount: Amount, *, source: str = "job", parts: tuple[str, ...] = ()) -> Line:
        """Work of a hired trade or a fabricator, priced like an item."""
        return Line(f"{step}/{item}/{part}", step, Kind.HIRE, item, amount.value, self.lists.item(item).unit, 0.0, (), amount.text, source, parts)

    def fee(self, step: Step, item: str, part: str, amount: Amount, *, source: str = "job") -> Line:
        """A fee: permit, disposal, parking."""
        return Line(f"{step}/{item}/{part}", step, Kind.FEE, item, amount.value, self.lists.item(item).unit, 0.0, (), amount.text, source)

    def work_for(self, scope: ScopeItem, step: Step, driver: str, part: str, amount: Amount, *, trade: str = PLUMBER) -> list[Line]:
        """The work of an item of the scope table: a `do` line when we install it, a `hire` line when a trade does, else none."""
        if scope.ours_to_install:
            return [self.do(step, driver, part, amount)]
        if scope.installed_by == "trade":
            return [self.hire(step, trade, part, self.hire_hours(driver, amount), source="demo")]
        return []

    def hire_hours(self, driver: str, amount: Amount) -> Amount:
        """Hours of a hired trade: the likely hours that the rates list gives for one unit, a trade being as quick as our crew."""
        rate = self.lists.rate(driver)
        return amount * number(rate.likely_h, f"h {rate.unit}" if rate.unit == "each" else f"h a {rate.unit}")
