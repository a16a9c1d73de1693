"""How is each stick and each sheet cut? The cut plan of a purchase, to scale, with the names of the pieces."""

from collections.abc import Iterator, Mapping, Sequence

from kit.draw.canvas import Canvas
from kit.draw.frame_picture import number_members
from kit.draw.lettering import clean, letter_of, measure_text, wrap_text
from kit.draw.name_places import spread_column
from kit.draw.widths import PHONE, canvas_for
from kit.estimating import Estimate
from kit.records import PackedPart, PlacedPiece, Purchase
from kit.takeoff.connect_drain import CENTERS
from kit.units import format_length

__all__ = ["draw_cut_plan", "draw_cut_plans", "draw_sheet_plan"]

WIDEST, BAR, LINE, GAP = 600.0, 24.0, 15.0, 16.0
"""Longest stick or sheet at a desk, height of a stick, of a line and of the air between sticks [px]."""
LETTERS_ABOVE = 16.0
"""How high above a stick the letters of what is too short for them stand [px]."""
LARGEST_SCALE, LARGEST_SHEET_SCALE = 14.0, 9.0

Key = tuple[str, float, float]
Numbers = Mapping[tuple[str, float], int]


def draw_cut_plans(estimate: Estimate, *, narrow: bool = False) -> Iterator[tuple[str, str]]:
    """Item and SVG of the cut plan of each item that is cut, as sticks or as sheets; members carry the number that the picture of the frame gives them."""
    numbers = number_members(estimate)
    by_item: dict[str, list[Purchase]] = {}
    for purchase in estimate.purchases:
        if purchase.plan:
            by_item.setdefault(purchase.item, []).append(purchase)
    for item, cut in by_item.items():
        sheets = any(part.width_in for purchase in cut for part in purchase.plan)
        draw = draw_sheet_plan if sheets else draw_cut_plan
        yield item, draw(*cut, name=estimate.lists.name_of(item), numbers=numbers, narrow=narrow)


def draw_cut_plan(*purchases: Purchase, name: str = "", numbers: Numbers | None = None, narrow: bool = False) -> str:
    """Sticks of one item as bars, to scale: pieces by number or letter, cuts, and what is left hatched.

    Parameters
    ----------
    purchases
        Of one item, one for each stock that its cut plan buys; those without a plan are left out.
    name
        What people call the item.
    numbers
        Number of a member of the frame by its name and length [in] to a thousandth, as `number_members` gives it.
    narrow
        Whether it is whole on a telephone.

    Returns
    -------
    SVG. A member's number, or a letter, stands for pieces of one name and length; the list below the bars says which. Like sticks are drawn once.
    """
    sticks = _count_alike([(purchase, part) for purchase in purchases for part in purchase.plan if part.placed and not part.width_in])
    keys = _keys([piece for _, part, _ in sticks for piece in part.placed], numbers or {})
    uncut = any(CENTERS in what for what, _, _ in keys)
    scale = _scale([part for _, part, _ in sticks], LARGEST_SCALE, narrow=narrow)
    sheet = canvas_for(_title(purchases, name, uncut=uncut), scale=scale, narrow=narrow)
    y = 0.0
    for purchase, part, count in sticks:
        y = _draw_stick(sheet, part, keys, _write_lines(sheet, _heading(purchase, part, count, uncut=uncut), y, narrow=narrow, bold=True), narrow=narrow)
    y -= GAP / sheet.scale
    for (what, length, _), letter in sorted(keys.items(), key=lambda pair: (not pair[1].isdigit(), len(pair[1]), pair[1])):
        many = sum(count for _, part, count in sticks for piece in part.placed if (piece.name, piece.length_in) == (what, length))
        y = _write_lines(sheet, f"{letter}: {many} x {what}, {format_length(length)}", y, narrow=narrow)
    if uncut:
        sheet.note("Center to center: don't cut to these lengths. Measure with the fittings in hand; each piece is shorter by what they take up.")
    _note(sheet, purchases, "no cheaper purchase exists")
    return sheet.svg()


