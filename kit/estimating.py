"""One job through the whole house: no arithmetic of its own, every intermediate value kept."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal, localcontext

from kit.buying.buy import plan_purchases
from kit.buying.minimums import top_up, with_idle_minimums, without_idle_minimums
from kit.buying.price_ages import check_price_ages
from kit.checks.check import check_job, worst_first
from kit.checks.overlaps import check_earlier_overlaps, check_overlaps
from kit.checks.way_in import check_way_in
from kit.design.design import Design, design_job
from kit.design.what_matters import keep_what_matters
from kit.errors import Fault, JobError, PriceError
from kit.facts_html import facts_html
from kit.job import FilledJob, Job, fill_assumptions
from kit.labor.hours import revalue_hours
from kit.labor.job_schedule import JobSchedule
from kit.labor.job_work import plan_work
from kit.labor.trips import Trip
from kit.lists import Lists
from kit.money import CHARGED_PLACES, EXACT, PRICE_PLACES, format_money, require_decimal, require_money, round_cents, times, to_decimal
from kit.pricing.build_up import BuildUpAmounts, charge_by_use, cost_of_hour, price_job
from kit.pricing.job_terms import PriceTerms, resolve_terms
from kit.records import Assumption, BuildUp, CostType, Finding, Kind, Level, Line, Purchase, Task
from kit.steps import Step
from kit.takeoff.takeoff import CountStep, name_of_step, take_off

__all__ = ["Estimate", "Revaluation", "estimate", "revalue", "with_earlier_stages", "with_overlaps"]


@dataclass(frozen=True, slots=True)
class Revaluation:
    """What was revalued of an estimate, so that it can be done again: prices [USD] by purchase, hours by driver [h], terms by input."""

    prices: Mapping[str, Decimal]
    rates: Mapping[str, float]
    terms: Mapping[str, Decimal]


@dataclass(frozen=True, slots=True)
class Estimate(BuildUpAmounts):
    """Everything that one job gave on its way through the house; `job_as_read` is the job before assumptions were filled in.

    `assumptions` are those that may move something here: the size of a disposer is not among them where there is none.

    `tasks` are our own people's; what hired trades do is `hired`, for the calendar only: purchases hold what it costs.
    `step_names` says what each step is called in this job.
    `own_steps` names the takeoff steps that a person brought along.
    """

    job_as_read: Job
    job: FilledJob
    lists: Lists
    assumptions: tuple[Assumption, ...]
    design: Design
    findings: tuple[Finding, ...]
    lines: tuple[Line, ...]
    purchases: tuple[Purchase, ...]
    tasks: tuple[Task, ...]
    hired: tuple[Task, ...]
    trips: tuple[Trip, ...]
    terms: PriceTerms
    build_up: tuple[BuildUp, ...]
    step_names: Mapping[Step, str]
    revalued: Revaluation | None = field(default=None, compare=False)  # how it came about, no result
    own_steps: tuple[str, ...] = ()
    planned: list[JobSchedule] = field(default_factory=list, init=False, compare=False, repr=False)  # its calendar, once `plan_schedule` was asked for it

    @property
    def hours(self) -> float:
        """Own worker-hours."""
        return round(sum(task.hours_likely for task in self.tasks), 4)

    @property
    def trips_priced(self) -> int:
        """Trips of our people in the price: by the order of the work, and those that the terms add."""
        return len(self.trips) + (self.job.terms.extra_trips or 0)

    @property
    def worst(self) -> Finding | None:
        """The worst finding, None when nothing was checked."""
        return self.findings[0] if self.findings else None

    @property
    def buildable(self) -> bool:
        """Whether no finding says stop."""
        return all(finding.level is not Level.STOP for finding in self.findings)

    @property
    def proven(self) -> bool:
        """Whether every cut plan is proven cheapest: only such an estimate is issued or exported."""
        return all(purchase.proven for purchase in self.purchases)

    def likely_hours(self, driver: str) -> float:
        """Likely hours for one unit of a kind of work [h]: those of the lists, or what it was revalued with."""
        own = self.revalued.rates.get(driver) if self.revalued else None
        return self.lists.rates[driver].likely_h if own is None else own

    @property
    def changed_in_memory(self) -> tuple[str, ...]:
        """What neither the job nor the files of the lists say, in words: lists changed, own takeoff steps, prices, hours and terms revalued."""
        return tuple(self._changes())

    def _changes(self) -> Iterator[str]:
        yield from (f"list {file}" for file in (*self.lists.retyped, *self.lists.changed_files))
        yield from (f"own takeoff step {name}" for name in self.own_steps)
        if self.revalued is None:
            return
        items = {purchase.id: purchase.item for purchase in self.purchases}
        labels = {term.id: term.label for term in self.terms.inputs}
        yield from (f"price of {self.lists.name_of(items.get(name, name))}: {format_money(price)}" for name, price in self.revalued.prices.items())
        yield from (f"hours for one: {self.lists.name_of(name)}, {hours:g}" for name, hours in self.revalued.rates.items())
        yield from (f"{labels.get(name, name)}: {value}" for name, value in self.revalued.terms.items())

    def __repr__(self) -> str:
        verdict = "can be built" if self.buildable else "a finding says stop"
        return f"<Estimate of job {self.job.identity.job_number}: {format_money(self.price)}, {self.hours:.1f} h, {verdict}>"

    def _repr_html_(self) -> str:
        stops = [finding for finding in self.findings if finding.level is Level.STOP]
        decide = sum(finding.level in {Level.CAUTION, Level.UNKNOWN} for finding in self.findings)
        facts = [
            ("Price", format_money(self.price)),
            ("Direct cost", f"{format_money(self.cost)}, gross margin {self.margin:.1%}"),
            ("Own hours", f"{self.hours:.1f} h in {len(self.tasks)} steps"),
            ("Stops", _say_stops(stops)),
            ("To decide or measure", str(decide)),
            ("Assumed", str(len(self.assumptions))),
            ("Price lists", self.lists.folder_words),
            ("Changed in memory", "; ".join(self.changed_in_memory)),
        ]
        identity = self.job.identity
        return facts_html(f"Estimate of job {identity.job_number}, {identity.customer}", facts)

    @property
    def cost_types(self) -> dict[str, CostType]:
        """Cost type of each purchase by its item."""
        return {purchase.item: self.lists.item(purchase.item).cost_type for purchase in self.purchases}


def _say_stops(stops: Sequence[Finding]) -> str:
    """The first three, and how many more there are."""
    said = "; ".join(f"{finding.check}: have {finding.measured}, need {finding.limit}" for finding in stops[:3])
    return f"{said}; and {len(stops) - 3} more" if len(stops) > 3 else said or "none"


TERMS_OF_TAKEOFF = ("waste_share", "packs_charged", "crew", "temporary_sink", "permit_fee")
"""Terms that move what is bought and done; the others move price, hours and trips at most."""


def estimate(job: Job, lists: Lists, *, exact: bool = True, steps: Sequence[CountStep] = (), near: Estimate | None = None) -> Estimate:
    """The priced estimate of a job.

    Parameters
    ----------
    job
        The job.
    lists
        The price lists.
    exact
        Off, what wants the same place is not looked for, for as long as a slider moves; `with_overlaps` does it afterwards.
    steps
        Own takeoff steps, after those of the trade: each a function that gets a `kit.takeoff.sheet.Sheet` and returns its lines. The estimate
        says that it has them, and is not issued: nobody could work it out again from job and lists.
    near
        An estimate of the job as it was a moment ago. Where nothing but terms other than `TERMS_OF_TAKEOFF` has changed since, its design,
        quantities and purchases are taken over: the result is the same, sooner.

    Raises
    ------
    JobError, ListError
        If the job names what the lists don't hold, or what decides its price is still to be measured. Parts that are sound but don't fit together are
        findings.
    PriceError
        If the terms leave no price.

    Examples
    --------
    >>> import kit
    >>> from kit.records import Piece
    >>> from kit.takeoff.working import number, pieces_length
    >>> job, lists = kit.read_job(kit.shipped("examples") / "laminate_top_mount.toml"), kit.load_lists(kit.shipped("price_lists"))
    >>> def count_corbels(sheet):
    ...     pieces = (Piece(24.0, 2, "corbel"),)  # inches, how many
    ...     return [sheet.buy("build-frame", "lumber-2x4", "corbels", pieces_length(pieces) / number(12), pieces=pieces)]
    >>> kit.estimate(job, lists, steps=[count_corbels]).own_steps
    ('count_corbels',)
    """
    if job.deciding_places:
        raise JobError(Fault(place, "is still to be measured: there is no price until then.") for place in job.deciding_places)
    with localcontext(EXACT):  # the same cents whatever the thread's own context is
        filled, assumptions = fill_assumptions(job)
        terms = resolve_terms(filled, lists)
        if near is not None and not steps and _has_same_takeoff(near, job, lists):
            design, purchases = near.design, near.purchases
            lines = tuple(line for line in near.lines if line.step is not Step.TRIPS)
        else:
            design = design_job(filled, lists)
            lines = take_off(filled, design, lists, steps)
            purchases = plan_purchases(filled, lines, lists)
            if terms.packs_charged == "by-use":
                purchases = charge_by_use(purchases)
        work = plan_work(filled, design, lines, purchases, lists, cost_of_hour(terms))
        cost_types = {purchase.item: lists.item(purchase.item).cost_type for purchase in purchases}
        return Estimate(
            job_as_read=job,
            job=filled,
            lists=lists,
            assumptions=keep_what_matters(assumptions, filled, design),
            design=design,
            findings=_find(filled, design, assumptions, purchases, lists, exact=exact),
            lines=(*lines, *work.trip_lines),
            purchases=purchases,
            tasks=work.tasks,
            hired=work.hired,
            trips=work.trips,
            terms=terms,
            build_up=price_job(purchases, cost_types, work.tasks, terms),
            step_names=work.step_names,
            own_steps=tuple(map(name_of_step, steps)),
        )


def _has_same_takeoff(near: Estimate, job: Job, lists: Lists) -> bool:
    """Whether design, quantities and purchases of an estimate are those of this job."""
    if near.lists is not lists or near.revalued is not None or near.own_steps:
        return False
    was = near.job_as_read
    if any(getattr(was.terms, name) != getattr(job.terms, name) for name in TERMS_OF_TAKEOFF):
        return False
    return was.model_copy(update={"terms": job.terms}) == job


def _find(
    job: FilledJob, design: Design, assumptions: Sequence[Assumption], purchases: Sequence[Purchase], lists: Lists, *, exact: bool
) -> tuple[Finding, ...]:
    """All findings, worst first; what wants the same place when all is built not while a slider moves."""
    return worst_first(
        [
            *check_job(job, design, lists),
            *check_way_in(job, design, assumptions),
            *(check_overlaps(design, assumptions) if exact else ()),
            *check_price_ages(job, purchases, lists),
        ]
    )


def with_overlaps(estimate: Estimate) -> Estimate:
    """An estimate that was made with `exact` off, as it would be with it on; itself where nothing wants the same place. Its calendar stays."""
    with localcontext(EXACT):
        _, assumptions = fill_assumptions(estimate.job_as_read)
        findings = _find(estimate.job, estimate.design, assumptions, estimate.purchases, estimate.lists, exact=True)
    if findings == estimate.findings:
        return estimate
    whole = replace(estimate, findings=findings)
    whole.planned.extend(estimate.planned)
    return whole


def with_earlier_stages(estimate: Estimate) -> Estimate:
    """The same estimate, its findings with what wants the same place today or while the base is open."""
    return replace(estimate, findings=worst_first([*estimate.findings, *check_earlier_overlaps(estimate.design, estimate.assumptions)]))


def revalue(estimate: Estimate, prices: Mapping[str, Decimal | str], rates: Mapping[str, float], terms: Mapping[str, Decimal | str]) -> Estimate:
    """The same packs, plans, suppliers and work at other prices, hour rates and terms; minimum charges follow from what is charged then.

    Parameters
    ----------
    estimate
        The estimate to start from.
    prices
        New price of a pack by purchase id: a Decimal [USD] or text such as "12.50 USD".
    rates
        New hours for one unit [h] by driver, or new factor by `factor:<id>`.
    terms
        New value of an input by its id, such as `in:overhead`: a Decimal; money as `prices`.

    Raises
    ------
    PriceError
        If a name is not part of the estimate, a price or term is a float or no money, or the terms leave no price.

    Examples
    --------
    >>> import kit
    >>> job = kit.read_job(kit.shipped("examples") / "laminate_top_mount.toml")
    >>> slower = kit.revalue(kit.estimate(job, kit.load_lists(kit.shipped("price_lists"))), {}, {"set-sink": 2.5}, {})
    >>> slower.changed_in_memory
    ('hours for one: Set the sink, 2.5',)
    """
    charged = with_idle_minimums(estimate.purchases, estimate.lists, estimate.job.identity.visit_date)
    bought = {purchase.id for purchase in charged}
    worked = {line.item for line in estimate.lines if line.kind is Kind.DO} | {f"factor:{name}" for task in estimate.tasks for name, _ in task.factors}
    named = {term.id for term in estimate.terms.inputs}
    unknown = sorted((set(prices) - bought) | (set(rates) - worked) | (set(terms) - named))
    if unknown:
        raise PriceError([Fault(name, "is not part of this estimate.") for name in unknown])
    paid = _amounts(prices, dict.fromkeys(prices, "money"))
    values = _amounts(terms, {term.id: term.kind for term in estimate.terms.inputs})
    with localcontext(EXACT):
        repriced = [_at_price(purchase, paid[purchase.id]) if purchase.id in paid else purchase for purchase in charged]
        purchases = without_idle_minimums([top_up(purchase, repriced) for purchase in repriced])
        changed = replace(estimate.terms, inputs=tuple(replace(term, value=values.get(term.id, term.value)) for term in estimate.terms.inputs))
        tasks = revalue_hours(estimate.tasks, estimate.lines, estimate.lists, rates, cost_of_hour(changed))
        before = estimate.revalued or Revaluation({}, {}, {})
        factors = {
            name: factor for name, factor in before.rates.items() if name.startswith("factor:")
        }  # a task keeps its factors, hours follow from the last rates
        valued = replace(
            estimate,
            purchases=purchases,
            tasks=tasks,
            terms=changed,
            revalued=Revaluation({**before.prices, **paid}, {**factors, **rates}, {**before.terms, **values}),
        )
        return replace(valued, build_up=price_job(purchases, valued.cost_types, tasks, changed))


def _amounts(values: Mapping[str, Decimal | str], kinds: Mapping[str, str]) -> dict[str, Decimal]:
    """Prices or terms by id as Decimal, by their kind; refused together where they are floats or no money."""
    amounts: dict[str, Decimal] = {}
    faults: list[Fault] = []
    for name, value in values.items():
        try:
            amounts[name] = require_money(value, name, places=PRICE_PLACES) if kinds[name] == "money" else require_decimal(value, name)
        except PriceError as error:
            faults += error.faults
    if faults:
        raise PriceError(faults)
    return amounts


def _at_price(purchase: Purchase, price: Decimal) -> Purchase:
    """The same packs at another price of a pack [USD]."""
    return replace(purchase, unit_price=price, amount=round_cents(times(price, to_decimal(purchase.charged, CHARGED_PLACES))))
