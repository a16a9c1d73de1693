"""A counter made by us: blanks to cut, opening, edges, seams, fasteners, finish; and whose the splash of its material is."""

from kit.errors import Fault, ListError
from kit.lists.goods_rows import CounterKind
from kit.records import Line, Piece
from kit.sources import row, value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.sink_opening import cut_edge, edge_seal_lines
from kit.takeoff.working import Amount, counted, number, pieces_length, total

__all__ = ["own_counter", "splash_is_ours"]

FACES = 2


def own_counter(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Material where we supply it, work where we install it.

    Raises
    ------
    ListError
        If the counter's row names no blank.
    """
    scope, lines = sheet.job.scope.counter, []
    if scope.supplied_by != "customer":
        lines += [*_blanks(sheet, kind), *_strips(sheet, kind)]
    if scope.ours_to_install:
        lines += [*_fitted(sheet), *_opening(sheet, kind), *_seams(sheet), *_fastened(sheet), *_finished(sheet, kind)]
    return lines


def splash_is_ours(sheet: Sheet) -> bool:
    """Whether a splash comes with the counter and we answer for it: made by us or by a fabricator whom we pay."""
    scope = sheet.job.scope.splash
    return bool(sheet.design.top.splash) and scope.renewed and scope.installed_by != "customer"


def _pieces(sheet: Sheet) -> tuple[Piece, ...]:
    """All blanks; grain and pattern run along the run."""
    top = sheet.design.top
    return (*top.pieces, *top.splash) if splash_is_ours(sheet) else top.pieces


def _blanks(sheet: Sheet, kind: CounterKind) -> list[Line]:
    if kind.blank_item is None:
        raise ListError(Fault(f'counter "{kind.item}"', "has no blank_item, but is made by us. Add one.", "counters.csv"))
    pieces = _pieces(sheet)
    area = total([_rectangle(piece) for piece in pieces]) / number(144, "sq in a sq ft")
    return [sheet.buy(Step.SET_COUNTER, kind.blank_item, "blanks", area, pieces=pieces, parts=("counter",))]


def _rectangle(piece: Piece) -> Amount:
    return counted(piece.count, "piece", "pieces") * number(piece.length_in, "in") * number(piece.width_in, "in")


def _strips(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Edge strips and end caps of a blank with raw edges, and the cement that holds them."""
    if kind.edge_strip_item is None:
        return []
    step, strips = Step.SET_COUNTER, sheet.design.top.strips
    length = pieces_length(strips)
    area = length * number(sheet.job.counter.thickness_in, "in thick") / number(144, "sq in a sq ft")
    cement = area / number(value("practice", "glue/coverage"), "sq ft a fl oz")
    return [
        sheet.buy(step, kind.edge_strip_item, "edges and ends", length / number(12, "in a foot"), pieces=strips, parts=("counter",)),
        sheet.buy(step, "contact-cement", "edges and ends", cement, source="from-memory"),
        sheet.do(step, "edge-strip-foot", "glue and file", length / number(12, "in a foot")),
    ]


def _fitted(sheet: Sheet) -> list[Line]:
    step, top = Step.SET_COUNTER, sheet.design.top
    lines = [sheet.do(step, "own-counter-foot", "fit and fix", pieces_length(top.pieces) / number(12, "in a foot"), parts=("counter",))]
    if splash_is_ours(sheet):
        feet = pieces_length(top.splash) / number(12, "in a foot")
        lines.append(sheet.buy(step, "adhesive", "splash", feet, parts=("splash",)))
        lines.append(sheet.do(step, "own-splash-foot", "scribe and set", feet, parts=("splash",)))
    return lines


def _opening(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """The sink's opening cut by us; its edge is sealed, unless the finish of all faces covers it."""
    step, edge = Step.SET_COUNTER, cut_edge(sheet)
    lines = [
        sheet.buy(step, "fine-blade", "cut-out", edge / number(value("practice", "front/blade-life"), "in a blade"), source="judgement"),
        sheet.do(step, "cut-out-foot", "sink cut-out", edge / number(12, "in a foot"), parts=("cut-out",)),
    ]
    return lines if kind.finish_item else [*lines, *edge_seal_lines(sheet)]


def _seams(sheet: Sheet) -> list[Line]:
    top, step = sheet.design.top, Step.SET_COUNTER
    if not top.seams:
        return []
    return [
        sheet.buy(step, "counter-bolt", "seams", counted(top.bolts, "bolt", "bolts"), source="common-practice", parts=("seam",)),
        sheet.do(step, "own-seam", "align and draw up", counted(top.seams, "seam", "seams"), parts=("seam",)),
    ]


def _fastened(sheet: Sheet) -> list[Line]:
    """Screws with washers up through the rails; slots where the top must move across its grain."""
    step, rows = Step.SET_COUNTER, sheet.design.top.fasteners
    screws = total([number(row.count, f"in the {row.name}") for row in rows])
    lines = [
        sheet.buy(step, "top-screw", "fasteners", screws, source="common-practice", parts=("counter",)),
        sheet.do(step, "own-fastener", "fasten", screws),
    ]
    slotted = [number(row.count, f"in the {row.name}") for row in rows if row.slot_in]
    if slotted:
        lines.append(sheet.do(step, "own-slot", "slot", total(slotted), source=row("wood_movement", f"{sheet.job.counter.species}/tangential").key))
    return lines


def _finished(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Finish on all six faces of every piece and on the edge of the opening, each coat."""
    if kind.finish_item is None:
        return []
    step, counter = Step.SET_COUNTER, sheet.job.counter
    coats = counted(counter.finish_coats, "coat", "coats")
    area = total([_six_faces(piece, counter.thickness_in) for piece in _pieces(sheet)]) / number(144, "sq in a sq ft")
    area = area + cut_edge(sheet) * number(counter.thickness_in, "in thick") / number(144, "sq in a sq ft")
    coated = area * coats
    sheets = area / number(value("practice", "finish/abrasive"), "sq ft a sheet") * coats
    return [
        sheet.buy(step, kind.finish_item, "all faces", coated / number(value("practice", "finish/coverage"), "sq ft a fl oz"), source="from-memory"),
        sheet.buy(step, "abrasive-sheet", "between coats", sheets, source="judgement"),
        sheet.do(step, "own-finish-foot", "finish", coated, parts=("counter",)),
    ]


def _six_faces(piece: Piece, thickness_in: float) -> Amount:
    faces = number(FACES, "faces") * number(piece.length_in, "in") * number(piece.width_in, "in")
    edges = number(FACES) * (number(piece.length_in, "in") + number(piece.width_in, "in")) * number(thickness_in, "in thick")
    each = faces + edges
    return each if piece.count == 1 else number(piece.count, "pieces") * each
