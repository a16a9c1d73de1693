"""The new sink as measured or as its sheet says."""

from typing import Generic, Literal, Never, Self

from pydantic import Field, model_validator

from kit.job.fields import Blank, Record, choice, count, flag, measure, text
from kit.lists.goods_rows import MountKind, SinkStyle
from kit.units import format_exact_length, format_length

__all__ = ["Bowl", "Sink"]


class Bowl(Record):
    """One bowl, inside sizes."""

    width_in: float = measure("length", "Inside width of the bowl, left to right", 6, 48)
    front_to_back_in: float = measure("length", "Inside size of the bowl, front to back", 6, 24)
    depth_in: float = measure("length", "Inside depth of the bowl", 4, 14)


class Sink(Record, Generic[Blank]):
    """The new sink. Three widths matter: the apron outside, the body at the rim, the bowl outside."""

    item: str = text("The sink in the sinks list (its generic kind)")
    style: SinkStyle = choice("Apron that covers the cabinet's cut, apron set into it, or no apron")
    mount: MountKind = choice("Mount to the countertop: top, flush or under")
    carried_at: Literal["rim", "bowl"] | None = choice("Where the frame carries the sink: under the rim or under the bowl", unknown_ok=True)
    held_by: Literal["clips", "rails", "cradle", "frame"] | None = choice(
        "What holds a sink without an apron: clips, rails under its rim, a cradle under its bowl, or a frame. "
        "Left out: a frame where the full sink is heavy, else clips, or the countertop alone; common practice, no source",
        optional=True,
    )
    apron_width_in: float | None = measure("length", "Width of the apron, outside", 18, 60, optional=True)
    body_width_in: float = measure("length", "Width of the body at the rim, outside", 12, 60)
    bowl_width_in: float | Blank = measure(
        "length", "Width of the bowl or bowls below the rim, outside", 10, 60, like="usual_bowl_width_in", why="the body less its rim on both sides"
    )
    depth_in: float = measure("length", "Depth of the sink front to back, apron included", 10, 30)
    apron_height_in: float | None = measure("length", "Height of the apron", 4, 16, optional=True)
    apron_projection_in: float | Blank = measure(
        "length",
        "How far the apron stands out from the cabinet's face",
        0,
        4,
        assume="3/4 in",
        why="stands out about as far as a door; common practice, no source",
    )
    rim_width_in: float | Blank = measure(
        "length", "Width of the rim outside the bowl, left and right", 0.25, 3, assume="1 in", why="usual rim; common practice, no source"
    )
    rim_thickness_in: float | Blank = measure("length", "Thickness of the rim", 0.03, 3, assume="5/8 in", why="usual rim; common practice, no source")
    bottom_thickness_in: float | Blank = measure("length", "Thickness of the bowl's bottom", 0.03, 2, assume="1/2 in", why="the thicker of the usual bottoms")
    under_most_in: float | None = measure(
        "length", "Delivered sink: top of the rim down to the underside of the bowl, at its deepest corner", 4, 16, optional=True
    )
    corners_apart_in: float | None = measure(
        "length", "Delivered sink: how much shallower, rim to underside, its shallowest corner is than its deepest", 0, 1, optional=True
    )
    rear_rim_in: float | Blank = measure(
        "length",
        "Back edge of the sink to the inside of the bowl",
        0.1,
        10,
        like="usual_rear_rim_in",
        why="what bowl and front wall leave of the depth: all of it behind an apron, half of it without one; common practice, no source",
    )
    front_rim_in: float | None = measure(
        "length", "Inside of the bowl to the front edge of the sink, apron included. Left out: what depth, bowl and rear rim leave", 0.1, 10, optional=True
    )
    ledge_holes: int | None = count(
        "Holes for the faucet in the sink's own faucet deck, 0 where the faucet goes into the countertop. Left out: as its row of the sinks list says",
        0,
        5,
        optional=True,
        default=None,
    )
    template_width_in: float | None = measure("length", "Width of the maker's template for the opening", 8, 60, optional=True)
    template_depth_in: float | None = measure("length", "Front to back of the maker's template for the opening", 8, 30, optional=True)
    bowls: tuple[Bowl, ...] = Field(min_length=1, max_length=3, strict=False)
    outlet_setback_in: float | Blank = measure(
        "length",
        "Outlet center, from the back of the sink forward",
        2,
        24,
        assume="9 in",
        why="a middle outlet; rear outlets sit at about 5 in; common practice, no source",
    )
    outlet_offset_in: float | Blank = measure(
        "length",
        "One bowl: outlet center, right of the sink's center line (left: with a minus sign). "
        "Several bowls: half the distance between the outer outlets; 0: each in the middle of its bowl",
        -24,
        24,
        like="usual_outlet_offset_in",
        why="each outlet in the middle of its bowl",
    )
    weight_lb: float = measure("weight", "Weight empty, unpacked", 5, 400)
    as_received: bool | Blank = flag("Measured on the sink itself; false: sizes are nominal, from its sheet", assume="false", why="not measured yet")

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> Self:
        faults = []
        if self.style != "standard" and (self.apron_width_in is None or self.apron_height_in is None):
            faults.append("an apron-front sink needs the width and the height of its apron.")
        if self.style == "standard" and (self.apron_width_in is not None or self.apron_height_in is not None):
            faults.append("a standard sink has no apron: leave out its width and height.")
        bowls_in = sum(bowl.width_in for bowl in self.bowls)
        outside_in = self.bowl_width_in if self.bowl_width_in is not None else self.usual_bowl_width_in
        deepest_in = max(bowl.front_to_back_in for bowl in self.bowls)
        outside, deepest, depth = (format_exact_length(one) for one in (outside_in, deepest_in, self.depth_in))
        if bowls_in > outside_in:
            faults.append(f"the bowls are {format_length(bowls_in)} wide inside, wider than the {outside} outside.")
        if outside_in > self.body_width_in:
            faults.append(f"the bowl ({outside}) is wider than the body at the rim ({format_exact_length(self.body_width_in)}).")
        if deepest_in > self.depth_in:
            faults.append(f"a bowl is {deepest} front to back, more than the sink's {depth}.")
        elif self.rear_rim_in is not None and self.rear_rim_in + deepest_in > self.depth_in:
            faults.append(f"rear rim ({format_exact_length(self.rear_rim_in)}) and bowl ({deepest}) are together more than the sink's {depth}.")
        if self.front_rim_in is not None and self.front_rim_in + deepest_in > self.depth_in:
            faults.append(f"front rim ({format_exact_length(self.front_rim_in)}) and bowl ({deepest}) are together more than the sink's {depth}.")
        if self.outlet_setback_in is not None and self.outlet_setback_in >= self.depth_in:
            faults.append(f"the outlet is {format_exact_length(self.outlet_setback_in)} from the back, outside the sink's {depth}.")
        if faults:
            raise ValueError(" ".join(faults))
        return self

    @property
    def is_apron(self) -> bool:
        """Whether the sink has an apron front."""
        return self.style != "standard"

    @property
    def usual_bowl_width_in(self) -> float:
        """Outside of the bowls where nobody measured it [in]: the body less its rim on both sides, never less than the bowls inside."""
        inside_in = sum(bowl.width_in for bowl in self.bowls)
        rim_in = self.rim_width_in if isinstance(self.rim_width_in, float) else 0.0
        return max(inside_in, self.body_width_in - 2.0 * rim_in)

    @property
    def usual_rear_rim_in(self) -> float:
        """Behind the bowl where nobody measured it [in].

        What a front rim that was measured leaves. Else all that bowl and front wall leave behind an apron; all but a front rim as wide as those
        at the sides where the faucet stands in the faucet deck; else half of what the bowl leaves.
        """
        left_in = self.depth_in - max(bowl.front_to_back_in for bowl in self.bowls)
        if isinstance(self.front_rim_in, float):
            return max(left_in - self.front_rim_in, 0.0)
        front_in = min(self.bottom_thickness_in or 0.0, left_in / 2.0)
        if self.ledge_holes and not self.is_apron:
            outside_in = self.bowl_width_in if isinstance(self.bowl_width_in, float) else self.usual_bowl_width_in
            front_in = min((self.body_width_in - outside_in) / 2.0, left_in / 2.0)
        return left_in - front_in if self.is_apron or self.ledge_holes else left_in / 2.0

    @property
    def usual_outlet_offset_in(self) -> float:
        """Where nobody measured it [in]: 0 with one bowl; with several, half the distance between the middles of the outer ones."""
        inside_in, outside_in = sum(bowl.width_in for bowl in self.bowls), self.bowl_width_in
        wide_in = outside_in if isinstance(outside_in, float) else self.usual_bowl_width_in
        wall_in = (wide_in - inside_in) / (len(self.bowls) + 1)
        middle_in = sum(bowl.width_in for bowl in self.bowls[1:-1])
        ends_in = (self.bowls[0].width_in + self.bowls[-1].width_in) / 2.0
        return 0.0 if len(self.bowls) == 1 else (ends_in + middle_in + wall_in * (len(self.bowls) - 1)) / 2.0

    @property
    def deepest_in(self) -> float:
        """Inside depth of the deepest bowl [in]."""
        return max(bowl.depth_in for bowl in self.bowls)

    @property
    def underside_in(self: "Sink[Never]") -> float:
        """Rim's top down to the lowest corner of the underside [in]: as read on the delivered sink, else bowl and bottom."""
        return self.deepest_in + self.bottom_thickness_in if self.under_most_in is None else self.under_most_in

    @property
    def water_gal(self) -> float:
        """Water that fills every bowl to the brim [US gal]; 1 gal = 231 cu in."""
        return sum(bowl.width_in * bowl.front_to_back_in * bowl.depth_in for bowl in self.bowls) / 231.0
