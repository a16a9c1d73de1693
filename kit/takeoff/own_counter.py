"""A counter made by us: blanks coated before day 1, scribed and cut on site, fresh edges sealed, then set; and whose the splash of its material is."""

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
    """Material where we supply it, work where we install it. Raises ListError if the counter's row names no blank."""
    scope, lines = sheet.job.scope.counter, []
    if scope.supplied_by != "customer":
        lines += [*_blanks(sheet, kind), *_strips(sheet, kind)]
    if scope.ours_to_install:
        lines += [
            *_finished(sheet, kind),
            *_cut(sheet),
            *_opening(sheet, kind),
            *_edges_sealed(sheet, kind),
            *_set_top(sheet),
            *_seams(sheet),
            *_fastened(sheet),
        ]
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
        raise ListError(Fault(f'countertop "{kind.item}"', "has no blank_item, but is made by us. Add one.", "counters.csv"))
    pieces = _pieces(sheet)
    area = total([_rectangle(piece) for piece in pieces]) / number(144, "sq in a sq ft")
    first = Step.REST_BLANK if kind.finish_item else Step.FIT_TOP  # what is coated on all faces is laid out days before
    step = first if sheet.job.scope.counter.ours_to_install else Step.SET_COUNTER
    return [sheet.buy(step, kind.blank_item, "blanks", area, pieces=pieces, parts=("counter",))]


def _rectangle(piece: Piece) -> Amount:
    return counted(piece.count, "piece", "pieces") * number(piece.length_in, "in") * number(piece.width_in, "in")


def _strips(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Edge strips and end caps of a blank with raw edges, and the cement that holds them."""
    if kind.edge_strip_item is None:
        return []
    step, strips = Step.FIT_TOP, sheet.design.top.strips
    length = pieces_length(strips)
    area = length * number(sheet.job.counter.thickness_in, "in thick") / number(144, "sq in a sq ft")
    cement = area / number(value("practice", "glue/coverage"), "sq ft a fl oz")
    return [
        sheet.buy(step, kind.edge_strip_item, "edges and ends", length / number(12, "in a foot"), pieces=strips, parts=("counter",)),
        sheet.buy(step, "contact-cement", "edges and ends", cement, source="from-memory"),
        sheet.do(step, "edge-strip-foot", "glue and file", length / number(12, "in a foot")),
    ]


def _cut(sheet: Sheet) -> list[Line]:
    return [sheet.do(Step.FIT_TOP, "own-counter-foot", "scribe and cut", _feet(sheet), parts=("counter",))]


def _feet(sheet: Sheet) -> Amount:
    return pieces_length(sheet.design.top.pieces) / number(12, "in a foot")


def _set_top(sheet: Sheet) -> list[Line]:
    step, top = Step.SET_COUNTER, sheet.design.top
    lines = [sheet.do(step, "lay-counter-foot", "carry over and lay", _feet(sheet), parts=("counter",))]
    if splash_is_ours(sheet):
        feet = pieces_length(top.splash) / number(12, "in a foot")
        lines.append(sheet.buy(step, "adhesive", "splash", feet, parts=("splash",)))
        lines.append(sheet.do(step, "own-splash-foot", "scribe and set", feet, parts=("splash",)))
    return lines


def _opening(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """The sink's opening cut by us; its edge is sealed, unless the finish of the top covers it."""
    step, edge = Step.FIT_TOP, cut_edge(sheet)
    lines = [
        sheet.buy(step, "fine-blade", "cut-out", edge / number(value("practice", "front/blade-life"), "in a blade"), source="judgement"),
        sheet.do(step, "cut-out-foot", "sink cutout", edge / number(12, "in a foot"), parts=("cut-out",)),
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
        lines.append(sheet.do(Step.FIT_TOP, "own-slot", "slot", total(slotted), source=row("wood_movement", f"{sheet.job.counter.species}/tangential").key))
    return lines


def _finished(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Blanks laid out to acclimate and coated on all six faces before day 1, the bond line of the sink left bare; finish for the fresh edges too."""
    if kind.finish_item is None:
        return []
    step, counter, pieces = Step.COAT_BLANK, sheet.job.counter, _pieces(sheet)
    coats, top = counted(counter.finish_coats, "coat", "coats"), len(sheet.design.top.pieces)
    thick = [counter.thickness_in] * top + [counter.splash_thickness_in] * (len(pieces) - top)
    faces = total([_six_faces(*one) for one in zip(pieces, thick, strict=True)]) / number(144, "sq in a sq ft")
    edges = _fresh_edges(sheet) * number(counter.thickness_in, "in thick") / number(144, "sq in a sq ft")
    coated = total([faces * coats, edges * _edge_coats()])
    sheets = faces / number(value("practice", "finish/abrasive"), "sq ft a sheet") * coats
    lines = [
        sheet.do(Step.REST_BLANK, "rest-blank", "lay out", counted(sum(piece.count for piece in pieces), "piece", "pieces"), source="common-practice"),
        sheet.buy(step, kind.finish_item, "all faces", coated / number(value("practice", "finish/coverage"), "sq ft a fl oz"), source="from-memory"),
        sheet.buy(step, "abrasive-sheet", "between coats", sheets, source="judgement"),
        sheet.do(step, "own-finish-foot", "coat", faces * coats, parts=("counter",)),
    ]
    if sheet.job.sink.mount != "top":
        bond = cut_edge(sheet) / number(12, "in a foot")
        lines.append(sheet.buy(step, "masking-tape", "bond line", bond, source="common-practice"))
        lines.append(sheet.do(step, "mask-bond-foot", "bond line", bond, source="common-practice"))
    return lines


def _edges_sealed(sheet: Sheet, kind: CounterKind) -> list[Line]:
    """Every edge that was cut on site coated, dried and coated again before the top is set."""
    if kind.finish_item is None:
        return []
    feet = _fresh_edges(sheet) / number(12, "in a foot")
    return [
        sheet.do(Step.FIT_TOP, "edge-coat-first", "fresh edges", feet, source="common-practice"),
        sheet.do(Step.COAT_EDGES, "edge-coat-again", "fresh edges", feet * (_edge_coats() - number(1, "on the day of the cut")), source="common-practice"),
    ]


def _edge_coats() -> Amount:
    return number(value("practice", "front/seal-coats"), "coats")


def _fresh_edges(sheet: Sheet) -> Amount:
    """Length of what is cut on site [in]: the opening, the scribed rear and both ends of each piece; a hole is sealed as it is drilled."""
    pieces = sheet.design.top.pieces
    return total([cut_edge(sheet), pieces_length(pieces), *(number(2 * piece.count, "ends") * number(piece.width_in, "in") for piece in pieces)])


def _six_faces(piece: Piece, thickness_in: float) -> Amount:
    faces = number(FACES, "faces") * number(piece.length_in, "in") * number(piece.width_in, "in")
    edges = number(FACES) * (number(piece.length_in, "in") + number(piece.width_in, "in")) * number(thickness_in, "in thick")
    each = faces + edges
    return each if piece.count == 1 else number(piece.count, "pieces") * each
