"""The columns of every list file: what each cell holds and how it is read."""

from kit.lists.columns import Column, amount, currency, day, number, one_of, quantity, text, whole, words, words_of, yes_no
from kit.lists.conditions import CONDITIONS
from kit.lists.money_rows import COUNTED_AS, DRAW_PAYS, TAX_MODES, TAX_WHEN_BOUGHT, BurdenPart, ChangeRule, DrawRow, PayTerm, StatePreset, UnitPrice
from kit.lists.paper_rows import BOOK_USES, WORDING_USES, BookEntry, CostCode, SupplierRow, Wording
from kit.lists.rows import (
    Account,
    CounterKind,
    Factor,
    Hired,
    Item,
    LeadTime,
    Lifters,
    Mount,
    OrderRule,
    Price,
    Rate,
    SinkKind,
    SiteRiskRow,
    StepRow,
    TakeOut,
    Transition,
)
from kit.records import CostType, Level
from kit.steps import Step

__all__ = ["COLUMNS", "FILES", "LEADS", "MATERIALS", "SINK_MATERIALS", "STATES", "UNITS"]

LEADS = ("goods", "customer-goods", "permit", "inspection", "fabrication")

UNITS = ("each", "ft", "sq ft", "fl oz", "gal", "lb", "h", "day", "USD")


def _level(cell: str) -> Level:
    known = {level.word: level for level in Level}
    if cell not in known:
        raise ValueError(f'"{cell}" is not one of: {", ".join(known)}.')
    return known[cell]


_LENGTH, _SHARE, _TIME, _WEIGHT = quantity("length"), quantity("share"), quantity("time"), quantity("weight")
STATES = ("ca", "tx", "ny")
MATERIALS = ("laminate", "wood", "solid-surface", "stone", "tile", "concrete", "steel", "porcelain")
SINK_MATERIALS = ("fired-clay", "cast-iron", "stainless", "composite", "copper")

