"""Which rows the build-up of a job has: cost, what comes on it, price, tax collected, margin; amounts still 0."""

from collections.abc import Mapping, Sequence

from kit.money import CENT_PLACES
from kit.pricing.hour_rows import hour_rows
from kit.pricing.job_terms import PriceTerms
from kit.pricing.taxed import COLLECTED, pays_tax, sells_with_tax
from kit.records import BuildUp, CostType, Purchase, Task

__all__ = ["define_rows"]

_SHARE_PLACES = 4
_NOTHING = ("0",)


def define_rows(purchases: Sequence[Purchase], cost_types: Mapping[str, CostType], tasks: Sequence[Task], terms: PriceTerms) -> tuple[BuildUp, ...]:
    """The rows in order. `cost_types` gives the cost type of each purchase by its item.

    Notes
    -----
    Always: net = cost + handling + contingency + warranty + overhead + profit, and price = net + tax-collected; rows that a job's terms
    don't ask for are left out and count as nothing.
    """
    sold = [purchase for purchase in purchases if sells_with_tax(purchase, terms.tax_on)]
    return (
        *_cost_rows(purchases, cost_types, tasks, sold, terms),
        *_reserve_rows(terms),
        *_profit_rows(terms),
        *_rounding_rows(terms),
        *_tax_rows(sold, terms),
        BuildUp("profit", "Profit", "sum", ("net", "-before-profit", *(("-hired", "-handling") if terms.hired_as == "handling-only" else ()))),
        BuildUp("gross", "Gross profit", "sum", ("net", "-cost")),
        BuildUp("margin", "Gross margin (gross profit as a share of the price before tax)", "divide", ("gross", "net"), _SHARE_PLACES),
    )


def _cost_rows(
    purchases: Sequence[Purchase], cost_types: Mapping[str, CostType], tasks: Sequence[Task], sold: Sequence[Purchase], terms: PriceTerms
) -> list[BuildUp]:
    """Purchases by kind of cost, tax that we pay on them, own labor, direct cost."""

    def bought(kind: CostType) -> tuple[str, ...]:
        return tuple(f"buy:{purchase.id}" for purchase in purchases if cost_types[purchase.item] is kind) or _NOTHING

    return [
        BuildUp("material", "Material", "sum", bought(CostType.MATERIAL)),
        BuildUp("hired", "Hired trades and countertop shop", "sum", bought(CostType.HIRED)),
        BuildUp("fees", "Permits and fees", "sum", bought(CostType.FEE)),
        BuildUp("other", "Other", "sum", bought(CostType.OTHER)),
        *_paid_tax_rows([purchase for purchase in purchases if pays_tax(purchase, terms.tax_on)], sold, terms),
        *hour_rows(terms),
        BuildUp("labor", "Own labor", "sum", tuple(f"task:{task.step}" for task in tasks) or _NOTHING),
        BuildUp("cost", "Direct cost", "sum", ("material", "hired", "fees", "other", "tax-paid", "labor")),
    ]


def _paid_tax_rows(taxed: Sequence[Purchase], sold: Sequence[Purchase], terms: PriceTerms) -> list[BuildUp]:
    """Tax that stays our cost; and, where material that is sold on is taxed when it is bought, that tax and the credit for it."""
    label = "Supplies used up on the job, on which we pay tax" if terms.tax_on in COLLECTED else "Material on which we pay tax"
    base = BuildUp("taxable", label, "sum", tuple(f"buy:{purchase.id}" for purchase in taxed) or _NOTHING)
    if terms.tax_on not in COLLECTED or terms.tax_when_bought == "resale":
        return [base, *_bought_tax_rows("tax-paid", "Sales tax paid on material", "taxable", taxed, terms)]
    return [
        base,
        *_bought_tax_rows("tax-used-up", "Sales tax paid on supplies used up", "taxable", taxed, terms),
        BuildUp("resold", "Material for resale, taxed when bought", "sum", tuple(f"buy:{purchase.id}" for purchase in sold) or _NOTHING),
        *_bought_tax_rows("tax-bought", "Sales tax paid on material for resale", "resold", sold, terms),
        BuildUp("tax-credit", "Credit for that tax", "sum", ("tax-bought",)),
        BuildUp("tax-paid", "Sales tax paid on material, less the credit", "sum", ("tax-used-up", "tax-bought", "-tax-credit")),
    ]


