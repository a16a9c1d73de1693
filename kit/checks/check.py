"""All checks of a job, worst first, and among equals first what costs most where it is wrong."""

from collections.abc import Callable, Iterable

from kit.checks.cabinet_fit import check_cabinet
from kit.checks.clearances import check_clearances
from kit.checks.drains_away import check_drain
from kit.checks.faucet_holes import check_faucet_holes
from kit.checks.job_days import check_days
from kit.checks.legal_notes import check_duties
from kit.checks.lift_crew import check_lift
from kit.checks.mounts import check_mounts
from kit.checks.openings import check_openings
from kit.checks.scope_conflicts import check_scope
from kit.checks.supply_stubs import check_supply
from kit.checks.support import check_support
from kit.checks.surface import check_surface
from kit.checks.suspects import check_suspects
from kit.checks.wood_top import check_wood_top
from kit.design.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding
from kit.sources import row, table

__all__ = ["CHECKS", "check_job", "worst_first"]

CHECKS: tuple[Callable[[FilledJob, Design, Lists], list[Finding]], ...] = (
    check_scope,
    check_cabinet,
    check_clearances,
    check_support,
    check_drain,
    check_mounts,
    check_faucet_holes,
    check_openings,
    check_surface,
    check_wood_top,
    check_supply,
    check_lift,
    check_duties,
    check_days,
    check_suspects,
)


def check_job(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Every finding, check by check; `worst_first` puts them in order, together with those of other rooms."""
    return [finding for check in CHECKS for finding in check(job, design, lists)]


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings of any room by level, then by what being wrong may cost: people, house, contract, counter, fronts, a fitting. Equals stay in their order."""
    return tuple(sorted(findings, key=lambda finding: (-finding.level, _rank(finding.id))))


def _rank(finding_id: str) -> float:
    """The finding's own row of the table of stakes, or that of its family."""
    stake = table("stakes").get(finding_id) or row("stakes", finding_id.partition("/")[0])
    return stake.value
