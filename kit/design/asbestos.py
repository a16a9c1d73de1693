"""What of the old kitchen the laboratory found asbestos in, and whose certified firm takes it out before we tear out anything."""

from dataclasses import dataclass
from typing import Literal

from kit.design.removal import Removal, Remover
from kit.job import FilledJob
from kit.lists import Lists

__all__ = ["FOUND", "Abatement", "GluedPart", "design_abatement", "glue_answer", "list_found", "list_untested"]

FOUND = "asbestos"
GluedPart = Literal["counter", "splash"]
_GLUED: tuple[GluedPart, ...] = ("counter", "splash")
_NAMES = {"counter": "old countertop", "splash": "old backsplash", "sink": "old sink", "floor": "floor in the sink base"}


@dataclass(frozen=True, slots=True)
class Abatement:
    """Parts of the old kitchen that hold asbestos and are in our way: counter, splash, sink, floor. `hired`: the firm is ours, and priced."""

    parts: tuple[str, ...]
    hired: bool

    def takes(self, part: str) -> bool:
        """Whether the firm takes out a part, so that our people don't."""
        return part in self.parts

    @property
    def names(self) -> str:
        """The parts as people read them."""
        return ", ".join(_NAMES[part] for part in self.parts)


def design_abatement(job: FilledJob, removal: Removal) -> Abatement:
    """No parts where the laboratory found none, nobody tested, or the customer tears out.

    Notes
    -----
    Whoever takes out a counter or a splash of which the laboratory found something works in it: the firm takes such a part whole, a counter with the
    splash on it and a sink tiled into it (from memory; the firm's own plan decides). Of a floor it takes what lies in the sink base, where a wet
    cabinet floor is renewed. A firm of the customer's comes at the same time as one of ours.
    """
    glued = list_found(job, removal, "us")
    with_counter = {"splash": removal.splash_by == "us", "sink": job.old.sink_kind == "tiled-in" and removal.sink_by == "us"}
    parts: list[str] = [*glued, *(part for part, there in with_counter.items() if there and "counter" in glued and part not in glued)]
    if job.site.floor_tested == FOUND and job.cabinet.wet_floor:
        parts.append("floor")
    return Abatement(tuple(parts), job.scope.asbestos.installed_by == "trade")


def list_found(job: FilledJob, removal: Removal, who: Remover) -> tuple[GluedPart, ...]:
    """Old counter and splash that somebody takes out and in whose glue or backer the laboratory found asbestos."""
    return tuple(part for part in _GLUED if _taken_out_by(removal, part) == who and glue_answer(job, part) == FOUND)


def list_untested(job: FilledJob, lists: Lists, removal: Removal, who: Remover) -> tuple[GluedPart, ...]:
    """Old counter and splash that somebody tears out of glue, or off a backer, and of which no laboratory has had a sample."""
    old = job.old
    in_glue = {
        "counter": old.counter_fixing == "glued" or lists.removed_with_backer(old.counter_material),
        "splash": old.splash in {"glued", "tile"},
    }
    return tuple(part for part in _GLUED if _taken_out_by(removal, part) == who and in_glue[part] and glue_answer(job, part) is None)


def glue_answer(job: FilledJob, part: GluedPart) -> str | None:
    """What the laboratory found in the glue or backer of a part; None where it was not tested."""
    return job.old.counter_glue_tested if part == "counter" else job.old.splash_glue_tested


def _taken_out_by(removal: Removal, part: GluedPart) -> Remover:
    return removal.counter_by if part == "counter" else removal.splash_by
