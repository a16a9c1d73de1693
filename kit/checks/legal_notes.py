"""What the law may ask: always check and defer, never "compliant"."""

from kit.checks.finding import plain_finding
from kit.design.asbestos import FOUND, parts_in_glue
from kit.design.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import Row, row, value

__all__ = ["check_duties"]

_IF_POSITIVE = (
    "The quote holds if the laboratory finds none; then enter its answer. If it holds asbestos, stop: a certified firm removes it where the rule asks. "
    "That work is not included: its bid and the days it takes are a change order, signed first."
)
_FIRM_HIRED = (
    "In the price: the firm by the square foot, with its minimum, and the air cleared by another laboratory. The rate is an invented allowance: "
    "get the firm's bid, its certificate and its notices. Nobody of ours goes back in before the clearance is in hand."
)
_FIRM_YOURS = (
    "Not in the price: the customer's certified firm takes it out between our first trip and the next, and the proposal says so. "
    "Get its clearance before our people go back in. To price a firm of ours, enter a trade in the scope."
)


def check_duties(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Permit, licensed trades, lead-safe work, suspect flooring, glue and backer, dust, power and water."""
    duties, found = design.duties, []

    def add(name: str, check: str, measured: str, limit: str, source: str | Row, remedy: str, level: Level = Level.CAUTION) -> None:
        basis = "triggered by the job as measured"
        found.append(plain_finding(f"duties/{name}", check, level, measured, limit, basis=basis, source=source, remedy=remedy))

    if duties.permit:
        add(
            "permit",
            "Permit",
            "the drain is moved",
            "the local office decides",
            "common-practice",
            "Ask the local office before work; the inspections are in the calendar.",
        )
    if duties.plumber:
        add("plumber", "Licensed plumber", "work on the drain in the wall", "licensed trade", "common-practice", "Hired, in the takeoff; confirm the license.")
    if duties.electrician:
        add(
            "electrician",
            "Licensed electrician",
            "a new disposer where none was",
            "licensed trade",
            "common-practice",
            "Hired, in the takeoff; confirm the license. Receptacle and circuit are the electrician's.",
        )
    if duties.lead_safe:
        year, area = value("checks", "lead/year"), value("checks", "lead/area-least")
        add(
            "lead-safe",
            "Lead-safe work",
            f"built {job.site.year_built}, painted surface is disturbed",
            f"houses built before {year:.0f}; more than {area:g} sq ft a room inside, or any demolition of painted surface",
            row("checks", "lead/year"),
            "Certified firm and renovator, pamphlet to the owner before work, or a test that shows no lead.",
        )
    if duties.silica:
        add(
            "silica",
            "Silica dust",
            "tile, stone or concrete is broken out",
            "as little dust as can be: wet, or with a vacuum at the tool",
            "cfr-29-1926-1153",
            "No dry cutting in the house. HEPA vacuum and respirators are in the takeoff; fit and train first.",
        )
    if duties.test_floor:
        add(
            "flooring",
            "Suspect flooring",
            f"{job.site.floor_covering} floor in a house of {job.site.year_built}",
            f"laid no later than {value('checks', 'flooring/year'):.0f}: treated as suspect",
            row("checks", "flooring/year"),
            f"Don't sand or cut it; have it tested by an accredited laboratory first. {_IF_POSITIVE}",
        )
    if duties.test_glue:
        add(
            "glue",
            "Suspect glue or backer",
            f"{' and '.join(_suspects(job, design, lists))} in a house of {job.site.year_built}",
            f"of {value('checks', 'glue/year'):.0f} or before: may hold asbestos until a laboratory says otherwise",
            row("checks", "glue/year"),
            f"Scrape and tear out nothing before the laboratory has answered; the test is included. {_IF_POSITIVE}",
        )
    if design.abatement.parts:
        found.append(_abatement(design))
    if duties.glue_by_customer:
        tested = job.old.glue_tested == FOUND
        add(
            "glue-yours",
            "Suspect glue or backer that the customer takes out",
            "the laboratory found asbestos in it" if tested else f"a house of {job.site.year_built}",
            f"of {value('checks', 'glue/year'):.0f} or before: may hold asbestos until a laboratory says otherwise",
            row("checks", "glue/year"),
            "Tell the customer before that work starts: a certified firm takes it out where the rule asks."
            if tested
            else "Tell the customer before that work starts: the test is the customer's, and the proposal says so.",
        )
    days = value("calendar", "cooling-off/business-days")
    add(
        "cooling-off",
        "Customer's right to cancel",
        "sold in the customer's home",
        f"until midnight of business day {days:.0f} after signing, where the rule applies",
        row("calendar", "cooling-off/business-days"),
        "Hand over the notices; order nothing made to measure and start nothing before the time is up.",
        Level.OK,
    )
    found.extend(_state_rules(job, lists))
    if not job.site.main_shutoff_closes:
        add(
            "shut-off",
            "Main shutoff",
            "not proved to close",
            "closes tight",
            "common-practice",
            "Prove it before any shutoff valve is turned; else use the water company's valve. A plumber for it is not included.",
        )
    return found


def _abatement(design: Design) -> Finding:
    """Who takes out what the laboratory found, and what is waited for."""
    return plain_finding(
        "duties/asbestos",
        "Asbestos found",
        Level.CAUTION,
        design.abatement.names,
        "a certified firm takes it out where the rule asks; the local authority decides",
        basis="the laboratory's answer as entered, and what is in our way",
        source="from-memory",
        remedy=_FIRM_HIRED if design.abatement.hired else _FIRM_YOURS,
    )


def _suspects(job: FilledJob, design: Design, lists: Lists) -> list[str]:
    """What we tear out of the old counter and splash that may hold asbestos, by name."""
    old, ours = job.old, parts_in_glue(job, lists, design.removal, "us")
    backed = lists.removed_with_backer(old.counter_material)
    found = {
        f"backer and glue of the {old.counter_material} countertop": "counter" in ours and backed,
        "glue of the old countertop": "counter" in ours and not backed,
        "backer and glue of the tile backsplash": "splash" in ours and old.splash == "tile",
        "glue of the old backsplash": "splash" in ours and old.splash == "glued",
    }
    return [name for name, there in found.items() if there]


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
                f"the lesser of {share:.0%} and {most:,.0f} USD",
                basis=f"written contract above {contract:,.0f} USD; later payments not ahead of the work",
                source=row("checks", "ca/deposit-share"),
                remedy=f"Lower the deposit to the cap. {defer}" if own > share else f"Keep the cap in dollars in mind. {defer}",
                margin=share - own,
                unit="1",
            )
        ]
    return _sales_tax(job, lists, defer)


def _sales_tax(job: FilledJob, lists: Lists, defer: str) -> list[Finding]:
    """Whether the terms follow one of the state's presets; a state whose rules no source here tells of gets no finding."""
    by_state = {
        "tx": ("by the kind of contract: lump sum, or separated", "tx-34-3-291"),
        "ny": ("by the kind of work: capital improvement with its certificate, or repair", "ny-st-124"),
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
            preset.name if preset is not None and follows else "the terms follow none of the state's presets",
            limit,
            basis="the state's presets in the price lists",
            source=source,
            remedy=defer if follows else f"Choose the state's preset in the terms. {defer}",
        )
    ]
