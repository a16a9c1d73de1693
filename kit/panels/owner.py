"""The owner's screen: mounts and counters side by side, what changes between two of them, and what margin and overhead do to all."""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from threading import RLock
from typing import Any

import ipywidgets as widgets

from kit.compare.differences import list_differences, list_facts
from kit.compare.options import Figures, Option, compare_alternates, weigh_option, weigh_terms
from kit.draw.alternates import draw_alternate_bars, draw_alternates, draw_differences, draw_worked_back
from kit.draw.style import STYLE
from kit.estimate import Estimate, revalue
from kit.money import to_decimal
from kit.panels.files import JobFiles, jobs_folder
from kit.panels.layout import Note, lay_bar, lay_pane, lay_words
from kit.panels.page_tools import PageTools
from kit.panels.views import say_failure
from kit.pricing.work_back import find_price_for_margin

__all__ = ["Owner"]

_WIDE: dict[str, Any] = {"layout": {"width": "560px"}, "style": {"description_width": "190px"}}


class Owner:
    """Alternates of one job.

    Parameters
    ----------
    name
        The job file, as the list of files names it; the first example when left out.
    folder
        Where job files lie; `jobs` beside the notebooks when left out.
    """

    def __init__(self, name: str | None = None, folder: Path | None = None) -> None:
        self.files = JobFiles(folder or jobs_folder())
        self._lock = RLock()
        self._held = False
        self.options: tuple[Option, ...] = ()
        self._figures: dict[str, Figures] = {}
        self._valued: dict[str, Estimate] = {}
        self._worked: dict[tuple[str, Decimal, Decimal], Decimal] = {}
        self._open = widgets.Dropdown(options=self.files.names(), description="Job file", tooltip="Job files of your folder, and examples", **_WIDE)
        self._progress = widgets.IntProgress(description="Working", layout={"display": "none"})
        self._table, self._chart, self._changes, self._back = (widgets.HTML() for _ in range(4))
        self._note = Note()
        self._profit = widgets.FloatSlider(min=0, max=50, step=0.5, readout_format=".1f", description="Profit [%]", **_WIDE)
        self._overhead = widgets.FloatSlider(min=0, max=50, step=0.5, readout_format=".1f", description="Overhead [%]", **_WIDE)
        self._usual = widgets.Button(description="As in the job", tooltip="Profit and overhead back to those of the job")
        self._first = widgets.Dropdown(options=[], description="From", **_WIDE)
        self._second = widgets.Dropdown(options=[], description="To", **_WIDE)
        self._wanted = widgets.BoundedFloatText(value=30, min=0, max=90, step=0.5, description="Wanted margin [%]", tooltip="Over direct cost", **_WIDE)
        self._save = widgets.Button(description="Save as a job file", tooltip="Write the alternate under To into your folder")
        self._watch()
        self.screen = self._lay_out()
        self.open(name or self.files.first())

    def _watch(self) -> None:
        go = widgets.Button(description="Compare", tooltip="Work out the alternates of this job")
        go.on_click(self._note.guard(lambda: self.open(str(self._open.value))))
        self._go = go
        self._usual.on_click(self._note.guard(self._as_in_job))
        self._save.on_click(self._note.guard(self.save))
        for slider in (self._profit, self._overhead):
            slider.observe(lambda _: self._terms_moved(), names="value")
        for choice in (self._first, self._second):
            choice.observe(lambda _: self._show_changes(), names="value")
        self._wanted.observe(lambda _: self._show_back(), names="value")

    def _lay_out(self) -> Any:
        screen = widgets.VBox(
            [
                widgets.HTML(STYLE),
                lay_bar(self._open, self._go, PageTools()),
                self._progress,
                self._note.box,
                lay_bar(self._profit, self._overhead, self._usual),
                lay_pane(self._table, "sk-alternates"),
                lay_pane(self._chart, "sk-chart"),
                lay_words("h3", "What changes between two"),
                lay_bar(self._first, self._second, self._save),
                lay_pane(self._changes, "sk-changes"),
                lay_words("h3", "Working back from a margin"),
                self._wanted,
                lay_pane(self._back, "sk-back"),
            ]
        )
        screen.add_class("sk-screen")
        return screen

    def _ipython_display_(self) -> None:
        from IPython.display import display

        display(self.screen)  # type: ignore[no-untyped-call]

    @property
    def table_text(self) -> str:
        """The table of alternates, as HTML."""
        return str(self._table.value)

    @property
    def changes_text(self) -> str:
        """What changes between the two chosen, as HTML."""
        return str(self._changes.value)

    @property
    def back_text(self) -> str:
        """The prices at the wanted margin, as HTML."""
        return str(self._back.value)

    @property
    def note_text(self) -> str:
        """What the screen last said, as HTML."""
        return self._note.text

    @property
    def figures(self) -> dict[str, Figures]:
        """The figures on the screen by the id of their alternate."""
        return dict(self._figures)

    def set_terms(self, *, profit: float | None = None, overhead: float | None = None) -> None:
        """Move the sliders of profit and overhead [%]."""
        if profit is not None:
            self._profit.value = profit
        if overhead is not None:
            self._overhead.value = overhead

    def want_margin(self, margin: float) -> None:
        """Ask for the prices that leave this margin over direct cost [%]."""
        self._wanted.value = margin

    def pick(self, first: str, second: str) -> None:
        """Choose two alternates by their ids."""
        self._first.value, self._second.value = first, second

    def open(self, name: str) -> None:
        """Work out the alternates of a job file.

        Raises
        ------
        KitError
            If it is no job file, or can't be priced; what is on the screen stays.
        """
        with self._lock:
            self._progress.layout.display = ""
            try:
                job = self.files.open(name)
                options = compare_alternates(job, self.files.lists_for(job), progress=self._advance)
                figures = self._weigh(options)
            finally:
                self._progress.layout.display = "none"
            self.options, self._weighed = options, figures
            self._worked.clear()
            self._open.value = name
            self._fill()
            self._show()
            lawful = sum(option.lawful for option in options)
            self._note.say(f"{name}: {len(options)} alternates, {lawful} of them lawful and buildable.")

    def _advance(self, done: int, of: int) -> None:
        """Move the progress bar: pricing is the first half, calendar and trials the second."""
        self._progress.max, self._progress.value = 2 * of, done

    def _weigh(self, options: tuple[Option, ...]) -> dict[str, Figures]:
        found: dict[str, Figures] = {}
        for option in options:
            if option.estimate is not None:
                found[option.id] = weigh_option(option.estimate)
            self._progress.value += 1
        return found

    def _fill(self) -> None:
        self._held = True
        try:
            priced = [option for option in self.options if option.estimate is not None]
            own = next((option for option in self.options if option.chosen), priced[0])
            names = [(option.name, option.id) for option in priced]
            self._first.options, self._second.options = names, names
            self._first.value = own.id
            self._second.value = next((option.id for option in priced if option.id != own.id), own.id)
            self._own = priced[0].estimate
            assert self._own is not None  # noqa: S101 - for the type checker; only priced ones are in the list
            self._profit.description = f"Profit as {self._own.terms.profit_as} [%]"
            self._put_terms()
        finally:
            self._held = False

    def _put_terms(self) -> None:
        assert self._own is not None  # noqa: S101 - as above
        for slider, name in ((self._profit, "in:profit"), (self._overhead, "in:overhead")):
            value = float(self._own.terms.value(name)) * 100
            slider.max = max(50.0, value)
            slider.value = value

    def _as_in_job(self) -> None:
        self._held = True
        self._put_terms()
        self._held = False
        self._show()

    def _terms_moved(self) -> None:
        if not self._held:
            self._try("The alternates", self._table, self._show)

    def _show(self) -> None:
        """Value every alternate at the terms on the sliders; packs, plans, suppliers and hours stay."""
        with self._lock:
            terms = {"in:profit": to_decimal(self._profit.value / 100, 6), "in:overhead": to_decimal(self._overhead.value / 100, 6)}
            valued, figures = {}, {}
            for option in self.options:
                if option.estimate is not None:
                    same = all(option.estimate.terms.value(name) == value for name, value in terms.items())
                    valued[option.id] = option.estimate if same else revalue(option.estimate, {}, {}, terms)
                    figures[option.id] = self._weighed[option.id] if same else weigh_terms(self._weighed[option.id], valued[option.id])
            self._valued, self._figures = valued, figures
            self._chart.value = f"<div class='sk-drawing'>{draw_alternate_bars(self.options, valued)}</div>"
            self._show_changes()
            self._show_back()
            self._table.value = draw_alternates(self.options, figures)

    def _show_changes(self) -> None:
        if self._held or not self._valued:
            return
        self._try("What changes", self._changes, self._write_changes)

    def _write_changes(self) -> None:
        names = {option.id: option.name for option in self.options}
        first, second = str(self._first.value), str(self._second.value)
        old, new = self._valued[first], self._valued[second]
        self._changes.value = draw_differences(names[first], names[second], list_differences(old, new), list_facts(old, new))

    def _show_back(self) -> None:
        if not self._held and self._valued:
            self._try("Working back", self._back, self._write_back)

    def _write_back(self) -> None:
        margin = Decimal(str(self._wanted.value)) / 100
        rows = [(option.name, self._valued[option.id].price, self._price_at(option.id, margin)) for option in self.options if option.lawful]
        self._back.value = draw_worked_back(float(margin), rows)

    def _price_at(self, name: str, margin: Decimal) -> Decimal:
        """The price that leaves a margin; kept, for it does not follow the profit on the slider."""
        made = self._valued[name]
        key = name, margin, made.terms.value("in:overhead")
        if key not in self._worked:
            self._worked[key] = find_price_for_margin(made, margin).price
        return self._worked[key]

    def save(self) -> None:
        """Write the alternate under "To" as a job file of the folder."""
        option = next(option for option in self.options if option.id == self._second.value)
        name = self.files.free_name(f"{Path(str(self._open.value)).name.removesuffix('.toml')}_{option.id}")
        path = self.files.save(option.job, name)
        self._open.options = self.files.names()
        self._note.say(f"Saved {path.name} in {path.parent.name}.")

    def _try(self, what: str, place: Any, action: Callable[[], None]) -> None:
        try:
            action()
        except Exception as error:  # noqa: BLE001 - a screen must say what failed and go on; nothing else would show it
            place.value = say_failure(what, error)
