"""What may hold asbestos, or does: who tests it, who takes it out, and whether that is in the price. Always check and defer."""

from collections.abc import Iterator, Sequence

from kit.checks.finding import plain_finding
from kit.design.asbestos import FOUND, GluedPart, glue_answer
from kit.design.design import Design
from kit.job import FilledJob
from kit.job.field_names import say_choice
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import Row, row, value

__all__ = ["check_suspects", "house_words"]

_IF_POSITIVE = "If it is asbestos, a certified firm removes it where the rules require that. That work is not included."
_CHANGE = "what it finds takes a signed change order first, for the firm's bid and its days"
_ELSE = "If the laboratory finds no asbestos, the quote holds: enter its result"
_FIRM_HIRED = "Priced at an invented rate: get the firm's bid, certificate and notices. Our people stay out until the air is cleared."
_FIRM_YOURS = "Not in the price: the customer's firm works and the air is cleared before we go on. To price one we hire, enter it in the scope."
_FIRM = "a certified firm to remove it where the rules require that; the local authority decides"


def check_suspects(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Suspect flooring, suspect glue and backer, what a laboratory found of it and what of that stays, and what the customer tears out himself."""
    findings = [_floor(job, design), _glue(job, design, lists), _abatement(design), _left(job, design), *_torn_out_by_customer(job, design, lists)]
    return [finding for finding in findings if finding is not None]


def _caution(name: str, check: str, measured: str, limit: str, source: str | Row, remedy: str, basis: str = "triggered by the job as measured") -> Finding:
    return plain_finding(f"duties/{name}", check, Level.CAUTION, measured, limit, basis=basis, source=source, remedy=remedy)


def _floor(job: FilledJob, design: Design) -> Finding | None:
    if not design.duties.test_floor:
        return None
    return _caution(
        "flooring",
        "Suspect flooring",
        f"{job.site.floor_covering} floor in {house_words(job)}",
        f"a laboratory test if laid in {value('checks', 'flooring/year'):.0f} or before. {_ELSE}",
        row("checks", "flooring/year"),
        f"Don't cut or sand. {_IF_POSITIVE}",
        _CHANGE,
    )


def _glue(job: FilledJob, design: Design, lists: Lists) -> Finding | None:
    if not design.duties.test_glue:
        return None
    return _caution(
        "glue",
        "Suspect glue or backer",
        f"{_named(design.duties.test_glue, job, lists)} in {house_words(job)}",
        f"{_year_words()}. One sample of each, in the price. {_ELSE}",
        row("checks", "glue/year"),
        f"No tear-out yet. {_IF_POSITIVE}",
        _CHANGE,
    )


def house_words(job: FilledJob) -> str:
    """The house by the year it was built, or by the one taken where nobody knows it."""
    year = job.site.year_built
    return f"a house whose year nobody knows, taken as {year}" if "site.year_built" in job.assumed else f"a house built in {year}"


def _year_words() -> str:
    return f"a laboratory test if from {value('checks', 'glue/year'):.0f} or before: it may contain asbestos"


def _abatement(design: Design) -> Finding | None:
    """Who takes out what the laboratory found, and what is waited for."""
    if not design.abatement.parts:
        return None
    remedy = _FIRM_HIRED if design.abatement.hired else _FIRM_YOURS
    return _caution("asbestos", "Asbestos found", design.abatement.names, _FIRM, "from-memory", remedy)


def _left(job: FilledJob, design: Design) -> Finding | None:
    """What the laboratory found and nobody of ours has in his way."""
    places = {
        "floor": job.site.floor_tested == FOUND and not design.abatement.takes("floor"),
        "glue or backer of the old countertop": _stays("counter", job, design),
        "glue or backer of the old backsplash": _stays("splash", job, design),
    }
    left = [name for name, there in places.items() if there]
    if not left:
        return None
    remedy = "Tell the crew where it is; no drilling, sanding, cutting or breaking. If the work reaches it, stop: a certified firm first."
    return _caution("asbestos-left", "Asbestos that stays", " and ".join(left), "nobody to disturb it", "from-memory", remedy)


def _stays(part: GluedPart, job: FilledJob, design: Design) -> bool:
    return glue_answer(job, part) == FOUND and not design.abatement.takes(part) and part not in design.duties.glue_found_by_customer


def _torn_out_by_customer(job: FilledJob, design: Design, lists: Lists) -> Iterator[Finding]:
    """What the laboratory found in it, and what nobody has tested yet."""
    duties, check = design.duties, "Suspect glue or backer that the customer takes out"
    if found := duties.glue_found_by_customer:
        remedy = "Tell the customer now: a certified firm does it where the rules require that, and its clearance comes before our work."
        yield _caution("glue-yours-found", check, f"the laboratory found asbestos in {_named(found, job, lists)}", _FIRM, "from-memory", remedy)
    if untested := duties.glue_untested_by_customer:
        yield _caution(
            "glue-yours",
            check,
            f"{_named(untested, job, lists)} in {house_words(job)}",
            _year_words(),
            row("checks", "glue/year"),
            "Tell the customer before that work starts: the test is the customer's, and the proposal says so.",
        )


def _named(parts: Sequence[GluedPart], job: FilledJob, lists: Lists) -> str:
    """Glue, and backer where there is one, of the old counter and splash."""
    old = job.old
    backer = {"counter": lists.removed_with_backer(old.counter_material), "splash": old.splash == "tile"}
    what = {"counter": f"{say_choice('old.counter_material', old.counter_material)} countertop" if backer["counter"] else "old countertop"}
    what["splash"] = "tile backsplash" if backer["splash"] else "old backsplash"
    return " and ".join(f"{'backer and glue' if backer[part] else 'glue'} of the {what[part]}" for part in parts)
