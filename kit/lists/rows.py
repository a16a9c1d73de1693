"""The frozen rows that the lists hold."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.records import CostType, Level
from kit.steps import Step

__all__ = [
    "Account",
    "CounterKind",
    "Factor",
    "Hired",
    "Item",
    "LeadTime",
    "Lifters",
    "Mount",
    "OrderRule",
    "Price",
    "Rate",
    "SinkKind",
    "SiteRiskRow",
    "StepRow",
    "TakeOut",
    "Transition",
]


@dataclass(frozen=True, slots=True)
class Item:
    """Something that is bought, hired or paid: `unit` is that of the takeoff, `waste` a share; `cut` says how stock is cut.

    A `consumable` is used up or taken away again and doesn't become part of the house: blades, dust sheets, what is only lent.
    """

    item: str
    name: str
    unit: str
    cost_type: CostType
    cost_code: str
    waste: float
    taxable: bool
    cut: Literal["no", "length", "sheet"]
    kerf: float | None
    consumable: bool


@dataclass(frozen=True, slots=True)
class Price:
    """One supplier's price of one pack of an item over a span of dates.

    With `least_packs` the price holds from that many packs on: a price break. `pack` is how much of the item's unit one pack holds;
    stock that is cut states its length (and width) [in] too.
    """

    item: str
    supplier: str
    effective_from: dt.date
    effective_to: dt.date | None
    sold_as: str
    pack: float
    stock_length: float | None
    stock_width: float | None
    price: Decimal
    currency: str
    least_packs: int | None = None

    @property
    def id(self) -> str:
        """A stable name of the row."""
        many = f"@from {self.least_packs}" if self.least_packs else ""
        return f"{self.item}@{self.supplier}@{self.effective_from}@{self.sold_as}{many}"

    def age_days(self, day: dt.date) -> int:
        """Days from the first on which it holds to another day."""
        return (day - self.effective_from).days


@dataclass(frozen=True, slots=True)
class SinkKind:
    """A generic kind of sink with its nominal sizes [in] and weight [lb], and the mounts that it is made for."""

    item: str
    material: str
    style: str
    apron_width: float | None
    body_width: float
    bowl_width: float
    depth: float
    apron_height: float | None
    rim_width: float
    rim_thickness: float
    bottom_thickness: float
    bowls: int
    bowl_front_to_back: float
    bowl_depth: float
    outlet_setback: float
    weight: float
    size_tolerance: float
    mounts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CounterKind:
    """A counter as it is charged: items for area, cut-out by mount, edge, hole, seam, splash, trip and delivery; or the blank that we cut ourselves.

    `edge_built_item` is the built-up edge; `edge_strip_item` covers raw edges of a blank, `finish_item` all its faces.
    `least_area` and `round_up` are in square feet and say how a fabricator rounds each piece up; `longest_piece` and
    `deepest_piece` [in] are those of one slab or blank.
    """

    item: str
    material: str
    made_by: Literal["us", "fabricator"]
    thickness: float
    area_item: str | None
    cut_out_top_item: str | None
    cut_out_flush_item: str | None
    cut_out_under_item: str | None
    cut_out_apron_item: str | None
    edge_item: str | None
    edge_built_item: str | None
    hole_item: str | None
    seam_item: str | None
    splash_item: str | None
    trip_item: str | None
    delivery_item: str | None
    blank_item: str | None
    edge_strip_item: str | None
    finish_item: str | None
    least_area: float | None
    round_up: float | None
    longest_piece: float
    deepest_piece: float
    weight_psf: float


@dataclass(frozen=True, slots=True)
class StepRow:
    """The trade's data of one step: label, place in the order, least and most people, what comes before, waiting time after [h]."""

    step: Step
    label: str
    order: int
    crew: int
    crew_most: int
    after: tuple[str, ...]
    wait: float
    clock: Literal["working", "elapsed"]
    cost_code: str
    trade: str


@dataclass(frozen=True, slots=True)
class Rate:
    """Worker-hours for one unit of a `do` line's item: low, likely, high."""

    driver: str
    step: Step
    unit: str
    low: float
    likely: float
    high: float
    crew: int
    source: str
    says: str


@dataclass(frozen=True, slots=True)
class Factor:
    """What a condition of the job does to the hours of some steps ("all" for every step)."""

    factor: str
    steps: tuple[str, ...]
    times: float
    says: str


@dataclass(frozen=True, slots=True)
class OrderRule:
    """In jobs where a condition holds, a step comes after other steps than steps.csv says; the last row that holds counts."""

    rule: str
    step: Step
    after: tuple[str, ...]
    says: str


@dataclass(frozen=True, slots=True)
class Hired:
    """Worker-hours of a hired trade for one unit of a `hire` line: low, likely, high, and its people.

    `driver` is the line's item, or a column of counters.csv that names it (`trip_item`); `step` None means every step.
    """

    driver: str
    step: Step | None
    trade: str
    unit: str
    crew: int
    low: float
    likely: float
    high: float
    source: str
    says: str


@dataclass(frozen=True, slots=True)
class LeadTime:
    """Days from asking to having: low, likely, high, counted as working or elapsed days.

    `what` is an item, a cost code of items.csv, a counter or its material, or one of the words of `LEADS`.
    """

    what: str
    low: float
    likely: float
    high: float
    days: Literal["working", "elapsed"]
    says: str


@dataclass(frozen=True, slots=True)
class SiteRiskRow:
    """Something the house may hold in store: chance (0 to 1), cost and worker-hours if it happens, the step it strikes, the delay.

    `step` None means the last own step of the job.
    """

    risk: str
    label: str
    chance: float
    cost_low: Decimal
    cost_likely: Decimal
    cost_high: Decimal
    currency: str
    hours_low: float
    hours_likely: float
    hours_high: float
    applies_when: str
    step: Step | None
    delay_days: float
    source: str
    says: str


@dataclass(frozen=True, slots=True)
class Mount:
    """Whether a mount suits a counter material, and why."""

    mount: Literal["top", "flush", "under"]
    material: str
    level: Level
    reason: str
    source: str


@dataclass(frozen=True, slots=True)
class Account:
    """Where a cost type goes in the books."""

    cost_type: CostType
    expense_account: str
    income_account: str


@dataclass(frozen=True, slots=True)
class Lifters:
    """People for a weight up to `up_to` [lb], and whether a machine is asked for."""

    up_to: float
    lifters: int
    mechanical: bool
    says: str


@dataclass(frozen=True, slots=True)
class TakeOut:
    """Take-out of a drain fitting, centre to the bottom of its socket [in]; None until someone measured the part."""

    fitting: str
    size: str
    take_out: float | None
    says: str


@dataclass(frozen=True, slots=True)
class Transition:
    """How two pipe materials are joined: the item, or none where the pair needs no fitting of its own."""

    system: Literal["drain", "supply"]
    old: str
    new: str
    join: str | None
    says: str
