"""Read a folder of price lists into frozen rows; every fault of every file in one report."""

import datetime as dt
import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from kit.errors import Fault, ListError
from kit.facts_html import facts_html
from kit.lists.burden import add_up_burden
from kit.lists.columns import read_rows
from kit.lists.company import COMPANY_FILE, Company, read_company
from kit.lists.consistency import check_lists, key_rows
from kit.lists.goods_rows import CounterKind, Item, Lifters, Mount, Price, SinkKind, TakeOut, Transition
from kit.lists.list_files import FILES, LISTS
from kit.lists.money_consistency import check_company_money, check_money
from kit.lists.money_rows import Account, BookEntry, BookUse, BurdenPart, ChangeRule, CostCode, DrawRow, PayTerm, StatePreset, SupplierRow, UnitPrice, Wording
from kit.lists.older import bring_up_to_date, usual_counters
from kit.lists.work_rows import Factor, Hired, LeadTime, OrderRule, Rate, SiteRiskRow, StepRow
from kit.records import CostType, Level
from kit.sources import value
from kit.steps import Step
from kit.tables import Row, Table, parse_table, read_text
from kit.units import format_day

__all__ = ["IN_MEMORY", "ListFile", "Lists", "load_lists", "parse_lists"]

IN_MEMORY = ", changed in memory"
"""What the name of a folder ends in where its lists no longer say what its files say."""


@dataclass(frozen=True, slots=True)
class ListFile:
    """A list that was used: its name, and the fingerprint of its content."""

    name: str
    sha256: str


