"""The takeoff: every trade step's function in the order of the work."""

from collections.abc import Callable

from kit.design.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Line
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
from kit.takeoff.removal import count_old_counter, count_old_sink
from kit.takeoff.sealant import count_sealant
from kit.takeoff.set_counter import count_counter
from kit.takeoff.set_sink import count_sink
from kit.takeoff.sheet import Sheet
from kit.takeoff.shut_off import count_shut_off
from kit.takeoff.visits import count_fill_test, count_inspection, count_punch_list, count_template, count_visit
from kit.takeoff.wall_patch import count_wall_patch
from kit.takeoff.water_kept import count_temporary_sink, count_water_kept

__all__ = ["TRADE_STEPS", "take_off"]

TRADE_STEPS: tuple[Callable[[Sheet], list[Line]], ...] = (
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


def take_off(job: FilledJob, design: Design, lists: Lists) -> tuple[Line, ...]:
    """Every line of the job; lines of nothing are left out."""
    sheet = Sheet(job, design, lists)
    return tuple(line for count in TRADE_STEPS for line in sheet.lines_of(count) if line.quantity > 0.0)
