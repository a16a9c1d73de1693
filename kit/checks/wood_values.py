"""What a piece of dressed lumber is worth before its use is known: section and reference design values.

National Design Specification for Wood Construction (NDS), allowable stress design. Visually graded dimension
lumber, 2 to 4 in thick, has values; boards, panels and heavier timbers have none here. Read were No. 2 and Stud of spruce-pine-fir, hem-fir, Douglas fir-larch
and spruce-pine-fir (South), and the one row of
No. 1 and No. 2 of spruce-pine-fir; every other grade, and all of southern pine, is from memory: its rows say so.
"""

from dataclasses import dataclass
from functools import lru_cache

from kit.checks.no_value import NoValue
from kit.design.require import require
from kit.errors import JobError
from kit.sources import Row, row, value
from kit.units import exceeds, format_exact_length

__all__ = ["GRADES", "SPECIES", "Section", "WoodValues", "design_values", "dressed_section", "lowest_values", "weakest_row"]

SPECIES = ("spf", "hem-fir", "df-l", "spf-south", "southern-pine")
GRADES = ("select-structural", "1", "2", "construction", "stud")
_COMMON_GRADES = ("2", "stud")  # what a yard sells unasked; no value of the other grades is lower (a test looks)
_SOURCE = "awc-2015-supplement"
_NOMINAL_WIDTHS = ("3", "4", "6", "8", "10", "12")


@dataclass(frozen=True, slots=True)
class Section:
    """Rectangle as it stands: `width_in` across the load, `depth_in` along it [in]."""

    width_in: float
    depth_in: float

    def __post_init__(self) -> None:
        """Refuse a side that is not more than 0."""
        require(positive={"width_in": self.width_in, "depth_in": self.depth_in})

    @property
    def area_in2(self) -> float:
        """Area [sq in]."""
        return self.width_in * self.depth_in

    @property
    def modulus_in3(self) -> float:
        """Section modulus about the axis across the load, b d^2 / 6 [cu in]."""
        return self.width_in * self.depth_in**2 / 6.0

    @property
    def inertia_in4(self) -> float:
        """Moment of inertia about the axis across the load, b d^3 / 12 [in4]."""
        return self.width_in * self.depth_in**3 / 12.0

    @property
    def thin_in(self) -> float:
        """The smaller side [in]."""
        return min(self.width_in, self.depth_in)

    @property
    def wide_in(self) -> float:
        """The larger side [in]."""
        return max(self.width_in, self.depth_in)

    @property
    def is_flat(self) -> bool:
        """Whether the load meets the wide face."""
        return self.depth_in < self.width_in


@dataclass(frozen=True, slots=True)
class WoodValues:
    """Reference design values [psi] of one piece, with the factors that depend on its size alone.

    `stability_psi` is the elasticity for buckling (Emin); `gravity` is specific gravity, oven dry; `source` is the key of whoever
    gives them, as it was read.
    """

    name: str
    bending_psi: float
    tension_psi: float
    shear_psi: float
    bearing_psi: float
    compression_psi: float
    elasticity_psi: float
    stability_psi: float
    gravity: float
    size_bending: float = 1.0
    size_tension: float = 1.0
    size_compression: float = 1.0
    flat_use: float = 1.0
    source: str = ""


def design_values(species: str, grade: str, section: Section) -> WoodValues | NoValue:
    """Look up the design values of a piece by species group, grade and size.

    Parameters
    ----------
    species
        One of `SPECIES`.
    grade
        One of `GRADES`.
    section
        Dressed sides [in], as the piece stands under its load.

    Returns
    -------
    The values, or why there are none for this size.

    Raises
    ------
    JobError
        If species or grade is not one of those named.

    Notes
    -----
    A ripped piece takes the size factor of the next wider dressed width, which is never larger. Flat use of pieces
    thicker than nominal 3 in takes no increase.
    """
    if species not in SPECIES:
        raise JobError(f'"{species}" is not a species group with values. Give one of: {", ".join(SPECIES)}.')
    if grade not in GRADES:
        raise JobError(f'"{grade}" is not a grade with values. Give one of: {", ".join(GRADES)}.')
    return _design_values(species, grade, section)


@lru_cache(maxsize=128)
def lowest_values(section: Section) -> WoodValues | NoValue:
    """Give the least of each value listed for this size, for a piece whose species and grade nobody read.

    No single wood is weakest in everything, so each value is the smallest of its own; size factors are inside.
    """
    listed = [values for _, values in _commonly_listed(section)]
    if len(listed) < len(SPECIES) * len(_COMMON_GRADES) - 1:  # stud grade of southern pine ends at 4 in, the others at 6
        size = " x ".join(map(format_exact_length, (section.thin_in, section.wide_in)))
        return NoValue(f"{size}: not every wood has values at this size; read species and grade off the piece.", _SOURCE)
    return WoodValues(
        name="weakest listed wood",
        bending_psi=min(values.bending_psi * values.size_bending for values in listed),
        tension_psi=min(values.tension_psi * values.size_tension for values in listed),
        shear_psi=min(values.shear_psi for values in listed),
        bearing_psi=min(values.bearing_psi for values in listed),
        compression_psi=min(values.compression_psi * values.size_compression for values in listed),
        elasticity_psi=min(values.elasticity_psi for values in listed),
        stability_psi=min(values.stability_psi for values in listed),
        gravity=min(values.gravity for values in listed),
        flat_use=min(values.flat_use for values in listed),
        source=_SOURCE,
    )