@dataclass(frozen=True, slots=True, eq=False)
class Lists:
    """All lists of one folder, as read-only mappings of frozen rows."""

    folder: str
    files: tuple[ListFile, ...]
    texts: MappingProxyType[str, str]
    items: MappingProxyType[str, Item]
    prices: MappingProxyType[str, tuple[Price, ...]]
    sinks: MappingProxyType[str, SinkKind]
    counters: MappingProxyType[str, CounterKind]
    steps: MappingProxyType[Step, StepRow]
    rates: MappingProxyType[str, Rate]
    factors: MappingProxyType[str, Factor]
    order_rules: tuple[OrderRule, ...]
    hired: MappingProxyType[tuple[str, Step | None], Hired]
    lead_times: MappingProxyType[str, LeadTime]
    site_risks: tuple[SiteRiskRow, ...]
    mounts: MappingProxyType[tuple[str, str], Mount]
    lifters: tuple[Lifters, ...]
    transitions: MappingProxyType[tuple[str, str, str], Transition]
    take_outs: MappingProxyType[tuple[str, str], TakeOut]
    accounts: MappingProxyType[CostType, Account]
    books: MappingProxyType[BookUse, BookEntry]
    cost_codes: MappingProxyType[str, CostCode]
    suppliers: MappingProxyType[str, SupplierRow]
    wording: tuple[Wording, ...]
    burden: tuple[BurdenPart, ...]
    state_presets: MappingProxyType[str, StatePreset]
    change_rules: MappingProxyType[tuple[str, CostType], ChangeRule]
    unit_prices: MappingProxyType[str, UnitPrice]
    draws: tuple[DrawRow, ...]
    pay_terms: MappingProxyType[tuple[CostType, str | None], PayTerm]
    company: Company
    retyped: tuple[str, ...] = ()  # files whose texts were changed in memory, so that no file on disk says what they say
    as_read: "Lists | None" = field(default=None, repr=False)  # what the texts say: these lists, or those of which they are a copy with other rows

    @property
    def changed_files(self) -> tuple[str, ...]:
        """The lists whose rows are not those that their texts say: somebody put others in their place in memory."""
        if self.as_read is None:
            return ()
        rows = ((name, getattr(self, name.removesuffix(".csv")), getattr(self.as_read, name.removesuffix(".csv"))) for name in FILES)
        return tuple(name for name, here, read in rows if here is not read and here != read)

    @property
    def folder_words(self) -> str:
        """The folder's name, and where it is so that its lists were changed in memory."""
        changed = (self.retyped or self.changed_files) and not self.folder.endswith(IN_MEMORY)
        return f"{self.folder}{IN_MEMORY}" if changed else self.folder

    def fingerprint(self, file: ListFile) -> str:
        """The fingerprint (SHA-256) of a list, or that it was changed in memory: then the file's own would not be true."""
        return IN_MEMORY.removeprefix(", ") if file.name in self.changed_files else file.sha256

    def __repr__(self) -> str:
        return f"<Lists of the folder {self.folder_words}, prices dated {self.company.price_date}>"

    def _repr_html_(self) -> str:
        company, invented = self.company, "invented" in f"{self.company.name} {self.company.region}".casefold()
        prices = sum(len(rows) for rows in self.prices.values())
        facts = [
            ("Company", company.name),
            ("Region", company.region),
            ("Prices", f"{prices} for {len(self.prices)} items, dated {company.price_date}"),
            ("Hours", f"{len(self.rates)} kinds of work in {len(self.steps)} steps"),
            ("Sinks and countertops", f"{len(self.sinks)} and {len(self.counters)}"),
            ("Note", "Figures are invented: put in your own before you price a real job." if invented else ""),
        ]
        return facts_html(f"Price lists: folder {self.folder_words}", facts)

    def name_of(self, id_: str) -> str:
        """What people call a counter, sink, item or kind of work; what no list holds by its id in words."""
        row = self.counters.get(id_) or self.sinks.get(id_) or self.items.get(id_) or self.rates.get(id_)
        return id_.replace("-", " ") if row is None else row.name

    def item(self, item: str) -> Item:
        """One item by its id. Raises ListError if no list holds it."""
        row = self.items.get(item)
        if row is None:
            raise ListError(Fault(f'item "{item}"', "is not in any list. Add it to items.csv and give it a price.", "items.csv"))
        return row

    def waits_for_goods(self, item: str, code: str) -> tuple[str, ...]:
        """Which rows of lead_times.csv count for goods, the first that is there: the item's, its cost code's, that of goods from stock.

        Clips, rails and cradles have the sink's cost code and come from stock, also where the customer brings the sink.
        """
        sinks = {self.items[sink].cost_code for sink in self.sinks if sink in self.items}
        beside_sink = code in sinks and item in self.items and item not in self.sinks
        return (item, "goods") if beside_sink else (item, code, "goods")

    def rate(self, driver: str) -> Rate:
        """The hours for one unit of a kind of work, by its driver. Raises ListError if no row holds them."""
        row = self.rates.get(driver)
        if row is None:
            raise ListError(Fault(f'driver "{driver}"', "has no rate. Add its hours to rates.csv.", "rates.csv"))
        return row

    def transition(self, system: str, old: str, new: str) -> tuple[str | None, str]:
        """The item that joins two pipe materials (None: none needed) and what is said of it.

        Raises ListError if the pair is not in the list: it is not a known way to join them.
        """
        row = self.transitions.get((system, old, new))
        if row is None:
            raise ListError(
                Fault(f"{system}, {old} to {new}", "is not a pair in the list. Add it with its fitting, or choose another new material.", "transitions.csv")
            )
        return row.join, row.says

    def mount_rule(self, mount: str, kind: CounterKind) -> tuple[Level, str, str]:
        """Whether a mount suits a counter: level, reason and source; where `mounts.csv` doesn't have the pair, what the counter's traits rule out."""
        rule = self.mounts.get((mount, kind.material))
        if rule is not None:
            return rule.level, rule.reason, rule.source
        if mount == "flush" and not kind.rabbet:
            return Level.STOP, "no rabbet for a flush rim can be cut in it", "counters.csv"
        if mount == "under" and kind.wet_edge == "swells":
            return Level.STOP, "its cut edge swells where it meets water", "counters.csv"
        return Level.UNKNOWN, f"mounts.csv has nothing on {mount} mount in {kind.material.replace('-', ' ')}", "mounts.csv"

    def removed_density(self, material: str) -> float:
        """Density of an old counter [lb/cu ft]: of the kinds of that material the heaviest, as it will be lifted; else that of the usual one.

        Raises ListError if no counter of the material is listed or usual.
        """
        rows = [kind.removed_density for kind in self.counters.values() if kind.material == material]
        rows = rows or [usual["removed_density"] for usual in usual_counters() if usual["material"] == material]
        if not rows:
            raise ListError(
                Fault(
                    "old.counter_material",
                    f'No countertop is of "{material}", so its weight is not known. Choose a listed material, or add a countertop of it.',
                    "counters.csv",
                )
            )
        return max(value(*row.split("/", 1)) for row in rows)

    def removed_is_brittle(self, material: str) -> bool:
        """Whether an old counter of the material breaks before it bends, as tile, stone and concrete do: some kind of it that is listed, else the usual one."""
        return self._is_usual("brittle", material)

    def removed_with_backer(self, material: str) -> bool:
        """Whether an old counter of the material lies in glue on a backer board, as tile does: some kind of it that is listed, else the usual one."""
        return self._is_usual("removed_with_backer", material)

    def _is_usual(self, trait: str, material: str) -> bool:
        rows = [getattr(kind, trait) for kind in self.counters.values() if kind.material == material]
        return any(rows or [usual[trait] == "yes" for usual in usual_counters() if usual["material"] == material])

    def prices_of(self, items: Iterable[str], day: dt.date) -> dict[str, tuple[Price, ...]]:
        """The prices of several items that hold on a day, each as `prices_on` gives them.

        Raises ListError with every item that is in no list or has no price on that day.
        """
        by_supplier: dict[str, tuple[Price, ...]] = {}
        faults: list[Fault] = []
        for item in items:
            try:
                by_supplier[item] = self.prices_on(item, day)
            except ListError as error:
                faults.extend(error.faults)
        if faults:
            raise ListError(faults)
        return by_supplier

    def prices_on(self, item: str, day: dt.date) -> tuple[Price, ...]:
        """The prices of an item that hold on a day, cheapest per unit first. Raises ListError if none does."""
        self.item(item)
        current = [price for price in self.prices.get(item, ()) if price.holds_on(day)]
        if not current:
            raise ListError(Fault(f'item "{item}"', f"has no price in force on {format_day(day)}.", "prices.csv"))
        return tuple(sorted(current, key=lambda price: (float(price.price) / price.pack, price.id)) if len(current) > 1 else current)


