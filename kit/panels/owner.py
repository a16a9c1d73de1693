"""The owner's screen: mounts and counters side by side, what changes between two of them, and what margin and overhead do to all."""

from decimal import Decimal
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.compare.differences import list_differences, list_facts
from kit.compare.figures import Figures, weigh_option, weigh_terms
from kit.compare.longer import WhyDays, explain_alternates, explain_days
from kit.compare.options import Option, compare_alternates
from kit.draw.alternates import draw_alternate_bars, draw_alternates, draw_differences, draw_worked_back
from kit.estimate import Estimate, revalue
from kit.money import to_decimal
from kit.panels.job_files import JobFiles, jobs_folder
from kit.panels.screen import PageTools, Screen, lay_actions, lay_bar, lay_box, lay_words, make_button, show_html
from kit.pricing.work_back import find_price_for_margin

__all__ = ["Owner"]

_WIDE: dict[str, Any] = {"layout": {"width": "560px"}, "style": {"description_width": "190px"}}


class Owner(Screen):
    """Alternates of one job.

    Parameters
    ----------
    name
        The job file, as the list of files names it; the first example when left out.
    folder
        Where job files lie; `jobs` beside the notebooks when left out.
    """

    def __init__(self, name: str | None = None, folder: Path | None = None) -> None:
        super().__init__()
        self.files = JobFiles(folder or jobs_folder())
        self.options: tuple[Option, ...] = ()
        self.figures: dict[str, Figures] = {}  # on the screen, by the id of their alternate
        self._estimates: dict[str, Estimate] = {}
        self._why: dict[str, WhyDays] = {}
        self._worked_back: dict[tuple[str, Decimal, Decimal], Decimal] = {}
        self.table, self.chart, self.changes, self.back = (widgets.HTML() for _ in range(4))
        self._open = widgets.Dropdown(options=self.files.names(), description="Job file", tooltip="Job files of your folder, and examples", **_WIDE)
        self.profit = widgets.FloatSlider(min=0, max=50, step=0.5, readout_format=".1f", description="Profit [%]", **_WIDE)
        self.overhead = widgets.FloatSlider(min=0, max=50, step=0.5, readout_format=".1f", description="Overhead [%]", **_WIDE)
        self.first = widgets.Dropdown(options=[], description="From", **_WIDE)
        self.second = widgets.Dropdown(options=[], description="To", **_WIDE)
        self.margin = widgets.BoundedFloatText(value=30, min=0, max=90, step=0.5, description="Wanted margin [%]", tooltip="Over direct cost", **_WIDE)
        for slider in (self.profit, self.overhead):
            slider.observe(lambda _: None if self.updating else show_html(self.table, "The alternates", self._show), names="value")
        for choice in (self.first, self.second):
            choice.observe(lambda _: self._show_changes(), names="value")
        self.margin.observe(lambda _: self._show_back(), names="value")
        self._lay_out()
        self.open(name or self.files.first())

    def _lay_out(self) -> None:
        guard = self.note.guard
        compare = make_button("Compare", "Work out the alternates of this job", guard(lambda: self.open(str(self._open.value))), "primary")
        usual = make_button("As in the job", "Profit and overhead back to those of the job", guard(self._as_in_job), "quiet")
        save = make_button("Save as a job file", "Write the alternate under To into your folder", guard(self.save))
        self.lay_out(
            lay_bar(self._open, lay_actions(compare, PageTools())),
            self.working.box,
            self.note.box,
            lay_bar(self.profit, self.overhead, usual),
            lay_box("sk-scroll sk-alternates", self.table),
            lay_box("sk-scroll sk-chart", self.chart),
            lay_words("h3", "What changes between two"),
            lay_bar(self.first, self.second),
            lay_actions(save),
            lay_box("sk-scroll sk-changes", self.changes),
            lay_words("h3", "Working back from a margin"),
            self.margin,
            lay_box("sk-scroll sk-back", self.back),
        )

    def open(self, name: str) -> None:
        """Work out the alternates of a job file.

        Raises
        ------
        KitError
            If it is no job file, or can't be priced; what is on the screen stays.
        """
        with self.working.lock:
            with self.working.steps(1):
                job = self.files.open(name)
                options = compare_alternates(job, self.files.lists_for(job), progress=self._advance)
                weighed: dict[str, Figures] = {}
                for option in options:
                    if option.estimate is not None:
                        weighed[option.id] = weigh_option(option.estimate)
                    self.working.advance()
            self.options, self._weighed, self._why = options, weighed, explain_alternates(options, weighed)
            self._worked_back.clear()
            self._open.value = name
            self._fill()
            self.table.value = self._show()
            usable = sum(option.usable for option in options)
            self.note.say(f"{name}: {len(options)} alternates, {usable} of them usable.")

    def _advance(self, done: int, of: int) -> None:
        """Move the progress bar: pricing is the first half, calendar and trials the second."""
        self.working.box.max, self.working.box.value = 2 * of, done

    def _fill(self) -> None:
        priced = [option for option in self.options if option.estimate is not None]
        own = next((option for option in self.options if option.chosen), priced[0])
        names = [(option.name, option.id) for option in priced]
        assert priced[0].estimate is not None  # noqa: S101 - for the type checker; only priced ones are in the list
        self._terms = priced[0].estimate.terms
        with self.updating:
            self.first.options, self.second.options = names, names
            self.first.value = own.id
            self.second.value = next((option.id for option in priced if option.id != own.id), own.id)
            self.profit.description = f"Profit as {self._terms.profit_as} [%]"
        self._put_terms()

    def _put_terms(self) -> None:
        with self.updating:
            for slider, name in ((self.profit, "in:profit"), (self.overhead, "in:overhead")):
                value = float(self._terms.value(name)) * 100
                slider.max = max(50.0, value)
                slider.value = value

    def _as_in_job(self) -> None:
        self._put_terms()
        self.table.value = self._show()

    def _show(self) -> str:
        """Price every alternate at the terms on the sliders, show what follows, and give the table; packs, plans, suppliers and hours stay."""
        with self.working.lock:
            terms = {"in:profit": to_decimal(self.profit.value / 100, 6), "in:overhead": to_decimal(self.overhead.value / 100, 6)}
            estimates, figures = {}, {}
            for option in self.options:
                if option.estimate is not None:
                    same = all(option.estimate.terms.value(name) == value for name, value in terms.items())
                    estimates[option.id] = option.estimate if same else revalue(option.estimate, {}, {}, terms)
                    figures[option.id] = self._weighed[option.id] if same else weigh_terms(self._weighed[option.id], estimates[option.id])
            self._estimates, self.figures = estimates, figures
            self.chart.value = f"<div class='sk-drawing'>{draw_alternate_bars(self.options, estimates)}</div>"
            self._show_changes()
            self._show_back()
            return draw_alternates(self.options, figures, self._why)

    def _show_changes(self) -> None:
        def draw() -> str:
            names = {option.id: option.name for option in self.options}
            first, second = str(self.first.value), str(self.second.value)
            old, new = self._estimates[first], self._estimates[second]
            why = explain_days(old, new, self._weighed[first], self._weighed[second])
            return draw_differences(names[first], names[second], list_differences(old, new), list_facts(old, new), why)

        if not self.updating and self._estimates:
            show_html(self.changes, "What changes", draw)

    def _show_back(self) -> None:
        def draw() -> str:
            margin = Decimal(str(self.margin.value)) / 100
            rows = [(option.name, self._estimates[option.id].price, self._price_at(option.id, margin)) for option in self.options if option.usable]
            return draw_worked_back(float(margin), rows)

        if not self.updating and self._estimates:
            show_html(self.back, "Working back", draw)

    def _price_at(self, name: str, margin: Decimal) -> Decimal:
        """The price that leaves a margin; kept, for it does not follow the profit on the slider."""
        priced = self._estimates[name]
        key = name, margin, priced.terms.value("in:overhead")
        if key not in self._worked_back:
            self._worked_back[key] = find_price_for_margin(priced, margin).price
        return self._worked_back[key]

    def save(self) -> None:
        """Write the alternate under "To" as a job file of the folder."""
        option = next(option for option in self.options if option.id == self.second.value)
        name = self.files.free_name(f"{Path(str(self._open.value)).name.removesuffix('.toml')}_{option.id}")
        path = self.files.save(option.job, name)
        self._open.options = self.files.names()
        self.note.say(f"Saved {path.name} in {path.parent.name}.")
