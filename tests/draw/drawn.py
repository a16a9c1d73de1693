"""Reads a drawing back: its texts with the room they take, its shapes by part, its marks, in pixels and in inches."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import kit
from kit.estimating import Estimate
from kit.job import Job, change_job

SVG = "{http://www.w3.org/2000/svg}"
# A letter of a fixed-width typeface is about 0.6 of its size wide; tall letters and tails reach over less than the size.
ADVANCE, ASCENT, DESCENT = 0.602, 0.76, 0.24
EXAMPLES = {path.stem: path for path in sorted(kit.shipped("examples").glob("*.toml"))}
STONE, CORNER, FLUSH, TOP, WOOD = (
    "stone_apron_single_bowl",
    "corner_dishwasher_drain_down",
    "solid_surface_flush",
    "laminate_top_mount",
    "wood_apron_two_bowl",
)


@cache
def lists() -> kit.Lists:
    return kit.load_lists(kit.shipped("price_lists"))


@cache
def job(name: str) -> Job:
    return kit.read_job(EXAMPLES[name])


# The measures that tests work by hand from, so that an example may change without them: an apron sink 33 in wide, 10 in high,
# in a 36 in face-frame base; the other examples only with what a test names.
MEASURES: dict[str, dict[str, object]] = {
    STONE: {
        "cabinet.width": "36 in",
        "cabinet.height": "34 1/2 in",
        "cabinet.depth": "24 in",
        "cabinet.stile": "1 1/2 in",
        "cabinet.construction": "face-frame",
        "cabinet.side_thickness": "1/2 in",
        "cabinet.top_rail": "1 1/2 in",
        "cabinet.floor_height": "5 in",
        "cabinet.toe_height": "4 1/2 in",
        "cabinet.false_front_bottom": "7 in",
        "cabinet.false_front_screw": "5 1/2 in",
        "cabinet.door_top": "10 3/4 in",
        "sink.style": "apron-overlay",
        "sink.mount": "under",
        "sink.carried_at": "rim",
        "sink.apron_width": "33 in",
        "sink.apron_height": "10 in",
        "sink.apron_projection": "3/4 in",
        "sink.body_width": "32 1/2 in",
        "sink.bowl_width": "32 in",
        "sink.depth": "18 in",
        "sink.rear_rim": "2 in",
        "sink.rim_thickness": "5/8 in",
        "sink.bottom_thickness": "5/8 in",
        "sink.bowls": [{"width": "29 1/2 in", "front_to_back": "15 1/2 in", "depth": "9 in"}],
        "counter.thickness": "1 3/16 in",
        "counter.runs": [{"length": "96 in", "depth": "25 1/2 in", "left_end": "wall", "right_end": "open"}],
        "counter.sink_center": "42 in",
        "counter.overhang": "1 1/2 in",
        "counter.reveal": "1/8 in",
        "counter.wall_gap": "1/8 in",
        "plumbing.stub_height": "17 in",
        "plumbing.disposer": "none",
    },
    TOP: {
        "counter.runs": [
            {"length": "110 in", "depth": "25 1/2 in", "left_end": "open", "right_end": "corner"},
            {"length": "54 in", "depth": "25 1/2 in", "left_end": "corner", "right_end": "open"},
        ],
        "cabinet.width": "36 in",
    },
    FLUSH: {
        "counter.runs": [{"length": "150 in", "depth": "26 in", "left_end": "wall", "right_end": "range"}],
        "plumbing.disposer": "keep",
        "sink.outlet_setback": "3 in",
    },
    CORNER: {
        "plumbing.stub_height": "18 in",
        "counter.holes": [
            {"use": use, "diameter": "1 3/8 in", "offset": offset, "setback": "3 in"}
            for use, offset in (("faucet", "0 in"), ("air-gap", "5 in"), ("dispenser", "-5 in"))
        ],
    },
    WOOD: {"sink.bowls": [{"width": "13 1/2 in", "front_to_back": "17 in", "depth": "8 3/4 in"}] * 2},
}


def estimated(name: str = STONE, **changes: object) -> Estimate:
    """An example at the measures above, with some fields changed: `cabinet__width="33 in"`."""
    wanted = MEASURES[name] | {place.replace("__", "."): typed for place, typed in changes.items()}
    return kit.estimate(change_job(job(name), wanted), lists())


@dataclass(frozen=True)
class Word:
    """One text and its box: left, upper, right, lower."""

    words: str
    box: tuple[float, float, float, float]


def root(svg: str) -> ET.Element:
    return ET.fromstring(svg)


def words(svg: str) -> list[Word]:
    """Every text of a drawing with the room it takes in a fixed-width typeface."""
    element = root(svg)
    return list(_words_in(element, float(element.get("font-size")), (0.0, 0.0)))


def _words_in(element: ET.Element, usual: float, moved: tuple[float, float]) -> Iterator[Word]:
    shift = re.fullmatch(r"translate\((\S+) (\S+)\)", element.get("transform", ""))
    if shift:
        moved = (moved[0] + float(shift[1]), moved[1] + float(shift[2]))
    for child in element:
        if child.tag == f"{SVG}text":
            word = _word(child, usual)
            left, upper, right, lower = word.box
            yield Word(word.words, (left + moved[0], upper + moved[1], right + moved[0], lower + moved[1]))
        else:
            yield from _words_in(child, usual, moved)


def _word(element: ET.Element, usual: float) -> Word:
    text = "".join(element.itertext())
    size = float(element.get("font-size", usual))
    x, y = float(element.get("x")), float(element.get("y"))
    wide = len(text) * ADVANCE * size
    left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[element.get("text-anchor", "start")]
    box = (left, y - ASCENT * size, left + wide, y + DESCENT * size)
    turn = element.get("transform")
    if turn:
        at_x, at_y = (float(number) for number in re.fullmatch(r"rotate\(-90 (\S+) (\S+)\)", turn).groups())
        # turned a quarter against the clock: (x, y) goes to (cx + (y - cy), cy - (x - cx))
        box = (at_x + box[1] - at_y, at_y - (box[2] - at_x), at_x + box[3] - at_y, at_y - (box[0] - at_x))
    return Word(text, box)


def touching(found: list[Word]) -> list[tuple[str, str]]:
    """Pairs of texts that lie on each other."""
    return [
        (one.words, other.words)
        for number, one in enumerate(found)
        for other in found[number + 1 :]
        if one.box[0] < other.box[2] and other.box[0] < one.box[2] and one.box[1] < other.box[3] and other.box[1] < one.box[3]
    ]


def texts(svg: str) -> list[str]:
    return [word.words for word in words(svg)]


def view(svg: str) -> tuple[float, float, float, float]:
    """Edges of the sheet."""
    left, upper, wide, tall = (float(number) for number in root(svg).get("viewBox").split())
    return left, upper, left + wide, upper + tall


def boxes(svg: str, part: str) -> list[tuple[float, float, float, float]]:
    """Edges of every shape of a part [px]."""
    return [_edges(element) for element in root(svg).iter() if element.get("data-part") == part]


def box(svg: str, part: str) -> tuple[float, float, float, float]:
    """Edges of the first shape of a part [px]."""
    return boxes(svg, part)[0]


def extent(svg: str, part: str) -> tuple[float, float, float, float]:
    """Edges of all shapes of a part together [px]."""
    found = boxes(svg, part)
    return min(one[0] for one in found), min(one[1] for one in found), max(one[2] for one in found), max(one[3] for one in found)


def cut_faces(svg: str, part: str) -> list[tuple[float, float, float, float]]:
    """Edges of what a section cuts of a part: its hatched faces [px]."""
    return [_edges(element) for element in root(svg).iter() if element.get("data-part") == part and element.get("fill", "").startswith("url(")]


def _edges(element: ET.Element) -> tuple[float, float, float, float]:
    if element.tag == f"{SVG}circle":
        x, y, r = (float(element.get(name)) for name in ("cx", "cy", "r"))
        return x - r, y - r, x + r, y + r
    xs, ys = [], []
    x = y = 0.0
    for letter, given in re.findall(r"([MLHVZ])([^MLHVZ]*)", element.get("d")):
        numbers = [float(number) for number in given.split()]
        if letter == "H":
            x = numbers[0]
        elif letter == "V":
            y = numbers[0]
        elif letter != "Z":
            x, y = numbers
        xs.append(x)
        ys.append(y)
    return min(xs), min(ys), max(xs), max(ys)


def marks(svg: str) -> dict[str, str]:
    """Level of every part that is marked."""
    return {element.get("data-mark"): element.get("data-level") for element in root(svg).iter() if element.get("data-mark")}


def numbers(svg: str) -> dict[str, tuple[int, ...]]:
    """The numbers on the flag of every part that is marked."""
    flags = [element for element in root(svg).iter() if element.get("data-mark")]
    return {flag.get("data-mark"): tuple(int(number) for number in flag.get("data-numbers").split(", ")) for flag in flags}


def flag_at(svg: str, part: str) -> tuple[float, float]:
    """Where the sign of a part's flag begins to be drawn [px]."""
    flag = next(element for element in root(svg).iter() if element.get("data-mark") == part)
    x, y = re.match(r"M(\S+) ([\d.-]+)", flag[0].get("d")).groups()
    return float(x), float(y)


def foot(svg: str) -> float:
    """Length of the scale bar, which stands for 12 in [px]: the ruled line at the height of its label."""
    heights = [(word.box[1] + word.box[3]) / 2 for word in words(svg) if word.words == "12 in"]
    bars = re.findall(r'd="M(\S+) (\S+)h(\S+?)M', svg)
    return next(float(length) for _, y, length in bars if any(abs(float(y) - height) < 4 for height in heights))