def _bought_tax_rows(row_id: str, label: str, base: str, taxed: Sequence[Purchase], terms: PriceTerms) -> list[BuildUp]:
    """Tax on what purchases cost, rounded once on their sum, the row `base`, or on each."""
    if terms.tax_rounding == "item" and taxed:
        each = [BuildUp(f"tax-cost:{purchase.id}", f"Tax on {purchase.id}", "times", (f"buy:{purchase.id}", "in:tax"), CENT_PLACES) for purchase in taxed]
        return [*each, BuildUp(row_id, label, "sum", tuple(row.id for row in each))]
    return [BuildUp(row_id, label, "times", (base, "in:tax"), CENT_PLACES)]


def _reserve_rows(terms: PriceTerms) -> list[BuildUp]:
    """Handling of hired trades, contingency, warranty reserve, and the cost that carries overhead and profit."""
    rows = []
    if terms.has("in:handling"):
        rows.append(BuildUp("handling", "Handling of hired trades", "times", ("hired", "in:handling"), CENT_PLACES))
        first = terms.hired_as == "handling-first"
        label = (
            "Direct cost with handling, which carries overhead and profit" if first else "Direct cost without hired trades, which carries overhead and profit"
        )
        rows.append(BuildUp("carried", label, "sum", ("cost", "handling") if first else ("cost", "-hired")))
    if terms.input("in:contingency").kind == "money":
        rows.append(BuildUp("contingency", "Contingency", "sum", ("in:contingency",)))
    else:
        rows.append(BuildUp("contingency", "Contingency", "times", ("cost", "in:contingency"), CENT_PLACES))
    if terms.has("in:warranty"):
        rows.append(BuildUp("warranted", "Material, labor and hired work under our warranty", "sum", ("material", "labor", "hired")))
        rows.append(BuildUp("warranty", "Warranty reserve", "times", ("warranted", "in:warranty"), CENT_PLACES))
    return rows


def _profit_rows(terms: PriceTerms) -> list[BuildUp]:
    """Overhead and profit in the chosen reading; `wanted` is the price they ask for."""
    carried = "carried" if terms.has("in:handling") else "cost"
    reserved = (carried, "contingency", *(("warranty",) if terms.has("in:warranty") else ()))
    own = "own-price" if terms.hired_as == "handling-only" else "wanted"
    rows = _on_cost(carried, reserved, own, terms) if terms.overhead_as == "of-cost" else _on_price(carried, reserved, own, terms)
    if terms.hired_as == "handling-only":
        rows.append(BuildUp("wanted", "Price with hired trades and their handling", "sum", ("own-price", "hired", "handling")))
    return rows


def _on_cost(carried: str, reserved: tuple[str, ...], own: str, terms: PriceTerms) -> list[BuildUp]:
    """Overhead as a share of direct cost; then profit."""
    rows = [
        BuildUp("overhead", "Overhead", "times", (carried, "in:overhead"), CENT_PLACES),
        BuildUp("before-profit", "Cost with reserves and overhead", "sum", (*reserved, "overhead")),
    ]
    if terms.profit_as == "margin":
        rows.append(BuildUp("keep", "Share of the price left after profit", "sum", ("1", "-in:profit")))
        rows.append(BuildUp(own, "Price at the target margin", "divide", ("before-profit", "keep"), CENT_PLACES))
    elif terms.profit_as == "markup":
        rows.append(BuildUp("markup-factor", "Markup, as a factor", "sum", ("1", "in:profit")))
        rows.append(BuildUp(own, "Price at the target markup", "times", ("before-profit", "markup-factor"), CENT_PLACES))
    else:
        rows.append(BuildUp("profit-on-cost", "Profit on direct cost", "times", (carried, "in:profit"), CENT_PLACES))
        rows.append(BuildUp(own, "Price with overhead and profit on direct cost", "sum", ("before-profit", "profit-on-cost")))
    return rows