def load_lists(folder: str | Path) -> Lists:
    """The lists in a folder.

    Parameters
    ----------
    folder
        Folder of price lists; `kit.shipped("price_lists")` holds the kit's own, which are invented.

    Raises
    ------
    ListError
        With every fault of every file: missing files and columns, cells that can't be read, doubled or unknown ids.

    Examples
    --------
    >>> import kit
    >>> kit.load_lists(kit.shipped("price_lists")).item("lumber-2x4").unit
    'ft'
    """
    folder = Path(folder)
    try:
        stamps = tuple((name, file.stat().st_mtime_ns if (file := _file(folder, name)).is_file() else 0) for name in FILES)
    except OSError as error:
        raise ListError(Fault("", f"can't be read: {error.strerror or error}. Get permission to read it.", folder.name)) from None
    return _load(folder.resolve(), stamps)


def _file(folder: Path, name: str) -> Path:
    """The list as CSV, or as XLSX where only that is there."""
    sheet = (folder / name).with_suffix(".xlsx")
    return sheet if sheet.is_file() and not (folder / name).is_file() else folder / name


@lru_cache(maxsize=8)
def _load(folder: Path, stamps: tuple[tuple[str, int], ...]) -> Lists:
    if not folder.is_dir():
        raise ListError(Fault("", f'"{folder}" is not a folder of price lists.'))
    if not any(stamp for _, stamp in stamps):
        raise ListError(Fault("", f'"{folder}" holds no price lists: no {FILES[0]}, {FILES[1]} or any other. Give the folder that they are in.'))
    faults: list[Fault] = []
    texts: dict[str, str] = {}
    for name in FILES:
        try:
            texts[name] = read_text(_file(folder, name))
        except ListError as error:
            faults.extend(error.faults)
    return parse_lists(texts, folder.name, faults)