COLUMNS: dict[str, tuple[type, tuple[Column, ...]]] = {
    "items.csv": (
        Item,
        (
            Column("item", text),
            Column("name", text),
            Column("unit", one_of(UNITS)),
            Column("cost_type", one_of(CostType)),
            Column("cost_code", text),
            Column("waste", _SHARE),
            Column("taxable", yes_no),
            Column("cut", one_of(("no", "length", "sheet"))),
            Column("kerf", _LENGTH, may_be_empty=True),
            Column("consumable", yes_no),
        ),
    ),
    "prices.csv": (
        Price,
        (
            Column("item", text),
            Column("supplier", text),
            Column("effective_from", day),
            Column("effective_to", day, may_be_empty=True),
            Column("sold_as", text),
            Column("pack", number),
            Column("stock_length", _LENGTH, may_be_empty=True),
            Column("stock_width", _LENGTH, may_be_empty=True),
            Column("price", amount),
            Column("currency", currency),
            Column("least_packs", whole, may_be_empty=True, may_be_absent=True),
        ),
    ),
    "sinks.csv": (
        SinkKind,
        (
            Column("item", text),
            Column("material", one_of(SINK_MATERIALS)),
            Column("style", one_of(("apron-overlay", "apron-inset", "standard"))),
            Column("apron_width", _LENGTH, may_be_empty=True),
            *(Column(name, _LENGTH) for name in ("body_width", "bowl_width", "depth")),
            Column("apron_height", _LENGTH, may_be_empty=True),
            *(Column(name, _LENGTH) for name in ("rim_width", "rim_thickness", "bottom_thickness")),
            Column("bowls", whole),
            *(Column(name, _LENGTH) for name in ("bowl_front_to_back", "bowl_depth", "outlet_setback")),
            Column("weight", _WEIGHT),
            Column("size_tolerance", _LENGTH),
            Column("mounts", words_of(("top", "flush", "under"))),
        ),
    ),
    "counters.csv": (
        CounterKind,
        (
            Column("item", text),
            Column("material", one_of(MATERIALS)),
            Column("made_by", one_of(("us", "fabricator"))),
            Column("thickness", _LENGTH),
            *(
                Column(name, text, may_be_empty=True)
                for name in (
                    "area_item",
                    "cut_out_top_item",
                    "cut_out_flush_item",
                    "cut_out_under_item",
                    "cut_out_apron_item",
                    "edge_item",
                    "edge_built_item",
                    "hole_item",
                    "seam_item",
                    "splash_item",
                    "trip_item",
                    "delivery_item",
                    "blank_item",
                    "edge_strip_item",
                    "finish_item",
                )
            ),
            Column("least_area", number, may_be_empty=True),
            Column("round_up", number, may_be_empty=True),
            Column("longest_piece", _LENGTH),
            Column("deepest_piece", _LENGTH),
            Column("weight_psf", number),
        ),
    ),
    "steps.csv": (
        StepRow,
        (
            Column("step", one_of(Step)),
            Column("label", text),
            Column("order", whole),
            Column("crew", whole),
            Column("crew_most", whole),
            Column("after", words, may_be_empty=True),
            Column("wait", _TIME),
            Column("clock", one_of(("working", "elapsed"))),
            Column("cost_code", text),
            Column("trade", text),
        ),
    ),
    "rates.csv": (
        Rate,
        (
            Column("driver", text),
            Column("step", one_of(Step)),
            Column("unit", one_of(UNITS)),
            *(Column(name, _TIME) for name in ("low", "likely", "high")),
            Column("crew", whole),
            Column("source", text),
            Column("says", text),
        ),
    ),
    "factors.csv": (Factor, (Column("factor", one_of(CONDITIONS)), Column("steps", words), Column("times", number), Column("says", text))),
    "order_rules.csv": (
        OrderRule,
        (Column("rule", one_of(CONDITIONS)), Column("step", one_of(Step)), Column("after", words), Column("says", text)),
    ),
    "hired.csv": (
        Hired,
        (
            Column("driver", text),
            Column("step", one_of(Step), may_be_empty=True),
            Column("trade", text),
            Column("unit", one_of(UNITS)),
            Column("crew", whole),
            *(Column(name, _TIME) for name in ("low", "likely", "high")),
            Column("source", text),
            Column("says", text),
        ),
    ),
    "lead_times.csv": (
        LeadTime,
        (
            Column("what", text),
            *(Column(name, number) for name in ("low", "likely", "high")),
            Column("days", one_of(("working", "elapsed"))),
            Column("says", text),
        ),
    ),
    "site_risks.csv": (
        SiteRiskRow,
        (
            Column("risk", text),
            Column("label", text),
            Column("chance", _SHARE),
            *(Column(name, amount) for name in ("cost_low", "cost_likely", "cost_high")),
            Column("currency", currency),
            *(Column(name, _TIME) for name in ("hours_low", "hours_likely", "hours_high")),
            Column("applies_when", one_of(CONDITIONS)),
            Column("step", one_of(Step), may_be_empty=True),
            Column("delay_days", number),
            Column("source", text),
            Column("says", text),
        ),
    ),
    "mounts.csv": (
        Mount,
        (
            Column("mount", one_of(("top", "flush", "under"))),
            Column("material", one_of(MATERIALS)),
            Column("level", _level),
            Column("reason", text),
            Column("source", text),
        ),
    ),
    "lifters.csv": (Lifters, (Column("up_to", _WEIGHT), Column("lifters", whole), Column("mechanical", yes_no), Column("says", text))),
    "transitions.csv": (
        Transition,
        (
            Column("system", one_of(("drain", "supply"))),
            Column("old", text),
            Column("new", text),
            Column("join", text, may_be_empty=True),
            Column("says", text),
        ),
    ),
    "take_outs.csv": (
        TakeOut,
        (
            Column("fitting", one_of(("trap", "90-ell", "coupling", "sanitary-tee"))),
            Column("size", one_of(("1-1/2", "2"))),
            Column("take_out", _LENGTH, may_be_empty=True),
            Column("says", text),
        ),
    ),
    "accounts.csv": (Account, (Column("cost_type", one_of(CostType)), Column("expense_account", text), Column("income_account", text))),
    "books.csv": (BookEntry, (Column("use", one_of(BOOK_USES)), Column("entry", text), Column("says", text))),
    "cost_codes.csv": (
        CostCode,
        (Column("cost_code", text), Column("name", text), Column("uniformat", text, may_be_empty=True), Column("says", text)),
    ),
    "suppliers.csv": (SupplierRow, (Column("supplier", text), Column("contractor_form", one_of(("yes", "no", "ask"))), Column("says", text))),
    "wording.csv": (
        Wording,
        (
            Column("wording", text),
            Column("use", one_of(WORDING_USES)),
            Column("about", text, may_be_empty=True),
            Column("applies_when", one_of(CONDITIONS)),
            Column("says", text),
            Column("source", text),
        ),
    ),
    "burden.csv": (
        BurdenPart,
        (
            Column("part", text),
            Column("label", text),
            Column("counted_as", one_of(COUNTED_AS)),
            Column("hours", _TIME, may_be_empty=True),
            Column("share", _SHARE, may_be_empty=True),
            Column("amount", amount, may_be_empty=True),
            Column("up_to", amount, may_be_empty=True),
            Column("currency", currency),
            Column("says", text),
        ),
    ),
    "state_presets.csv": (
        StatePreset,
        (
            Column("preset", text),
            Column("state", one_of(STATES)),
            Column("tax_on", one_of(TAX_MODES)),
            Column("deposit_share", _SHARE, may_be_empty=True),
            Column("deposit_amount", amount, may_be_empty=True),
            Column("currency", currency),
            Column("draws_follow_work", yes_no),
            Column("tax_when_bought", one_of(TAX_WHEN_BOUGHT), may_be_empty=True),
            Column("dated", day),
            Column("source", text),
            Column("says", text),
        ),
    ),
    "change_rules.csv": (
        ChangeRule,
        (
            Column("rule", text),
            Column("cost_type", one_of(CostType)),
            Column("on_adds", _SHARE),
            Column("on_credits", _SHARE),
            Column("source", text),
            Column("says", text),
        ),
    ),
    "unit_prices.csv": (
        UnitPrice,
        (
            Column("find", text),
            Column("label", text),
            Column("unit", one_of(UNITS)),
            Column("price", amount),
            Column("currency", currency),
            Column("covers", words),
            Column("says", text),
        ),
    ),
    "draws.csv": (
        DrawRow,
        (
            Column("draw", text),
            Column("label", text),
            Column("pays", one_of(DRAW_PAYS)),
            Column("step", one_of(Step), may_be_empty=True),
            Column("earned", _SHARE),
            Column("says", text),
        ),
    ),
    "pay_terms.csv": (
        PayTerm,
        (
            Column("cost_type", one_of(CostType)),
            Column("supplier", text, may_be_empty=True),
            Column("deposit", _SHARE),
            Column("deposit_step", one_of(Step), may_be_empty=True),
            Column("rest_days", whole),
            Column("says", text),
        ),
    ),
}
FILES = (*COLUMNS, "company.csv")