def draw_sheet_plan(*purchases: Purchase, name: str = "", numbers: Numbers | None = None, narrow: bool = False) -> str:
    """Sheets, slabs or blanks of one item, to scale: pieces with name and size where they lie, what is left hatched.

    Parameters and errors as `draw_cut_plan`.
    """
    sheets = _count_alike([(purchase, part) for purchase in purchases for part in purchase.plan if part.placed and part.width_in])
    scale = _scale([part for _, part, _ in sheets], LARGEST_SHEET_SCALE, narrow=narrow)
    canvas = canvas_for(_title(purchases, name), scale=scale, narrow=narrow, keyed=True)
    y = 0.0
    for purchase, part, count in sheets:
        y = _draw_sheet(canvas, part, _write_lines(canvas, _sheet_heading(purchase, part, count), y, narrow=narrow, bold=True), numbers or {})
    _note(canvas, purchases, "no cheaper purchase exists with cuts from edge to edge")
    return canvas.svg()


def _title(purchases: Sequence[Purchase], name: str, *, uncut: bool = False) -> str:
    return f"{'Lengths to buy' if uncut else 'Cut plan'}: {name or (purchases[0].item if purchases else 'nothing to cut')}"


def _scale(parts: Sequence[PackedPart], largest: float, *, narrow: bool) -> float:
    widest = PHONE if narrow else WIDEST
    return min(largest, widest / max((part.length_in for part in parts), default=widest))


def _write_lines(sheet: Canvas, words: str, y: float, *, narrow: bool, bold: bool = False) -> float:
    """Words from the left, on as many lines as they need on a telephone, the first at `y` [in]; gives where the next line stands."""
    for line in wrap_text(clean(words), PHONE) if narrow else (words,):
        sheet.write(line, 0.0, y, bold=bold)
        y -= LINE / sheet.scale
    return y


def _count_alike(parts: Sequence[tuple[Purchase, PackedPart]]) -> list[tuple[Purchase, PackedPart, int]]:
    """Sticks or sheets that are cut alike, once each with their number."""
    alike: dict[tuple[str, tuple[PlacedPiece, ...]], tuple[Purchase, PackedPart, int]] = {}
    for purchase, part in parts:
        key = (purchase.id, part.placed)
        before = alike.get(key)
        alike[key] = (purchase, part, 1 if before is None else before[2] + 1)
    return list(alike.values())


def _keys(pieces: Sequence[PlacedPiece], numbers: Numbers) -> dict[Key, str]:
    """What stands for each name and length: a member's number in the frame; for others a letter, A to Z, then AA, AB and on."""
    keys: dict[Key, str] = {}
    for piece in pieces:
        number, letters = numbers.get((piece.name, round(piece.length_in, 3))), sum(not key.isdigit() for key in keys.values())
        keys.setdefault((piece.name, piece.length_in, 0.0), letter_of(letters) if number is None else str(number))
    return keys


def _heading(purchase: Purchase, part: PackedPart, count: int, *, uncut: bool = False) -> str:
    stock = purchase.id.partition("/")[2] or part.stock
    return f"{f'Buy {count} for these' if uncut else f'Cut {count} like this'}: {stock}, {purchase.supplier}"


def _sheet_heading(purchase: Purchase, part: PackedPart, count: int) -> str:
    long, wide, heading = format_length(part.length_in), format_length(part.width_in), _heading(purchase, part, count)
    said = f"{long.removesuffix(' in')} x {wide}" in heading  # the stock is named by its size
    return heading if said else f"{heading}: {long} x {wide}"


