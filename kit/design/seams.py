"""Where a run of counter is seamed: as few pieces as its longest piece allows, no seam near the sink's opening or over the dishwasher."""

from collections.abc import Sequence

from kit.sources import value
from kit.spans import lies_inside
from kit.units import count_parts

__all__ = ["place_seams"]

_COUNTS_TRIED = 3


def place_seams(length_in: float, longest_in: float, keep_clear: Sequence[tuple[float, float]] = (), least_seams: int = 0) -> tuple[float, ...]:
    """Places of the seams along a run, from its left end [in].

    Parameters
    ----------
    length_in
        Length of the run [in].
    longest_in
        Longest piece [in].
    keep_clear
        Stretches (from, to) in which no seam should lie [in].
    least_seams
        How many seams there are at the least, such as where one piece can't be carried in.

    Returns
    -------
    Rising places; nothing when one piece reaches and no seam is wanted. The fewest pieces that keep clear, up to two more than needed; when no
    such plan is found, equal pieces whose seams lie where they fall (a check says so).
    """
    least = max(count_parts(length_in, longest_in), least_seams + 1)
    for count in range(least, least + _COUNTS_TRIED):
        places = _seams_of(length_in, longest_in, count, keep_clear)
        if places is not None:
            return places
    return tuple(length_in * number / least for number in range(1, least))


def _seams_of(length_in: float, longest_in: float, count: int, keep_clear: Sequence[tuple[float, float]]) -> tuple[float, ...] | None:
    """Seams of `count` pieces, each as near to its equal share as the stretches and the seams after it let it; None when one finds no place."""
    shortest_in = min(value("practice", "counter/shortest-piece"), length_in / count)

    def seams_from(number: int, last_in: float) -> tuple[float, ...] | None:
        if number == count:
            return ()
        wanted_in, behind = length_in * number / count, count - number
        low_in = max(last_in + shortest_in, length_in - behind * longest_in)
        high_in = min(last_in + longest_in, length_in - behind * shortest_in)
        choices = [min(max(place, low_in), high_in) for place in (wanted_in, *(edge for stretch in keep_clear for edge in stretch))]
        for place in sorted(choices, key=lambda place: abs(place - wanted_in)):
            if not any(lies_inside(place, stretch) for stretch in keep_clear):
                after = seams_from(number + 1, place)
                if after is not None:
                    return (place, *after)
        return None

    return seams_from(1, 0.0)