def weakest_row(name: str, section: Section) -> Row:
    """The row that gives `lowest_values` its bending, tension, shear, bearing or compression at this size."""

    def strength(listed: tuple[str, WoodValues]) -> float:
        values = listed[1]
        return float(getattr(values, f"{name}_psi") * getattr(values, f"size_{name}", 1.0))

    prefix, _ = min(_commonly_listed(section), key=strength)
    return row("wood_design_values", f"{prefix}/{name}")


@lru_cache(maxsize=128)
def _commonly_listed(section: Section) -> tuple[tuple[str, WoodValues], ...]:
    """Each common wood with values at this size, by the name of its rows."""
    listed = [(_prefix(species, grade, section), _design_values(species, grade, section)) for species in SPECIES for grade in _COMMON_GRADES]
    return tuple((prefix, values) for prefix, values in listed if isinstance(values, WoodValues))


def dressed_section(nominal: str, *, flat: bool = False) -> Section:
    """Give the section of dressed dry lumber by nominal size, such as "2x4"; on edge, or `flat` with the load on its wide face."""
    thickness, width = value("lumber", f"{nominal}/thickness"), value("lumber", f"{nominal}/width")
    return Section(width, thickness) if flat else Section(thickness, width)


@lru_cache(maxsize=512)
def _design_values(species: str, grade: str, section: Section) -> WoodValues | NoValue:
    nominal = _nominal_width(section.wide_in)
    southern = species == "southern-pine"
    refusal = _refusal(section, nominal, grade, southern=southern)
    if refusal or nominal is None:
        return NoValue(refusal, _SOURCE)
    prefix = _prefix(species, grade, section)

    def look(name: str) -> float:
        return value("wood_design_values", f"{prefix}/{name}")

    factors = (1.0, 1.0, 1.0) if southern else _size_factors(grade, nominal, thick=_is_thick(section))
    return WoodValues(
        name=f"{species} {grade}",
        bending_psi=look("bending"),
        tension_psi=look("tension"),
        shear_psi=look("shear"),
        bearing_psi=look("bearing"),
        compression_psi=look("compression"),
        elasticity_psi=look("elasticity"),
        stability_psi=look("stability"),
        gravity=look("gravity"),
        size_bending=factors[0],
        size_tension=factors[1],
        size_compression=factors[2],
        flat_use=_flat_use(section, nominal),
        source=row("wood_design_values", f"{prefix}/bending").key,
    )


def _prefix(species: str, grade: str, section: Section) -> str:
    """Name of the rows of a wood; southern pine has its own for each width."""
    if species != "southern-pine":
        return f"{species}/{grade}"
    nominal = _nominal_width(section.wide_in)
    return f"{species}/{grade}/{'4' if nominal in {'3', '4'} else '6'}"


def _nominal_width(wide_in: float) -> str | None:
    return next((nominal for nominal in _NOMINAL_WIDTHS if not exceeds(wide_in, value("lumber", f"2x{nominal}/width"))), None)


def _is_thick(section: Section) -> bool:
    """Whether the piece counts as nominal 4 in thick; up to nominal 3 in it doesn't."""
    return exceeds(section.thin_in, value("lumber", "2x3/width"))


def _refusal(section: Section, nominal: str | None, grade: str, *, southern: bool) -> str:
    if exceeds(value("lumber", "2x4/thickness"), section.thin_in):
        return f"{format_exact_length(section.thin_in)} is thinner than dressed dimension lumber (1 1/2 in): boards have no values here."
    if exceeds(section.thin_in, value("lumber", "4x4/thickness")):
        return f"{format_exact_length(section.thin_in)} is thicker than dimension lumber (3 1/2 in): timbers have their own table."
    if nominal is None:
        return f"{format_exact_length(section.wide_in)} is wider than a dressed 12 in piece."
    if int(nominal) > 6 and (grade == "stud" or southern):
        return f"{format_exact_length(section.wide_in)} is wider than the rows listed for this species and grade (nominal 6 in)."
    if int(nominal) > 4 and (grade == "construction" or (grade == "stud" and southern)):
        return f"{format_exact_length(section.wide_in)} is wider than the row listed for {grade} grade of this species (nominal 4 in)."
    return ""


def _size_factors(grade: str, nominal: str, *, thick: bool) -> tuple[float, float, float]:
    """For bending, tension and compression; tension takes that of bending, but knows no other for thick pieces."""
    width = "4" if nominal == "3" else nominal
    kind = grade if grade in {"stud", "construction"} else "graded"
    tension, compression = (value("size_factors", f"{kind}/{name}/{width}") for name in ("bending", "compression"))
    bending = value("size_factors", f"thick/bending/{width}") if thick and kind == "graded" else tension
    return bending, tension, compression


def _flat_use(section: Section, nominal: str) -> float:
    if not section.is_flat or _is_thick(section):
        return 1.0
    return value("size_factors", f"flat/bending/{'10' if nominal == '12' else nominal}")
