"""Asbestos that the laboratory found: a certified firm by the square foot, the air cleared, somebody of ours to let them in and take the papers."""

from collections.abc import Callable

from kit.job import FilledJob
from kit.records import Line
from kit.steps import Step
from kit.takeoff.sheet import ALLOWANCE, Sheet
from kit.takeoff.tear_out import old_counter_area, splash_area
from kit.takeoff.working import Amount, number, total

__all__ = ["base_floor_area", "count_abatement"]


def count_abatement(sheet: Sheet) -> list[Line]:
    """The firm, the laboratory and somebody of ours to let them in where the scope says a trade; nothing for a firm of the customer's."""
    abatement, step = sheet.design.abatement, Step.ABATE
    if not (abatement.parts and abatement.hired):
        return []
    area = total([_AREAS[part](sheet.job) for part in abatement.parts if part in _AREAS])
    return [
        sheet.do(step, "meet-abatement", "let the firm in and get its clearance", number(1, "firm"), source="demo"),
        sheet.hire(step, "abatement", "take out", area, source=ALLOWANCE),
        sheet.hire(step, "clearance-test", "clear the air", number(1, "visit by a laboratory independent of the firm"), source="demo"),
    ]


def base_floor_area(job: FilledJob) -> Amount:
    """Floor inside the sink base [sq ft]."""
    cabinet = job.cabinet
    return number(cabinet.inside_width_in, "in") * number(cabinet.depth_in, "in of cabinet floor") / number(144, "sq in a sq ft")


_AREAS: dict[str, Callable[[FilledJob], Amount]] = {"counter": old_counter_area, "splash": splash_area, "floor": base_floor_area}  # a sink is in the counter's
