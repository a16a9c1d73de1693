"""The records that rooms hand to each other: frozen, slotted, no I/O.

Ids are stable names `step/item/part`, never positions, so that two estimates of one job can be
compared line by line.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import IntEnum, StrEnum
from typing import Literal

from kit.steps import Step

__all__ = [
    "Assumption",
    "BuildUp",
    "CostType",
    "Finding",
    "Kind",
    "Level",
    "Line",
    "Op",
    "PackedPart",
    "Piece",
    "PlacedPiece",
    "Purchase",
    "Task",
]


class Kind(StrEnum):
    """What a takeoff line asks for."""

    BUY = "buy"
    DO = "do"
    HIRE = "hire"
    FEE = "fee"


class CostType(StrEnum):
    """What a cost is, for the books."""

    LABOR = "labor"
    MATERIAL = "material"
    HIRED = "hired"
    FEE = "fee"
    OTHER = "other"

    @classmethod
    def _missing_(cls, value: object) -> "CostType | None":
        """Ledgers and tables from before the American spelling are read for ever."""
        return cls.LABOR if value == "labour" else None


class Level(IntEnum):
    """How bad a finding is, least first."""

    OK = 0
    CAUTION = 1
    UNKNOWN = 2
    STOP = 3

    @property
    def word(self) -> str:
        """The level as printed: ok, caution, unknown, stop."""
        return self.name.lower()


@dataclass(frozen=True, slots=True)
class Piece:
    """Pieces of one size to cut from stock.

    `width_in` is 0 for stock that comes as lengths (sticks, pipe, tube). `grain` is "length" when the
    grain or vein must run along `length_in`, "free" when the piece may be turned.
    """

    length_in: float
    count: int
    name: str
    width_in: float = 0.0
    grain: Literal["length", "free"] = "length"


@dataclass(frozen=True, slots=True)
class Line:
    """One row of the takeoff.

    `quantity` is net, in `unit`; `waste` is the share added when it is bought (0.1 is ten percent) and is
    0 where pieces are planned. `basis` is the working in words and numbers and gives `quantity` when it is
    worked out again. `source` is a key of `kit/sources/sources.toml`. `parts` names what the drawing shows.
    """

    id: str
    step: Step
    kind: Kind
    item: str
    quantity: float
    unit: str
    waste: float
    pieces: tuple[Piece, ...]
    basis: str
    source: str
    parts: tuple[str, ...] = ()

    @property
    def need(self) -> float:
        """Quantity to buy, waste added [unit]."""
        return self.quantity * (1.0 + self.waste)


@dataclass(frozen=True, slots=True)
class Finding:
    """The answer of one check.

    `margin` is how far the measured value stays inside its limit (negative: outside), in `unit`, None when
    something is unknown; `tolerance` is that of the tape, same unit; `chance` is the chance that it fits (0 to 1).
    `source` is a key of `kit/sources/sources.toml`; `row` is the number there that set the limit (`checks/lead/year`),
    empty where none did.
    """

    id: str
    check: str
    level: Level
    measured: str
    limit: str
    unit: str
    margin: float | None
    tolerance: float
    chance: float | None
    basis: str
    source: str
    remedy: str
    parts: tuple[str, ...] = ()
    row: str = ""

    @property
    def taken_care_of(self) -> bool:
        """Whether its need is not met as things stand, and what is done about it stands in the remedy: nothing is left to decide."""
        return self.level is Level.OK and self.margin is not None and self.margin < -1e-9


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value that the visit could not tell, and what was taken in its place."""

    id: str
    field: str
    value: str
    why: str
    source: str


@dataclass(frozen=True, slots=True)
class PlacedPiece:
    """One piece where it lies on its stick or slab [in]: how far its near corner is from the stock's first end and from its edge, and its size as it lies."""

    name: str
    at_in: float
    length_in: float
    across_in: float = 0.0
    width_in: float = 0.0


@dataclass(frozen=True, slots=True)
class PackedPart:
    """What one stick, slab or blank of a cut plan yields: the stock's name and size, the pieces, what is left.

    `width_in` is 0 for stock that comes as lengths; `left_over_in` is what is left of such a one beyond its last cut [in], None of a sheet. `placed` gives
    the pieces their places, for the drawing.
    """

    stock: str
    length_in: float
    width_in: float
    pieces: tuple[str, ...]
    left_over: str
    placed: tuple[PlacedPiece, ...] = ()
    left_over_in: float | None = None


@dataclass(frozen=True, slots=True)
class Purchase:
    """What is bought of one item from one supplier at one price row.

    `need` is in the takeoff `unit`; `pack` is how much of that unit one pack holds; `packs` is a whole number
    (for planned pieces: sticks or sheets, from the cut plan; 0 for hired work and fees). `charged` is what the price is
    multiplied with: packs of goods, the need of hired work and fees. `used` is the share of what is bought that the job
    uses (0 to 1), `left_over` says in words what remains. `bound` is this purchase's part of the least
    that its cut plan can cost: those of all purchases of a plan sum to that, and a proven one's is its amount. A `consumable` is used up or
    taken away again: it doesn't become part of the house. A minimum charge is `least` less the amounts of the purchases that it `tops_up`.
    """

    id: str
    line_ids: tuple[str, ...]
    item: str
    supplier: str
    price_row: str
    need: float
    unit: str
    pack: float
    packs: int
    charged: float
    unit_price: Decimal
    amount: Decimal
    taxable: bool
    used: float
    left_over: str
    plan: tuple[PackedPart, ...] = ()
    bound: Decimal | None = None
    proven: bool = True
    consumable: bool = False
    least: Decimal | None = None
    tops_up: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Task:
    """The work of one step: worker-hours, crew, duration = hours / crew, and what it costs.

    `trade` is "crew" for own people, else the hired trade; `after` are the steps that must end first; `wait_h`
    is the time that must pass after this step, on `clock` ("working" or "elapsed").
    """

    step: Step
    line_ids: tuple[str, ...]
    hours_low: float
    hours_likely: float
    hours_high: float
    crew: int
    duration_h: float
    trade: str
    rate: Decimal
    amount: Decimal
    factors: tuple[tuple[str, float], ...]
    basis: str
    after: tuple[Step, ...]
    wait_h: float
    clock: Literal["working", "elapsed"]


Op = Literal["sum", "times", "divide", "max", "min", "round"]


@dataclass(frozen=True, slots=True)
class BuildUp:
    """One row of the price: computed, explained and written to the sheet from this one definition.

    `args` name other rows, inputs (`in:overhead`), purchases (`buy:<id>`), tasks (`task:<step>`) or the constants
    "0" and "1"; a leading "-" takes the negative. `places` are the decimals it is rounded to, half up (None: not rounded).
    """

    id: str
    label: str
    op: Op
    args: tuple[str, ...]
    places: int | None = None
    amount: Decimal = Decimal(0)
