"""The takeoff: every trade step's function in the order of the work."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from kit.design.design import Design
from kit.errors import Fault, KitError
from kit.job import FilledJob
from kit.lists import Lists
from kit.lists.goods_rows import Item
from kit.records import Kind, Line
from kit.steps import Step
from kit.takeoff.abatement import count_abatement
from kit.takeoff.build_frame import count_frame
from kit.takeoff.connect_dishwasher import count_dishwasher_fastened, count_dishwasher_freed, count_dishwasher_hose
from kit.takeoff.connect_drain import count_drain, count_drain_lowered
from kit.takeoff.connect_supply import count_stops, count_supply
from kit.takeoff.debris import count_debris
from kit.takeoff.fixtures import count_disposer, count_faucet
from kit.takeoff.fronts import count_front_cut, count_fronts_back, count_fronts_off
from kit.takeoff.ordering import count_ordering
from kit.takeoff.prepare_cabinet import count_barrier, count_cabinet_repair, count_shims, count_sub_top
from kit.takeoff.protection import count_clean_up, count_protection
from kit.takeoff.receiving import count_receiving
from kit.takeoff.sealant import count_sealant
from kit.takeoff.set_counter import count_counter
from kit.takeoff.set_sink import count_sink
from kit.takeoff.sheet import Sheet
from kit.takeoff.shut_off import count_shut_off
from kit.takeoff.tear_out import count_old_counter, count_old_sink
from kit.takeoff.visits import count_fill_test, count_inspection, count_punch_list, count_template, count_visit
from kit.takeoff.wall_patch import count_wall_patch
from kit.takeoff.water_kept import count_temporary_sink, count_water_kept

__all__ = ["TRADE_STEPS", "CountStep", "name_of_step", "take_off"]

CountStep = Callable[[Sheet], list[Line]]
"""Counts the lines of one trade step, which it writes with `sheet.buy`, `sheet.do`, `sheet.hire` or `sheet.fee`."""

TRADE_STEPS: tuple[CountStep, ...] = (
    count_visit,
    count_ordering,
    count_receiving,
    count_protection,
    count_shut_off,
    count_fronts_off,
    count_old_sink,
    count_stops,
    count_dishwasher_freed,
    count_abatement,
    count_old_counter,
    count_water_kept,
    count_temporary_sink,
    count_cabinet_repair,
    count_shims,
    count_sub_top,
    count_barrier,
    count_drain_lowered,
    count_inspection,
    count_wall_patch,
    count_front_cut,
    count_frame,
    count_sink,
    count_template,
    count_counter,
    count_sealant,
    count_faucet,
    count_supply,
    count_disposer,
    count_drain,
    count_dishwasher_hose,
    count_dishwasher_fastened,
    count_fill_test,
    count_fronts_back,
    count_debris,
    count_clean_up,
    count_punch_list,
)


def take_off(job: FilledJob, design: Design, lists: Lists, own_steps: Sequence[CountStep] = ()) -> tuple[Line, ...]:
    """Every line of the job, those of a person's own steps last; lines of nothing are left out.

    Raises KitError if an own step gives anything but lines of steps that there are, or a line whose id is taken.
    """
    sheet = Sheet(job, design, lists)
    lines = [line for count in TRADE_STEPS for line in sheet.lines_of(count) if line.quantity > 0.0]
    taken = {line.id for line in lines}
    for count in own_steps:
        for line in _own_lines(count, sheet):
            if line.id in taken:
                raise KitError(Fault(name_of_step(count), f'writes the line "{line.id}", which is there already. Give its part another name.'))
            taken.add(line.id)
            lines.append(line)
    return tuple(lines)


def _own_lines(count: CountStep, sheet: Sheet) -> Iterator[Line]:
    """The lines of a person's own step that are of something, each checked; its step may be given by its id as text."""
    lines: Any = count(sheet)
    if not isinstance(lines, list | tuple) or not all(isinstance(line, Line) for line in lines):
        raise KitError(Fault(name_of_step(count), "gives no list of lines. Return what sheet.buy, sheet.do, sheet.hire or sheet.fee write, in a list."))
    for line in lines:
        if line.step not in sheet.lists.steps:
            raise KitError(Fault(name_of_step(count), f'is of the step "{line.step}", which there is not. Use one of: {", ".join(sheet.lists.steps)}.'))
        if not 0.0 <= line.quantity < math.inf:
            raise KitError(Fault(name_of_step(count), f"counts {line.quantity:g} {line.unit}: no quantity. Give 0 or more."))
        if line.kind is Kind.BUY:
            _refuse_pieces(count, line, sheet.lists.item(line.item))
        if line.quantity:
            yield replace(line, step=Step(line.step))


def _refuse_pieces(count: CountStep, line: Line, item: Item) -> None:
    """A cut plan buys for pieces alone: a line of what is cut names them, and its quantity is theirs."""
    if item.cut == "no":
        return
    if not line.pieces:
        sentence = f"buys {item.name}, which is cut, without its pieces. Say which: pieces=(Piece(24.0, 2, 'corbel'),) for two of 24 in."
        raise KitError(Fault(name_of_step(count), sentence))
    in_all = sum(piece.count * (piece.length_in / 12.0 if item.cut == "length" else piece.length_in * piece.width_in / 144.0) for piece in line.pieces)
    if not math.isclose(in_all, line.quantity, rel_tol=1e-6):
        raise KitError(Fault(name_of_step(count), f"counts {line.quantity:g} {line.unit} of {item.name}, but its pieces come to {in_all:g} {line.unit}."))


def name_of_step(count: CountStep) -> str:
    """What a person's own step is called: as its function; one without a name is an own step."""
    name = getattr(count, "__name__", "")
    return name if name.isidentifier() else "without a name"