def _on_price(carried: str, reserved: tuple[str, ...], own: str, terms: PriceTerms) -> list[BuildUp]:
    """Overhead as a share of the price: the price is what leaves the rest for cost, reserves and profit."""
    rows = [BuildUp("reserved", "Cost with reserves", "sum", reserved)]
    if terms.profit_as == "margin":
        rows.append(BuildUp("keep", "Share of the price left after overhead and profit", "sum", ("1", "-in:overhead", "-in:profit")))
        rows.append(BuildUp(own, "Price at the target shares of overhead and profit", "divide", ("reserved", "keep"), CENT_PLACES))
    elif terms.profit_as == "markup":
        rows.append(BuildUp("markup-factor", "Markup, as a factor", "sum", ("1", "in:profit")))
        rows.append(BuildUp("overhead-marked-up", "Overhead with its markup, as a share of the price", "times", ("in:overhead", "markup-factor")))
        rows.append(BuildUp("keep", "Share of the price for marked-up cost and reserves", "sum", ("1", "-overhead-marked-up")))
        rows.append(BuildUp("marked-up", "Cost and reserves with their markup", "times", ("reserved", "markup-factor"), CENT_PLACES))
        rows.append(BuildUp(own, "Price at the target markup", "divide", ("marked-up", "keep"), CENT_PLACES))
    else:
        rows.append(BuildUp("profit-on-cost", "Profit on direct cost", "times", (carried, "in:profit"), CENT_PLACES))
        rows.append(BuildUp("with-profit", "Cost with reserves and profit", "sum", ("reserved", "profit-on-cost")))
        rows.append(BuildUp("keep", "Share of the price left after overhead", "sum", ("1", "-in:overhead")))
        rows.append(BuildUp(own, "Price with overhead as its share", "divide", ("with-profit", "keep"), CENT_PLACES))
    rows.append(BuildUp("overhead", "Overhead", "times", (own, "in:overhead"), CENT_PLACES))
    rows.append(BuildUp("before-profit", "Cost with reserves and overhead", "sum", ("reserved", "overhead")))
    return rows


def _rounding_rows(terms: PriceTerms) -> list[BuildUp]:
    """The price rounded to whole dollars or more, and never below the least charge, which stands as it is."""
    if not terms.has("in:round-to"):
        return [BuildUp("net", "Price before tax collected", "max", ("wanted", "in:least"))]
    return [
        BuildUp("round-steps", "Rounding steps in the price", "divide", ("wanted", "in:round-to"), 0),
        BuildUp("rounded", "Price rounded", "times", ("round-steps", "in:round-to")),
        BuildUp("rounding", "Added by rounding", "sum", ("rounded", "-wanted")),
        BuildUp("net", "Price before tax collected", "max", ("rounded", "in:least")),
    ]


def _tax_rows(sold: Sequence[Purchase], terms: PriceTerms) -> list[BuildUp]:
    """Tax that the customer pays beside the price, where the state asks us to collect it."""
    rows, base = [], ("net",)
    if terms.tax_on == "material-price":
        rows += _stated_rows(sold, terms)
        base = ("stated-material",)
    if terms.tax_on == "material-price" and terms.tax_rounding == "item" and sold:
        each = [BuildUp(f"tax:{purchase.id}", f"Tax on {purchase.id}", "times", (f"stated:{purchase.id}", "in:tax"), CENT_PLACES) for purchase in sold]
        rows += [*each, BuildUp("tax-collected", "Sales tax collected", "sum", tuple(row.id for row in each))]
    elif terms.tax_on in COLLECTED:
        rows.append(BuildUp("tax-collected", "Sales tax collected", "times", (*base, "in:tax"), CENT_PLACES))
    else:
        rows.append(BuildUp("tax-collected", "Sales tax collected", "sum", _NOTHING))
    return [*rows, BuildUp("price", "Price", "sum", ("net", "tax-collected"))]


def _stated_rows(sold: Sequence[Purchase], terms: PriceTerms) -> list[BuildUp]:
    """What material is stated at in a contract that separates it; it moves no price but the tax."""
    factor = BuildUp("material-factor", "Markup in the stated price of material, as a factor", "sum", ("1", "in:material-markup"))
    if terms.tax_rounding == "item" and sold:
        ids = [purchase.id for purchase in sold]
        each = [BuildUp(f"stated:{name}", f"Stated price of {name}", "times", (f"buy:{name}", "material-factor"), CENT_PLACES) for name in ids]
        return [factor, *each, BuildUp("stated-material", "Stated price of material", "sum", tuple(row.id for row in each))]
    goods = BuildUp("taxable-goods", "Material on whose stated price tax falls", "sum", tuple(f"buy:{purchase.id}" for purchase in sold) or _NOTHING)
    return [factor, goods, BuildUp("stated-material", "Stated price of material", "times", ("taxable-goods", "material-factor"), CENT_PLACES)]
