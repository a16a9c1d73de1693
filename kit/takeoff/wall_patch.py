"""Wall patch: board and tape before frame, sink and counter cover them; filled and painted afterwards where it stays in reach.

A base with a back panel is opened in front of the drain too, and closed again.
"""

from kit.design.place_repairs import BACK_PATCH
from kit.records import Kind, Line, Piece
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.tear_out import bare_length, board_area, splash_length
from kit.takeoff.working import Amount, number, total

__all__ = ["board_areas", "count_wall_patch", "patch_is_seen"]


def count_wall_patch(sheet: Sheet) -> list[Line]:
    """By whom the scope says: own crew, or a trade hired by the square foot, who comes again for what stays in sight; nothing where it is excluded.

    The back of the base is a cabinet: our own people open and close it for a hired trade too.
    """
    repair, areas = sheet.job.scope.wall_repair, board_areas(sheet)
    if not areas or not repair.renewed:
        return []
    board, step = total(areas), Step.PATCH_WALL
    if repair.installed_by == "trade":
        return [sheet.hire(step, "wall-trade", "patch", board), *_finished_by_trade(sheet), *_back_panel(sheet)]
    seen, lines = _seen_area(sheet), _back_panel(sheet)
    if repair.ours_to_supply:
        lines += _goods(sheet, board, seen)
    if repair.ours_to_install:
        lines += [sheet.do(step, "patch-board", "board", board), sheet.do(step, "patch-finish", "tape and compound", board)]
        if seen is not None:
            lines += [
                sheet.do(Step.FINISH_WALL, "patch-fill", "fill and sand", seen),
                sheet.do(Step.PAINT_WALL, "patch-paint", "prime and paint", seen * number(value("site_work", "wall-board/coats"), "coats")),
            ]
    return lines


def _finished_by_trade(sheet: Sheet) -> list[Line]:
    """What stays in sight is filled, sanded and painted once the countertop is set: a hired trade comes again for it."""
    seen = _seen_area(sheet)
    if seen is None:
        return []
    parts = ((Step.FINISH_WALL, "fill and sand"), (Step.PAINT_WALL, "prime and paint"))
    return [sheet.hire(step, "wall-trade-finish", part, seen) for step, part in parts]


def board_areas(sheet: Sheet) -> list[Amount]:
    """Patches [sq ft]: along the old splash, and round the part of the drain that comes down."""
    areas = [area for area in (board_area(sheet), _drain_area(sheet)) if area is not None]
    return areas if sheet.job.scope.wall_repair.renewed else []


def patch_is_seen(sheet: Sheet) -> bool:
    """Whether our own people fill and sand a patch that stays in sight, after the counter is set."""
    return any(line.step is Step.FINISH_WALL and line.kind is Kind.DO for line in sheet.lines_of(count_wall_patch))


def _goods(sheet: Sheet, board: Amount, seen: Amount | None) -> list[Line]:
    step = Step.PATCH_WALL
    lines = [
        sheet.buy(step, "wall-board", "board", board),
        sheet.buy(step, "joint-compound", "joints", board, source="common-practice"),
        sheet.buy(step, "board-screw", "board", board * number(value("site_work", "wall-board/screws"), "screws a sq ft"), source="common-practice"),
    ]
    if seen is not None:
        coats = seen * number(value("site_work", "wall-board/coats"), "coats")
        lines.append(sheet.buy(Step.PAINT_WALL, "wall-paint", "coats", coats, source="common-practice"))
    return lines


def _back_panel(sheet: Sheet) -> list[Line]:
    """The back of the base closed where the drain came down behind it; the panel laps nothing, so it is as large as the opening."""
    model, repair = sheet.design.placed.model, sheet.job.scope.wall_repair
    if BACK_PATCH not in model:
        return []
    patch, step, lines, beside_trade = model[BACK_PATCH], Step.PATCH_WALL, [], repair.installed_by == "trade"
    area = number(patch.size_in("z"), "in high") * number(patch.size_in("x"), "in wide") / number(144, "sq in a sq ft")
    if repair.ours_to_supply or beside_trade:
        short_in = min(patch.size_in("x"), patch.size_in("z"))
        lines.append(sheet.buy(step, patch.item, "back panel", area, pieces=(Piece(patch.length_in, 1, "back panel", short_in, "free"),), parts=("cabinet",)))
    if repair.ours_to_install or beside_trade:
        lines.append(sheet.do(step, "back-panel", "open and close", area))
    return lines


def _drain_opening(sheet: Sheet) -> Amount | None:
    """Height of the opening in which the drain comes down [in]."""
    drain = sheet.design.drain
    if not drain.is_lowered or drain.lower_by_in is None:
        return None
    return number(drain.lower_by_in, "in lower") + number(2, "ends") * number(value("site_work", "wall-board/opening-beyond"), "in beyond")


def _drain_area(sheet: Sheet) -> Amount | None:
    high = _drain_opening(sheet)
    return None if high is None else high * number(value("site_work", "wall-board/bay"), "in from stud to stud") / number(144, "sq in a sq ft")


def _seen_area(sheet: Sheet) -> Amount | None:
    """Square feet of patch above the new splash, or where the old counter was longer; behind the cabinet nobody fills or paints."""
    old, bare_in = sheet.job.old, max(bare_length(sheet.job), 0.0)
    covered_in = min(0.0 if sheet.job.counter.splash == "none" else sheet.job.counter.splash_height_in, old.splash_height_in)
    if board_area(sheet) is None:
        return None
    seen = []
    if old.splash_height_in > covered_in:
        height = number(old.splash_height_in, "in of old backsplash")
        seen.append(splash_length(sheet.job) * (height - number(covered_in, "in under the new one") if covered_in else height))
    if bare_in and covered_in:
        seen.append(number(bare_in, "in where the old countertop was longer") * number(covered_in, "in that the new backsplash covers elsewhere"))
    return total(seen) / number(144, "sq in a sq ft") if seen else None
