"""Ordering and papers: orders by what we supply, bookings by who else comes, papers by what the job triggers."""

from kit.records import Kind, Line
from kit.steps import Step
from kit.takeoff.abatement import count_abatement
from kit.takeoff.connect_dishwasher import count_dishwasher_hose
from kit.takeoff.connect_drain import count_drain, count_drain_lowered
from kit.takeoff.debris import count_debris
from kit.takeoff.fixtures import ELECTRICIAN, count_disposer, count_faucet
from kit.takeoff.receiving import customer_goods, goods_words, renews_doors
from kit.takeoff.set_sink import count_sink
from kit.takeoff.sheet import PLUMBER, Sheet
from kit.takeoff.wall_patch import count_wall_patch
from kit.takeoff.working import Amount, number, total

__all__ = ["count_ordering", "hired_parties"]

_HIRING = (count_abatement, count_sink, count_faucet, count_disposer, count_dishwasher_hose, count_drain, count_drain_lowered, count_wall_patch, count_debris)
_TRADES = {"plumber": PLUMBER, "electrician": ELECTRICIAN, "other trade": "wall-trade", "hauler": "haul-trade", "abatement firm": "abatement"}
_GLUED = {"counter": "old countertop's glue or backer", "splash": "old backsplash's glue or backer"}


def count_ordering(sheet: Sheet) -> list[Line]:
    """Orders, bookings, papers, and the test of a suspect floor."""
    step, lines = Step.ORDER, [sheet.do(Step.ORDER, "order-item", "orders", total(_orders(sheet)))]
    bookings = _bookings(sheet)
    if bookings:
        lines.append(sheet.do(step, "book-party", "bookings", total(bookings)))
    papers = _papers(sheet)
    if papers:
        lines.append(sheet.do(step, "paper-set", "papers", total(papers)))
    if sheet.design.duties.test_floor:
        lines.append(sheet.hire(step, "floor-test", "suspect floor", number(1, "sample to an accredited laboratory")))
    samples = [f"sample of the {_GLUED[part]} to an accredited laboratory" for part in sheet.design.duties.test_glue]
    if samples:
        lines.append(sheet.hire(step, "floor-test", "suspect glue or backer", total([number(1, name) for name in samples])))
    return lines


def _orders(sheet: Sheet) -> list[Amount]:
    """What we supply; goods from stock go on one pick list, and those of a plain swap with the sink."""
    if sheet.design.setting.plain_swap:
        return [number(1, "order of the sink and its small goods")]
    job, scope = sheet.job, sheet.job.scope
    ours = {
        "sink": scope.sink.ours_to_supply,
        "faucet": scope.faucet.ours_to_supply,
        goods_words(job, "strainer"): scope.strainer.ours_to_supply,
        "disposer": scope.disposer.ours_to_supply and job.plumbing.disposer == "new",
        "dishwasher": scope.dishwasher.ours_to_supply and job.plumbing.dishwasher,
        "set of cabinet doors": renews_doors(sheet.design),
        "countertop": scope.counter.ours_to_supply and job.counter.made_by == "us",
    }
    return [*(number(1, name) for name, is_ours in ours.items() if is_ours), number(1, "pick list of stock goods")]


def _bookings(sheet: Sheet) -> list[Amount]:
    names = hired_parties(sheet)
    if customer_goods(sheet.job):
        names.append("customer about the goods")
    if sheet.job.plumbing.stops_to_renew and not sheet.job.site.main_shutoff_closes:
        names.append("water company for the street valve")
    return [number(1, name) for name in names]


def hired_parties(sheet: Sheet) -> list[str]:
    """Fabricator or tile setter, and trades beside the own crew: whoever is priced is booked, and nobody else but a shop whom the customer pays."""
    scope, maker = sheet.job.scope, "tile setter" if sheet.design.setting.laid_in_place else "countertop shop"
    hired = {line.item for count in _HIRING for line in sheet.lines_of(count) if line.kind is Kind.HIRE}
    parties = {maker: any(item.renewed and "fabricator" in {item.supplied_by, item.installed_by} for item in (scope.counter, scope.splash))}
    parties |= {name: item in hired for name, item in _TRADES.items()}
    return [name for name, comes in parties.items() if comes]


def _papers(sheet: Sheet) -> list[Amount]:
    duties = sheet.design.duties
    papers = {
        "permit application": duties.permit,
        "lead pamphlet with records": duties.lead_safe,
        "chain of custody for the floor sample": duties.test_floor,
        **{f"chain of custody for the sample of the {_GLUED[part]}": True for part in duties.test_glue},
    }
    return [number(1, name) for name, needed in papers.items() if needed]
