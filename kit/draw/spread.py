"""How sure are cost and finish? The trials as bars, with the figure that half of them and four out of five don't exceed."""

import datetime as dt
from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal

from kit.draw.canvas import Canvas
from kit.draw.lettering import measure_text
from kit.draw.widths import PHONE, write_note
from kit.labor.clock import last_day
from kit.money import format_money
from kit.outlook import JobRisk
from kit.units import CHANCE_WORDS, format_day

__all__ = ["draw_cost_spread", "draw_finish_spread"]

LEFT, WIDE, TALL = 20.0, 560.0, 150.0
BARS = 32
MOST_DAYS = 60
HALF, MOSTLY = 0.5, 0.8
_EDGES = (0.005, 0.995)
_LIFT = 16.0

Mark = tuple[float, str]
"""Where across the bars (0 to 1), and what it says."""


def draw_cost_spread(risk: JobRisk, *, narrow: bool = False) -> str:
    """The direct cost of the trials as SVG: half and four out of five marked, and from where on the job loses money."""
    first, last = (risk.cost_at(chance) for chance in _EDGES)
    last = max(last, risk.income) if float(risk.income) < 2.0 * float(last) - float(first) else last
    low, high = float(first), float(last)
    costs = [float(risk.cost.base) + deviation for deviation in risk.cost.deviations]
    counts = [0] * BARS
    for cost in costs:
        if low <= cost < high:
            counts[int((cost - low) / (high - low) * BARS)] += 1

    def at(amount: Decimal) -> float:
        return (float(amount) - low) / max(high - low, 1e-9)

    marks = [(at(risk.cost_at(chance)), _say(words, "no more than", format_money(risk.cost_at(chance)), chance, narrow=narrow)) for chance, words in _CHANCES]
    if risk.income <= last:
        marks.append((at(risk.income), f"price before tax {format_money(risk.income)}"))
    return _draw("Spread of the direct cost", counts, marks, at(risk.cost_at(MOSTLY)), (format_money(first), format_money(last)), narrow=narrow)


_CHANCES = ((HALF, "half"), (MOSTLY, CHANCE_WORDS[MOSTLY]))


def _say(words: str, what: str, figure: str, chance: float, *, narrow: bool) -> str:
    percentile = f"P{chance * 100:.0f}"
    return f"{percentile}, {words}: {figure}" if narrow else f"{words}: {what} {figure} ({percentile})"


def draw_finish_spread(risk: JobRisk, *, narrow: bool = False) -> str:
    """The last days of the trials as SVG, a bar for each day or, where there are many, for each run of days; half and four out of five marked."""
    first, last = (_day(risk, chance) for chance in _EDGES)
    each = -(-((last - first).days + 1) // MOST_DAYS)
    trials = Counter((last_day(risk.finish.midnight + dt.timedelta(hours=hours)) - first).days // each for hours in risk.finish.hours)
    counts = [trials[number] for number in range(-(-((last - first).days + 1) // each))]

    def at(day: dt.date) -> float:
        return ((day - first).days // each + 0.5) / len(counts)

    days = [(_day(risk, chance), chance, words) for chance, words in _CHANCES]
    marks = [(at(day), _say(words, "done by", format_day(day, beside=first), chance, narrow=narrow)) for day, chance, words in days]
    ends = (format_day(first), format_day(first + dt.timedelta(days=each * len(counts) - 1), beside=first))
    return _draw("Spread of the day it is done", counts, marks, at(_day(risk, MOSTLY)) + 0.5 / len(counts), ends, narrow=narrow)


def _day(risk: JobRisk, chance: float) -> dt.date:
    return last_day(risk.finish_at(chance))


def _draw(title: str, counts: Sequence[int], marks: Sequence[Mark], up_to: float, ends: tuple[str, str], *, narrow: bool) -> str:
    """Bars as high as their count, hatched as far as `up_to`, with flags above them and what they begin and end with below."""
    sheet = Canvas(title, scale=1.0, scaled=False)
    across = PHONE if narrow else WIDE
    most, wide = max(max(counts, default=0), 1), across / max(len(counts), 1)
    for number, count in enumerate(counts):
        left = LEFT + number * wide
        hatch = "slash" if (number + 0.5) / len(counts) <= up_to else ""
        if count:
            sheet.box("trials", left + wide * 0.08, 0.0, left + wide * 0.92, TALL * count / most, hatch=hatch)
    sheet.line("", (LEFT, 0.0), (LEFT + across, 0.0), kind="cut")
    sheet.write(ends[0], LEFT, -_LIFT - 4.0)
    sheet.write(ends[1], LEFT + across, -_LIFT - 4.0, anchor="end")
    for place, words, lift in _stack(marks):
        x = LEFT + min(max(place, 0.0), 1.0) * across
        long = measure_text(words)
        sheet.line("mark", (x, -6.0), (x, TALL + lift), kind="cut")
        if x + 6.0 + long <= LEFT + across:
            sheet.write(words, x + 6.0, TALL + lift - 4.0, bold=True)
        else:  # to the left of the mark, or as far as the chart goes
            sheet.write(words, max(x - 6.0, LEFT + long), TALL + lift - 4.0, anchor="end", bold=True)
    write_note(sheet, "Hatched: 4 in 5 trials end there or before.", narrow=narrow)
    return sheet.svg()


def _stack(marks: Sequence[Mark]) -> Iterator[tuple[float, str, float]]:
    """Each mark with the height of its flag above the bars, so that no words meet."""
    for number, (place, words) in enumerate(sorted(marks, key=lambda mark: -mark[0])):
        yield place, words, _LIFT * (number + 1)
