"""What is bought and built with: items and their prices, sinks, counters, how they go together, who lifts them."""

import datetime as dt
from decimal import Decimal
from typing import Literal, get_args

from kit.incoming import MOST_PEOPLE
from kit.lists.column_rules import choice, count, currency_code, day, flag, limit, list_row, measure, money, number, text, words
from kit.records import CostType, Level

__all__ = ["MOUNTS", "UNITS", "CounterKind", "Item", "Lifters", "Mount", "MountKind", "Price", "SinkKind", "SinkStyle", "TakeOut", "Transition"]

UNITS = ("each", "ft", "sq ft", "fl oz", "gal", "lb", "h", "day", "USD")
MountKind = Literal["top", "flush", "under"]  # another one needs its own cut-out, rim and seal worked out: nothing else than these is known
MOUNTS: tuple[MountKind, ...] = get_args(MountKind)
SinkStyle = Literal["apron-overlay", "apron-inset", "standard"]


@list_row("items.csv", "Items: whatever is bought, hired or paid")
class Item:
    """Something that is bought, hired or paid."""

    item: str = text("Own short name, used by every other list", key=True)
    name: str = text("Name as people read it")
    unit: str = choice("Unit in which the takeoff counts it", UNITS)
    cost_type: CostType = choice("Kind of cost, for the books", refers="accounts.csv")
    cost_code: str = text("Own cost code", refers="cost_codes.csv")
    waste: float = measure("share", "Share added when it is bought")
    taxable: bool = flag("Whether we pay sales tax on it")
    cut: Literal["no", "length", "sheet"] = choice("Whether it is cut from stock: no, from lengths, from sheets")
    kerf_in: float | None = measure("length", "Width that a cut takes away")
    consumable: bool = flag(
        "Whether it is used up or taken away again and doesn't become part of the house; then we pay the tax on it, even where tax is "
        "collected from the customer"
    )
    waste_source: str | None = text("Where its waste comes from, as when it was learned from finished jobs", default=None)


@list_row("prices.csv", "Prices: what one pack of an item costs at one supplier over a span of dates")
class Price:
    """One supplier's price of one pack of an item over a span of dates."""

    item: str = text("The item", key=True, refers="items.csv")
    supplier: str = text("Who sells it (invented)", key=True)
    effective_from: dt.date = day("First day on which the price holds", key=True)
    effective_to: dt.date | None = day("Last day on which it holds; empty: no end known")
    sold_as: str = text("The pack in words", key=True)
    pack: float = number("How much one pack holds", "the item's unit")
    stock_length_in: float | None = measure("length", "Length of stock that is cut")
    stock_width_in: float | None = measure("length", "Width of sheets that are cut")
    price: Decimal = money("Price of one pack, up to four decimals")
    currency: str = currency_code()
    least_packs: int | None = count("The price holds from so many packs on; empty: from the first", low=1, key=True, default=None)
    least_charge: Decimal | None = money("Least that this supplier charges for a job; only in the row that bills what falls short of it", default=None)

    @property
    def id(self) -> str:
        """A stable name of the row."""
        many = f"@from {self.least_packs}" if self.least_packs else ""
        return f"{self.item}@{self.supplier}@{self.effective_from}@{self.sold_as}{many}"

    def holds_on(self, day: dt.date) -> bool:
        """Whether the price holds on a day."""
        return self.effective_from <= day and (self.effective_to is None or day <= self.effective_to)

    def age_days(self, day: dt.date) -> int:
        """Days from the first on which it holds to another day."""
        return (day - self.effective_from).days


@list_row("sinks.csv", "Sinks: generic kinds with nominal sizes")
class SinkKind:
    """A generic kind of sink with its nominal sizes, and the mounts that it is made for."""

    item: str = text("The item", key=True, refers="items.csv")
    name: str = text("Name as people read it")
    material: str = text("What it is made of; any word, under which wording.csv can hold how to care for it")
    style: SinkStyle = choice("Apron over the cabinet's cut, apron set into it, or no apron")
    apron_width_in: float | None = measure("length", "Width of the apron")
    body_width_in: float = measure("length", "Width of the body at the rim")
    bowl_width_in: float = measure("length", "Width of the bowl or bowls below the rim, outside")
    depth_in: float = measure("length", "Front to back, apron included")
    apron_height_in: float | None = measure("length", "Height of the apron")
    rim_width_in: float = measure("length", "Width of the rim outside the bowl")
    rim_thickness_in: float = measure("length", "Thickness of the rim")
    bottom_thickness_in: float = measure("length", "Thickness of the bowl's bottom")
    bowls: int = count("How many bowls", low=1)
    bowl_front_to_back_in: float = measure("length", "Inside size of a bowl, front to back")
    bowl_depth_in: float = measure("length", "Inside depth of a bowl")
    outlet_setback_in: float = measure("length", "Outlet center, from the back of the sink forward")
    ledge_holes: int = count("Holes for a faucet in the sink's own faucet deck; 0 where the faucet goes into the countertop")
    weight_lb: float = measure("weight", "Weight empty")
    size_tolerance_in: float = measure("length", "How far the real size may differ from the nominal one")
    mounts: tuple[str, ...] = words("Mounts that the kind is made for", MOUNTS)


