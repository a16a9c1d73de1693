"""Do the new stops find a stub to sit on?"""

from kit.checks.finding import fit_finding, plain_finding
from kit.design.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import row
from kit.units import format_length

__all__ = ["check_supply"]


_PIPES = {"copper": "copper", "cpvc": "CPVC", "pex": "PEX", "galvanized": "galvanized steel"}


def check_supply(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Clean stub length, transitions, and stops that stay."""
    plumbing, supply, findings = job.plumbing, design.supply, []
    on_tube = "push-fit adapter" if supply.adapters else f"{supply.joint} shutoff valve"
    if supply.stops and supply.stub_needed_in:
        short = plumbing.clean_stub_in < supply.stub_needed_in
        findings.append(
            fit_finding(
                "supply/clean-stub",
                f"Clean supply stub for a {on_tube}",
                plumbing.clean_stub_in,
                supply.stub_needed_in,
                worst=Level.OK,
                basis=f"{_PIPES[plumbing.supply_old]} stub, {format_length(plumbing.clean_stub_in)} clean and round",
                source=row("pipes", "push-fit/0.5/depth") if supply.adapters or supply.joint == "push-fit" else row("practice", "supply/compression-stub"),
                remedy="We cut it back and couple a piece on." if short else "If it is too short, we cut it back and couple a piece on.",
                parts=("supply",),
            )
        )
    if supply.stops and supply.joint == "press" and plumbing.supply_old == "cpvc":
        findings.append(
            plain_finding(
                "supply/press-on-plastic",
                "Press shutoff valve on a CPVC stub",
                Level.STOP,
                "press",
                "copper or PEX for press fittings",
                basis="a press jaw cracks hard plastic",
                source="from-memory",
                remedy="Choose push-fit or compression shutoff valves.",
                parts=("supply",),
            )
        )
    if supply.transition is not None:
        level = Level.CAUTION if plumbing.supply_old == "galvanized" else Level.OK
        findings.append(
            plain_finding(
                "supply/transition",
                f"Joint from {_PIPES[plumbing.supply_old]} to {_PIPES[plumbing.supply_new]}",
                level,
                lists.name_of(supply.transition),
                "a joint that is rated for both materials",
                basis=supply.transition_note,
                source="common-practice",
                remedy="A dielectric fitting may be required: confirm with the local authority." if level is Level.CAUTION else "",
                parts=("supply",),
            )
        )
    if supply.stops and plumbing.supply_old == "galvanized":
        findings.append(
            plain_finding(
                "supply/steel-threads",
                "Old valves on steel threads",
                Level.CAUTION,
                "galvanized steel stubs",
                "valves that come loose without breaking the pipe",
                basis="a rusted thread may break, or turn the pipe in the wall",
                source="common-practice",
                remedy="Hold the pipe with a second wrench. A plumber for a pipe that breaks is not included: that takes a signed change order first.",
                parts=("supply",),
            )
        )
    if plumbing.stop_age == "old" and plumbing.stops_to_renew == 0:
        findings.append(
            plain_finding(
                "supply/old-stops",
                "Shutoff valves that stay",
                Level.CAUTION,
                "old",
                "valves that close tight",
                basis="old shutoff valves may fail when turned",
                source="common-practice",
                remedy="Offer new ones at an agreed unit price, and test the main shutoff first.",
                parts=("supply",),
            )
        )
    return findings
