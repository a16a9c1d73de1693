"""What the law may ask: always check and defer, never "compliant"."""

from kit.checks.finding import plain_finding
from kit.checks.suspects import house_words
from kit.design.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import Row, row, value

__all__ = ["check_duties"]


def check_duties(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Permit, licensed trades, the end of a cable, lead-safe work, dust, the right to cancel, a state's rules, water."""
    duties, findings = design.duties, []

    def add(name: str, check: str, measured: str, limit: str, source: str | Row, remedy: str, level: Level = Level.CAUTION) -> None:
        basis = "triggered by the job as measured"
        findings.append(plain_finding(f"duties/{name}", check, level, measured, limit, basis=basis, source=source, remedy=remedy))

    if duties.permit:
        add(
            "permit",
            "Permit",
            " and ".join(what for what, done in (("the drain is moved", design.drain.is_lowered), ("a new cable is run", duties.electrician)) if done),
            "a permit, where the permit office requires one",
            "common-practice",
            "Ask the permit office before work starts; the inspections are on the calendar.",
        )
    if duties.plumber or duties.floor_plumber:
        add(
            "plumber",
            "Licensed plumber",
            "work on the drain in the wall" if duties.plumber else "a drain that goes through the floor",
            "a licensed plumber",
            "common-practice",
            "Hired as part of this job; confirm the license.",
        )
    if duties.electrician:
        add(
            "electrician",
            "Licensed electrician",
            "a new disposer where there was none",
            "a licensed electrician",
            "common-practice",
            "Hired as part of this job; confirm the license. The receptacle and circuit are the electrician's.",
        )
    if duties.cable_left:
        add(
            "cable-left",
            "Cable of the old disposer",
            "a disposer comes out and none goes in",
            "no open end: a plug in its outlet, or a box with a cover",
            "common-practice",
            "Breaker off and tested dead first. A cable that was wired in ends in a covered box; an electrician for that is not included.",
        )
    if duties.lead_safe:
        year, area = value("checks", "lead/year"), value("checks", "lead/area-least")
        add(
            "lead-safe",
            "Lead-safe work",
            f"{house_words(job)}, paint is disturbed",
            f"lead-safe work in a house built before {year:.0f}, for more than {area:g} sq ft of paint per room or where painted parts are torn out",
            row("checks", "lead/year"),
            "Use a certified firm and renovator and give the owner the pamphlet before work, or get a test that shows no lead.",
        )
    if duties.silica:
        add(
            "silica",
            "Silica dust",
            "we break out, cut or lay tile, stone or concrete",
            "dust kept down: cut wet, or with a vacuum at the tool",
            "cfr-29-1926-1153",
            "No dry cutting in the house. HEPA vacuum and respirators are included, for people trained and fit-tested to use them.",
        )
    days = value("calendar", "cooling-off/business-days")
    add(
        "cooling-off",
        "Customer's right to cancel",
        "sold in the customer's home",
        f"a wait until midnight of business day {days:.0f} after signing, where the rule applies",
        row("calendar", "cooling-off/business-days"),
        "Hand over the notices; don't order anything custom or start work before that time is up.",
        Level.OK,
    )
    findings.extend(_state_rules(job, lists))
    if not job.site.main_shutoff_closes:
        add(
            "shut-off",
            "Main shutoff",
            "not known to close tight",
            "a valve that closes tight",
            "common-practice",
            "Test it before you touch a shutoff valve. If it fails, ask the water company to close theirs. A plumber for it is not included.",
        )
    return findings


def _state_rules(job: FilledJob, lists: Lists) -> list[Finding]:
    """What the sources cite of this state's rules for contract, deposit and sales tax; nothing for other states."""
    defer = "Ask your adviser: rules change, and this is not legal advice."
    if job.site.state == "ca":
        own = lists.company.deposit if job.terms.deposit_share is None else job.terms.deposit_share
        share, most, contract = (value("checks", f"ca/{name}") for name in ("deposit-share", "deposit-most", "contract-from"))
        return [
            plain_finding(
                "duties/deposit",
                "Deposit",
                Level.OK if own <= share else Level.STOP,
                f"{own:.0%} of the price",
                f"at most the lesser of {share:.0%} and ${most:,.0f}",
                basis=f"written contract above ${contract:,.0f}; later payments not ahead of the work",
                source=row("checks", "ca/deposit-share"),
                remedy=f"Lower the deposit to the cap. {defer}" if own > share else f"Mind the cap in dollars, too. {defer}",
                margin=share - own,
                unit="1",
            )
        ]
    return _sales_tax(job, lists, defer)


def _sales_tax(job: FilledJob, lists: Lists, defer: str) -> list[Finding]:
    """Whether the terms follow one of the state's presets; a state whose rules no source here tells of gets no finding."""
    by_state = {
        "tx": ("one of the state's presets: lump sum, or separated contract", "tx-34-3-291"),
        "ny": ("one of the state's presets: capital improvement with its certificate, or repair", "ny-st-124"),
    }
    if job.site.state not in by_state:
        return []
    limit, source = by_state[job.site.state]
    preset = lists.state_presets.get(job.terms.state_preset or lists.company.state_preset)
    follows = preset is not None and preset.state == job.site.state and job.terms.tax_on in {None, preset.tax_on}
    return [
        plain_finding(
            "duties/sales-tax",
            "Sales tax on this contract",
            Level.OK if follows else Level.CAUTION,
            preset.name if preset is not None and follows else "none of the state's presets is chosen",
            limit,
            basis="the state's presets in the price lists",
            source=source,
            remedy=defer if follows else f"Choose the state's preset in the terms. {defer}",
        )
    ]