def _draw_stick(sheet: Canvas, part: PackedPart, keys: dict[Key, str], y: float, *, narrow: bool) -> float:
    """One bar below its heading, which ends at `y` [in]; returns where the next heading stands."""
    scale = sheet.scale
    above = _letters_above(part, keys, scale)
    top = y - (LETTERS_ABOVE + LINE / 2.0 if above else 0.0) / scale
    low = top - BAR / scale
    middle = (top + low) / 2.0
    inside = [(piece.at_in, low, piece.at_in + piece.length_in, top) for piece in part.placed]
    end = max(edges[2] for edges in inside)
    sheet.box("stick", 0.0, low, part.length_in, top, kind="thin")
    for number, (piece, edges) in enumerate(zip(part.placed, inside, strict=True)):
        sheet.box("piece", *edges)
        letter, x = keys[piece.name, piece.length_in, 0.0], piece.at_in + piece.length_in / 2.0
        size = format_length(piece.length_in)
        if number not in above:
            tries = (f"{letter}: {piece.name} {size}", f"{letter}: {size}", letter)
            words = next(one for one in tries if one == letter or measure_text(clean(one)) + 6.0 <= piece.length_in * scale)
            sheet.write(words, x, middle, anchor="middle", bold=True)
        else:
            sheet.line("", (x, middle), (x, top), (above[number], top + (LETTERS_ABOVE - LINE / 2.0) / scale), kind="thin")
            sheet.write(letter, above[number], top + LETTERS_ABOVE / scale, anchor="middle", bold=True)
    if part.length_in - end > 0.005:
        sheet.rest((0.0, low, part.length_in, top), [(0.0, low, end, top)], "wide")
    words = f"left {part.left_over}"
    room = (part.length_in - end) * scale
    if room >= measure_text(words) + 8.0:
        sheet.write(words, (end + part.length_in) / 2.0, middle, anchor="middle")
    elif narrow:
        sheet.write(words, 0.0, low - 0.8 * LINE / scale)
        low -= LINE / scale
    else:
        sheet.write(words, part.length_in + 8.0 / scale, middle)
    return low - GAP / scale


def _letters_above(part: PackedPart, keys: dict[Key, str], scale: float) -> dict[int, float]:
    """Where along a bar the letters of its pieces that are too short for them stand above it, side by side [in]."""
    letters = {number: keys[piece.name, piece.length_in, 0.0] for number, piece in enumerate(part.placed)}
    wide = {number: measure_text(letter) + 5.0 for number, letter in letters.items()}
    short = [number for number, piece in enumerate(part.placed) if wide[number] > piece.length_in * scale]
    wished = [(part.placed[number].at_in + part.placed[number].length_in / 2.0) * scale for number in short]
    at, end = spread_column(wished, [wide[number] for number in short]), part.length_in * scale
    places: dict[int, float] = {}
    for number, x in zip(reversed(short), reversed(at), strict=True):  # none past the end of the bar
        places[number] = min(x, end - wide[number] / 2.0) / scale
        end = places[number] * scale - wide[number] / 2.0
    return places


def _draw_sheet(canvas: Canvas, part: PackedPart, top: float, numbers: Numbers) -> float:
    """One sheet below its heading, upper edge at `top` [in]; returns where the next heading stands."""
    scale = canvas.scale
    low = top - part.width_in
    inside = [(piece.at_in, top - piece.across_in - piece.width_in, piece.at_in + piece.length_in, top - piece.across_in) for piece in part.placed]
    canvas.rest((0.0, low, part.length_in, top), inside, "wide")
    canvas.box("stick", 0.0, low, part.length_in, top)
    for piece, edges in zip(part.placed, inside, strict=True):
        canvas.box("piece", *edges)
        number = numbers.get((piece.name, round(piece.length_in, 3)))
        words = f"{'' if number is None else f'{number}: '}{piece.name}, {format_length(piece.length_in)} x {format_length(piece.width_in)}"
        x, middle = (edges[0] + edges[2]) / 2.0, (edges[1] + edges[3]) / 2.0
        canvas.name("", words, x, middle, "right", room=(piece.length_in, piece.width_in))
    after = low - LINE * 0.9 / scale
    canvas.write(f"left {part.left_over}", 0.0, after)
    return after - (LINE + GAP * 0.5) / scale


def _note(sheet: Canvas, purchases: Sequence[Purchase], proof: str) -> None:
    if all(purchase.proven for purchase in purchases):
        sheet.note(f"Hatched: left over. Proven: {proof}.")
    else:
        sheet.note("Hatched: left over. Not proven cheapest: too many kinds of stock to try them all.")
    sheet.note("Ends are taken as square: trim a rough one first and see that the last piece still fits.")
    sheet.note("Measure each stock piece before the first cut. Follow the saw maker's instructions and keep the guards on.")