@list_row("counters.csv", "Countertops: what each kind is made of and stands, how it is charged, or cut by ourselves")
class CounterKind:
    """A counter: the traits of its material, and the items by which it is charged or the blank that we cut ourselves."""

    item: str = text("Own short name of the countertop", key=True)
    name: str = text("Name as people read it")
    material: str = text("Material; any word, the same in mounts.csv, in wording.csv and in the job")
    made_by: Literal["us", "fabricator"] = choice("Who makes it")
    thickness_in: float = measure("length", "Thickness")
    slab: bool = flag("Whether it is a slab of stone or the like: the stone trade's rules of level, overhang and seams hold for it")
    brittle: bool = flag("Whether it cracks before it bends: it needs a stiffer frame, and cross pieces don't shorten its span")
    cut_on_site: bool = flag("Whether we can cut an opening in it in the house; else a shop does")
    takes_screws: bool = flag("Whether a screw from below holds in it")
    rabbet: bool = flag("Whether a rabbet for a flush rim can be cut in it")
    wet_edge: Literal["stands", "sealed", "swells"] = choice("A cut edge and water: stands it, stands it when it is sealed, swells")
    moves: bool = flag("Whether it shrinks and swells across its grain with the seasons, so that the job must name its species")
    species: str | None = text("Species of wood, where the kind is of one")
    span_most_in: float | None = limit("Widest clear span over a base without support")
    overhang_most_in: float | None = limit("Widest overhang without support")
    limits_source: str | None = text("Source: a key of the sources")
    removed_density: str = text("Density when such a countertop is torn out: table and row of the sources")
    removed_with_backer: bool = flag("Whether an old one lies in glue on a backer board, as tile does: both come out with it")
    area_item: str | None = text("Item charged by area", refers="items.csv")
    cut_out_top_item: str | None = text("Item of a cutout for a top mount", refers="items.csv")
    cut_out_flush_item: str | None = text("Item of a cutout for a flush mount", refers="items.csv")
    cut_out_under_item: str | None = text("Item of a cutout for an undermount", refers="items.csv")
    cut_out_apron_item: str | None = text("Item of a cutout for an apron sink", refers="items.csv")
    edge_item: str | None = text("Item of the front edge", refers="items.csv")
    edge_built_item: str | None = text("Item of a built-up front edge", refers="items.csv")
    hole_item: str | None = text("Item of a hole", refers="items.csv")
    seam_item: str | None = text("Item of a seam", refers="items.csv")
    splash_item: str | None = text("Item of the backsplash", refers="items.csv")
    trip_item: str | None = text("Item of a trip", refers="items.csv")
    delivery_item: str | None = text("Item of the delivery", refers="items.csv")
    blank_item: str | None = text("Item of the blank or the tile that we cut ourselves", refers="items.csv")
    edge_strip_item: str | None = text("Item of the strip on raw edges of a blank", refers="items.csv")
    finish_item: str | None = text("Item of the finish on all its faces", refers="items.csv")
    round_up_sqft: float | None = number("Each piece's area is rounded up to a multiple of this", "sq ft")
    longest_piece_in: float = measure("length", "Longest piece without a seam")
    deepest_piece_in: float = measure("length", "Deepest piece without a seam")
    weight_psf: float = number("Weight", "lb/sq ft")
    backer_item: str | None = text(
        "Item of the backer on which small pieces are laid in the house; empty: it comes in whole pieces", refers="items.csv", default=None
    )
    grout_item: str | None = text("Item of the grout between small pieces", refers="items.csv", default=None)
    cast_item: str | None = text("Item of forming and casting, charged by area; empty: nothing is cast", refers="items.csv", default=None)
    usual_species: str | None = text("Species such a countertop is usually made of, where neither it nor the job is of one", default=None)
    splash_height_in: float | None = measure(
        "length", "Height up to which the backsplash is charged by its length alone; what stands higher is charged by area too", default=None
    )

    @property
    def laid_in_place(self) -> bool:
        """Whether it is laid in the house from small pieces, so that nobody takes a template and no blank is carried in."""
        return self.backer_item is not None


@list_row("mounts.csv", "Mounts: does a mount suit a countertop material?")
class Mount:
    """Whether a mount suits a counter material, and why."""

    mount: MountKind = choice("Mount of the sink to the countertop", key=True)
    material: str = text("Material of the countertop, as counters.csv names it", key=True)
    level: Level = choice("How well it suits")
    reason: str = text("Why")
    source: str = text("Source")


@list_row("lifters.csv", "Lifters: people for a weight")
class Lifters:
    """People for a weight, and whether a machine is asked for."""

    up_to_lb: float = measure("weight", "Up to this weight", key=True)
    lifters: int = count("People", low=1, high=MOST_PEOPLE)
    mechanical: bool = flag("Whether a machine is asked for")
    says: str = text("The rule in words, with its source")


@list_row("transitions.csv", "Transitions: how two pipe materials are joined")
class Transition:
    """How two pipe materials are joined."""

    system: Literal["drain", "supply"] = choice("Drain or supply", key=True)
    old: str = text("Material that is there", key=True)
    new: str = text("Material that is joined to it", key=True)
    join: str | None = text("Item of the fitting; empty where the pair needs none of its own", refers="items.csv")
    says: str = text("What to know about it")


@list_row("take_outs.csv", "Take-outs: how much of a drain pipe's length a fitting takes; measured by the user")
class TakeOut:
    """Take-out of a drain fitting; None until someone measured the part."""

    fitting: Literal["trap", "90-ell", "coupling", "sanitary-tee"] = choice("Fitting", key=True)
    size: Literal["1-1/2", "2"] = choice("Nominal size", key=True)
    take_out_in: float | None = measure("length", "Center of the fitting to the end of the pipe in it")
    says: str = text("How to measure it")
