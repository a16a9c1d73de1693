"""What of the old kitchen the laboratory found asbestos in, and whose certified firm takes it out before we tear out anything."""

from dataclasses import dataclass

from kit.design.removal import Removal, Remover
from kit.job import FilledJob
from kit.lists import Lists

__all__ = ["FOUND", "Abatement", "design_abatement", "parts_in_glue"]

FOUND = "asbestos"
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


def design_abatement(job: FilledJob, lists: Lists, removal: Removal) -> Abatement:
    """No parts where the laboratory found none, nobody tested, or the customer tears out.

    Notes
    -----
    Whoever parts a glued counter from its base, or breaks a tiled one from its backer, works in what was found: the firm takes such a part whole, with the
    splash on it and a sink tiled into it (from memory; the firm's own plan decides). Of a floor it takes what lies in the sink base, where a wet
    cabinet floor is renewed. A firm of the customer's comes at the same time as one of ours.
    """
    glued = parts_in_glue(job, lists, removal, "us") if job.old.glue_tested == FOUND else ()
    with_counter = {"splash": removal.splash_by == "us", "sink": job.old.sink_kind == "tiled-in" and removal.sink_by == "us"}
    parts = [*glued, *(part for part, there in with_counter.items() if there and "counter" in glued and part not in glued)]
    if job.site.floor_tested == FOUND and job.cabinet.wet_floor:
        parts.append("floor")
    return Abatement(tuple(parts), job.scope.asbestos.installed_by == "trade")


def parts_in_glue(job: FilledJob, lists: Lists, removal: Removal, who: Remover) -> tuple[str, ...]:
    """Old counter and splash that somebody tears out of glue, or off a backer."""
    old = job.old
    found = {
        "counter": removal.counter_by == who and (old.counter_fixing == "glued" or lists.removed_with_backer(old.counter_material)),
        "splash": removal.splash_by == who and old.splash in {"glued", "tile"},
    }
    return tuple(part for part, there in found.items() if there)
