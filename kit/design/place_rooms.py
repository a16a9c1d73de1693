"""What must stay free: swings of doors and handle, room for a wrench, room for a hand. No solid may enter it; rooms may cross."""

from collections.abc import Iterator, Sequence

from kit.design.doors import door_count
from kit.shapes import Block, Rod
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import Span, length_of

__all__ = ["place_rooms"]


def place_rooms(placed: Sequence[Body], inlet: tuple[float, float]) -> Iterator[Body]:
    """The rooms of the bodies that stand, each with the measures of what it serves; it names first whom it serves. `inlet` is that of the trap, in plan."""
    named = {body.name: body for body in placed if body.is_at(Stage.BUILT)}
    for body in named.values():
        if body.part == "supply":
            yield _at_valve(body)
        elif body.name.startswith("faucet nut"):
            yield _below_nut(body)
        elif body.name.startswith("faucet"):
            yield _handle(body)
        elif body.name == "disposer":
            yield _below_disposer(body)
    if "trap" in named:
        yield _slip_nut(named["trap"], inlet, tuple(body.name for body in named.values() if body.part in {"tailpiece", "strainer", "disposer", "arm"}))
    if "doors" in named:
        yield _doors(named["doors"])


def _room(name: str, part: str, serves: tuple[Body, ...], shape: Block | Rod, by_right: tuple[str, ...] = ()) -> Body:
    fields = tuple(dict.fromkeys(field for body in serves for field in body.fields))
    return Body(name, part, (shape,), Stage.BUILT, room=True, stands_on=(*(body.name for body in serves), *by_right), fields=fields)


def _at_valve(valve: Body) -> Body:
    """All around its body, from where a back panel ends to before its handle."""
    (x, y, z), around_in = valve.middle, value("practice", "wrench/around")
    front_in = valve.span("y")[1] + value("practice", "hand/before-valve")
    rod = Rod((x, y, z), (x, front_in, z), value("practice", "valve/body") / 2.0 + around_in)
    return _room(f"a wrench at the {valve.name}", "wrench", (valve,), rod)


def _below_nut(nut: Body) -> Body:
    """Straight below it, as wide as the nut: a key with a long shank."""
    (x, y, _), (low_in, _) = nut.middle, nut.span("z")
    rod = Rod((x, y, low_in - value("practice", "wrench/below-nut")), (x, y, low_in), nut.size_in("x") / 2.0)
    return _room(f"a wrench at the {nut.name}", "wrench", (nut,), rod)


def _handle(faucet: Body) -> Body:
    """To both sides, and forward from the faucet's body: how near it may come to the splash behind it is a check of the hole."""
    (x, y, _), (low_in, high_in), reach_in = faucet.middle, faucet.span("z"), value("practice", "faucet/handle-reach")
    block = Block((x - reach_in, x + reach_in), (faucet.span("y")[0], y + reach_in), (low_in + value("practice", "faucet/handle-above"), high_in))
    return _room(f"the handle of the {faucet.name}", "swing", (faucet,), block)


def _below_disposer(disposer: Body) -> Body:
    (x, y, _), (low_in, _) = disposer.middle, disposer.span("z")
    rod = Rod((x, y, low_in - value("practice", "hand/below-disposer")), (x, y, low_in), value("practice", "hand/across") / 2.0)
    return _room("a hand below the disposer", "hand", (disposer,), rod)


def _slip_nut(trap: Body, inlet: tuple[float, float], by_right: tuple[str, ...]) -> Body:
    """Around the nut on the trap's inlet."""
    (x, y), first, top_in = inlet, trap.shapes[0], trap.span("z")[1]
    thick_in = min(first.x[1] - first.x[0], first.y[1] - first.y[0])
    rod = Rod((x, y, top_in), (x, y, top_in + value("practice", "wrench/slip-nut-high")), thick_in / 2.0 + value("practice", "wrench/slip-nut"))
    return _room("a wrench at the trap's slip nut", "wrench", (trap,), rod, by_right)


def _doors(doors: Body) -> Body:
    """As deep as a door is wide: one on each side, hung at its outer edge."""
    front_in, across = doors.span("y")[1], doors.span("x")
    wide_in = length_of(across) / door_count(length_of(across))
    deep: Span = (front_in, front_in + wide_in)
    return _room("the swing of the doors", "swing", (doors,), Block(across, deep, doors.span("z")))
