"""Receiving the goods before anything is taken apart: carry in, unpack, measure against the sheet, look after what the customer bought."""

from kit.design.design import Design
from kit.design.lift import lifter_row
from kit.design.named_goods import counter_kind
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, counted, number, round_up, total

__all__ = [
    "carries",
    "climbs",
    "count_receiving",
    "customer_goods",
    "goods_words",
    "is_tight",
    "received_goods",
    "renews_doors",
    "strained_outlets",
    "unpacks",
    "walks",
]


def received_goods(job: FilledJob) -> list[str]:
    """Goods that pass through our hands: supplied or installed by us."""
    scope = job.scope
    goods = {
        "sink": (scope.sink, True),
        "faucet": (scope.faucet, True),
        "strainer": (scope.strainer, True),
        "disposer": (scope.disposer, job.plumbing.disposer == "new"),
        "dishwasher": (scope.dishwasher, job.plumbing.dishwasher),
    }
    return [name for name, (item, comes) in goods.items() if comes and item.renewed and (item.ours_to_supply or item.ours_to_install)]


def strained_outlets(job: FilledJob) -> int:
    """Outlets without a disposer: each has a strainer."""
    return len(job.sink.bowls) - (1 if job.plumbing.disposer != "none" else 0)


def goods_words(job: FilledJob, name: str) -> str:
    """How goods are named where they are counted as one: the strainers of two bowls are a set."""
    return "set of strainers" if name == "strainer" and strained_outlets(job) > 1 else name


def customer_goods(job: FilledJob) -> list[str]:
    """Goods that the customer bought and we install: handling, no markup, no warranty of the goods."""
    return [name for name in received_goods(job) if getattr(job.scope, name).supplied_by == "customer"]


def renews_doors(design: Design) -> bool:
    """Whether new doors are bought because the apron reaches below the upper edge of the old ones."""
    return design.doors is not None and design.doors.work == "new"


def unpacks(line: Line, job: FilledJob, design: Design, lists: Lists) -> bool:
    """Whether a line's goods are unpacked and looked at when they are received: fixtures, doors, and blanks or tile of a countertop that we fit."""
    doors = {"doors"} if renews_doors(design) else set()
    return bool({*received_goods(job), *doors} & set(line.parts)) or (_own_counter(job) and line.item == counter_kind(job, lists).blank_item)


def count_receiving(sheet: Sheet) -> list[Line]:
    """Walks and steps with the load, pieces to unpack, sizes to compare, customer's goods to look after."""
    job, step, goods = sheet.job, Step.RECEIVE, received_goods(sheet.job)
    ours, laid_in_place = _own_counter(job), sheet.design.setting.laid_in_place
    blanks = len(sheet.design.top.pieces) if ours and not laid_in_place else 0
    people = _people(sheet, goods, blanks)
    pieces = [number(1, "sink with its small goods")] if sheet.design.setting.plain_swap else [number(1, goods_words(job, name)) for name in goods]
    if blanks:
        pieces.append(counted(blanks, "countertop blank", "countertop blanks"))
    if ours and laid_in_place:
        people.append(carries(number(sheet.design.top.weight_lb, "lb of tile, backer and mortar")))
        pieces.append(number(1, "lot of tile"))
    if sheet.design.doors is not None and renews_doors(sheet.design):
        pieces.append(counted(sheet.design.doors.count, "cabinet door", "cabinet doors"))
    lines = [
        sheet.do(step, "carry-in-foot", "walks", walks(job, total(people))),
        sheet.do(step, "carry-in-step", "stairs", climbs(job, total(people))),
        sheet.do(step, "unpack-piece", "unpack", total(pieces)),
    ]
    if "sink" in goods and sheet.design.lift.lifters > 1 and is_tight(job):  # one person carries it on edge
        lines.append(sheet.do(step, "tight-turn", "tight door or turn", number(1, "sink"), parts=("sink",)))
    if "sink" in goods and not job.sink.as_received:
        lines.append(sheet.do(step, "measure-size", "against the sheet", total(_sizes(job)), parts=("sink",)))
    bought = customer_goods(job)
    if bought:
        lines.append(sheet.do(step, "customer-goods", "customer's goods", total([number(1, name) for name in bought])))
    return lines


def _own_counter(job: FilledJob) -> bool:
    return job.counter.made_by == "us" and job.scope.counter.renewed and job.scope.counter.ours_to_install


def _people(sheet: Sheet, goods: list[str], blanks: int) -> list[Amount]:
    """Who walks with what: the heavy pieces one by one, the small goods in one walk."""
    people = []
    if sheet.design.setting.plain_swap and sheet.design.lift.lifters == 1:
        return [number(1, "person with the sink and the small goods")]
    if "sink" in goods:
        people.append(counted(sheet.design.lift.lifters, "person with the sink", "people with the sink"))
    if "dishwasher" in goods:
        people.append(number(value("site_work", "dishwasher/people"), "people with the dishwasher"))
    if blanks:
        each = lifter_row(sheet.design.top.weight_lb / blanks, sheet.lists).lifters
        people.append(counted(blanks, "blank", "blanks") * counted(each, "person", "people"))
    people.append(number(1, "person with the small goods"))
    return people


def _sizes(job: FilledJob) -> list[Amount]:
    """Sizes that decide the cut-outs: body, bowls and outlet; the apron where there is one."""
    sizes = [number(2, "body sizes"), counted(len(job.sink.bowls), "bowl", "bowls") * number(3, "sizes"), number(2, "outlet places")]
    if job.sink.is_apron:
        sizes.append(number(3, "apron sizes"))
    return sizes


def is_tight(job: FilledJob) -> bool:
    """Whether a door or turn on the way in is narrower than the sink on its flat side with hands and arms beside it."""
    return min(job.site.narrowest_door_in, job.site.narrowest_turn_in) < job.sink.depth_in + value("practice", "access/carriers")


def walks(job: FilledJob, people: Amount) -> Amount:
    """Feet that people walk between truck and kitchen, there and back."""
    return people * number(2, "ways") * number(job.site.carry_ft, "ft")


def climbs(job: FilledJob, people: Amount) -> Amount:
    """Steps that people climb between truck and kitchen, up and down."""
    return people * number(2, "ways") * counted(job.site.stair_steps, "step", "steps")


def carries(weight: Amount) -> Amount:
    """How often one person walks with a weight [lb]."""
    return round_up(weight / number(value("site_work", "carry/load"), "lb at once"))
