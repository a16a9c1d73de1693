"""Who does a piece of work: our crew's hours, a hired trade's hours, or nobody's that we pay."""

from kit.errors import Fault, ListError
from kit.job.scope import ScopeItem
from kit.records import Line
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, n

__all__ = ["hire_hours", "work_for"]

PLUMBER = "hire-plumber"


def work_for(sheet: Sheet, scope: ScopeItem, step: Step, driver: str, part: str, amount: Amount, *, trade: str = PLUMBER) -> list[Line]:
    """The work of an item of the scope table: a `do` line when we install it, a `hire` line when a trade does, else none."""
    if scope.ours_to_install:
        return [sheet.do(step, driver, part, amount)]
    if scope.installed_by == "trade":
        return [sheet.hire(step, trade, part, hire_hours(sheet, driver, amount), source="demo")]
    return []


def hire_hours(sheet: Sheet, driver: str, amount: Amount) -> Amount:
    """Hours of a hired trade: the likely hours that the rates list gives for one unit, a trade being as quick as our crew."""
    rate = sheet.lists.rates.get(driver)
    if rate is None:
        raise ListError(Fault(f'driver "{driver}"', "has no rate. Add its hours to rates.csv.", "rates.csv"))
    return amount * n(rate.likely, f"h {rate.unit}" if rate.unit == "each" else f"h a {rate.unit}")