def parse_lists(texts: Mapping[str, str], folder: str, faults: Sequence[Fault] = ()) -> Lists:
    """The lists in the texts of their files, by file name; `folder` is the name they go by.

    Raises ListError as `load_lists` does, with `faults` that were found before.
    """
    faults = list(faults)
    texts = {name: bring_up_to_date(name, text) for name, text in texts.items()}
    tables: dict[str, Table] = {}
    for name, text in texts.items():
        try:
            tables[name] = parse_table(text, name)
        except ListError as error:
            faults.extend(error.faults)
    rows: dict[str, list[tuple[Row, Any]]] = {
        name: read_rows(tables[name], kind.columns, kind.row, faults) if name in tables else [] for name, kind in LISTS.items()
    }
    company = read_company(tables[COMPANY_FILE], faults) if COMPANY_FILE in tables else None
    keyed = {name: key_rows(kind, rows[name], faults) for name, kind in LISTS.items() if name != "prices.csv"}
    check_lists(rows, faults)
    check_money(rows, faults)
    if company is not None:
        check_company_money(company, rows, faults)
    if faults or company is None:
        raise ListError(faults)
    prices: dict[str, list[Price]] = {}
    for _, price in rows["prices.csv"]:
        prices.setdefault(price.item, []).append(price)
    proxy, burden = MappingProxyType, tuple(keyed["burden.csv"].values())
    lists = Lists(
        folder=folder,
        files=tuple(ListFile(name, hashlib.sha256(texts[name].encode()).hexdigest()) for name in FILES),
        texts=proxy(texts),
        items=proxy(keyed["items.csv"]),
        prices=proxy({item: tuple(all_of_it) for item, all_of_it in prices.items()}),
        sinks=proxy(keyed["sinks.csv"]),
        counters=proxy(keyed["counters.csv"]),
        steps=proxy(keyed["steps.csv"]),
        rates=proxy(keyed["rates.csv"]),
        factors=proxy(keyed["factors.csv"]),
        order_rules=tuple(keyed["order_rules.csv"].values()),
        hired=proxy(keyed["hired.csv"]),
        lead_times=proxy(keyed["lead_times.csv"]),
        site_risks=tuple(keyed["site_risks.csv"].values()),
        mounts=proxy(keyed["mounts.csv"]),
        lifters=tuple(sorted(keyed["lifters.csv"].values(), key=lambda row: row.up_to_lb)),
        transitions=proxy(keyed["transitions.csv"]),
        take_outs=proxy(keyed["take_outs.csv"]),
        accounts=proxy(keyed["accounts.csv"]),
        books=proxy(keyed["books.csv"]),
        cost_codes=proxy(keyed["cost_codes.csv"]),
        suppliers=proxy(keyed["suppliers.csv"]),
        wording=tuple(keyed["wording.csv"].values()),
        burden=burden,
        state_presets=proxy(keyed["state_presets.csv"]),
        change_rules=proxy(keyed["change_rules.csv"]),
        unit_prices=proxy(keyed["unit_prices.csv"]),
        draws=tuple(keyed["draws.csv"].values()),
        pay_terms=proxy(keyed["pay_terms.csv"]),
        company=replace(company, burden=float(add_up_burden(company.wage, burden).share)) if company.burden_from == "parts" else company,
    )
    object.__setattr__(lists, "as_read", lists)
    return lists
