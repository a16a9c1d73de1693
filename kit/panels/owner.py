"""The owner's screen: alternates in one table, what other terms do to them, what changes between two, one of them day by day, and the jobs on hand."""

from collections.abc import Callable
from pathlib import Path
from threading import Lock, Thread, Timer, current_thread
from typing import Any

import ipywidgets as widgets

from kit.compare.differences import list_differences, list_facts
from kit.compare.figures import Figures, PlannedFigures, try_option, weigh_plan, weigh_terms
from kit.compare.longer import WhyDays, explain_alternates, list_stretches
from kit.compare.options import Option, compare_alternates
from kit.draw.alternates import draw_alternate_bars, draw_decision, draw_decisions, draw_differences, draw_owner_headline, draw_was_now, draw_why_days
from kit.draw.jobs_on_hand import draw_jobs_on_hand
from kit.draw.one_alternate import draw_one_alternate
from kit.errors import KitError
from kit.estimating import Estimate, revalue
from kit.labor.job_schedule import signing_day
from kit.learning.job_rows import list_jobs
from kit.money import to_decimal
from kit.panels.controls import profit_label
from kit.panels.faults import explain_failure
from kit.panels.job_files import JobFiles, jobs_folder
from kit.panels.job_state import SETTLE_S
from kit.panels.on_disk import list_changes_on_disk
from kit.panels.screen import PageTools, Screen, fill_choices, lay_actions, lay_bar, lay_box, lay_words, make_button, show_html
from kit.panels.slider import Slider
from kit.panels.tabs import Tabs
from kit.panels.work_back_panel import WorkBack
from kit.pricing.job_terms import SHARE_PLACES
from kit.units import format_day

__all__ = ["Owner"]

MOVE_S = 0.03
_WIDE: dict[str, Any] = {"layout": {"width": "780px"}, "style": {"description_width": "150px"}}
STEP = 0.5  # of a slider [%]
WHAT_IF = "A copy: the job keeps its profit and overhead. The table above and the other parts follow the sliders."


class Owner(Screen):
    """Alternates of one job.

    Prices, margins, hours and days are there at once; the trials of cost and finish follow in the background, alternate by alternate.

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
        self.figures: dict[str, PlannedFigures] = {}  # on the screen, by the id of their alternate
        self._weighed: dict[str, PlannedFigures] = {}
        self._estimates: dict[str, Estimate] = {}
        self._why: dict[str, WhyDays] = {}
        self._trying, self._resting, self._turn = Thread(), Timer(SETTLE_S, self._show_rest), Lock()
        self.headline, self.table, self.what_if, self.chart, self.changes, self.days, self.jobs = (widgets.HTML() for _ in range(7))
        self.tried = widgets.IntProgress(description="Working out the risk", style={"description_width": "150px"}, layout={"display": "none", "width": "400px"})
        self._open = widgets.Dropdown(options=self.files.named(), description="Job", tooltip="Job files of your folder, and examples", **_WIDE)
        self._open.add_class("sk-fills")
        self.profit = Slider("Profit [%]", "Profit of every alternate", (0, 50), STEP, lambda to: self._slide(self.profit, to))
        self.overhead = Slider("Overhead [%]", "Overhead of every alternate", (0, 50), STEP, lambda to: self._slide(self.overhead, to))
        self.first = widgets.Dropdown(options=[], description="From", **_WIDE)
        self.second = widgets.Dropdown(options=[], description="To", **_WIDE)
        self.looked_at = widgets.Dropdown(options=[], description="Alternate", **_WIDE)
        self.back = WorkBack()
        for choice in (self.first, self.second):
            choice.observe(lambda _: self._show_changes(), names="value")
        self.looked_at.observe(lambda _: self._show_days(), names="value")
        self._lay_out()
        self._compared: dict[str, Estimate] = {}  # as they were when their job file was compared last
        self.note.guard(lambda: self.open(name or self.files.first()))(None)

    def _lay_out(self) -> None:
        guard = self.note.guard
        compare = make_button("Compare", "Work out the alternates of this job", guard(lambda: self.open(str(self._open.value))), "primary")
        usual = make_button("As in the job", "Profit and overhead as in the job", guard(self._as_in_job), "quiet")
        save = make_button("Save as a job file", "Write the alternate under To into your folder", guard(self.save))
        what_if = (lay_words("p", WHAT_IF), lay_bar(self.profit, self.overhead, usual), lay_box("sk-scroll sk-what-if", self.what_if))
        two = (lay_bar(self.first, self.second, lay_actions(save)), lay_box("sk-scroll sk-changes", self.changes), lay_box("sk-scroll sk-chart", self.chart))
        parts = {
            "What if": lay_box("sk-part", *what_if),
            "Two compared": lay_box("sk-part", *two),
            "Day by day": lay_box("sk-part", self.looked_at, lay_box("sk-scroll sk-days", self.days)),
            "Working back": self.back.box,
            "Jobs on hand": lay_box("sk-scroll sk-jobs", self.jobs),
        }
        self.lay_out(
            lay_box("sk-top", self.headline),
            lay_bar(self._open, lay_actions(compare, PageTools(seen=self._see_layout))),
            self.note.box,
            lay_box("sk-scroll sk-alternates", self.table),
            Tabs(parts).box,
        )
        self.foot.children += (self.tried,)

    def open(self, name: str) -> None:
        """Work out the alternates of a job file. Raises KitError if it is no job file, or can't be priced; what is on the screen stays."""
        with self.working.lock:
            with self.working.steps(1):
                job = self.files.open(name)
                options = compare_alternates(job, self.files.lists_for(job), progress=self._advance)
                weighed: dict[str, PlannedFigures] = {option.id: weigh_plan(option.estimate) for option in options if option.estimate is not None}
            self.options, self._weighed, self._why = options, weighed, explain_alternates(options, weighed)
            self._open.value = name
            self._fill()
            self._show()
            show_html(self.jobs, "Jobs on hand", lambda: draw_jobs_on_hand(list_jobs(self.files.folder, checked=False)))
            own = next((option.estimate for option in options if option.chosen), None)
            title = next((words for words, file in self._open.options if file == name), name)
            counted = "" if own is None else f" Days count from a signature on {format_day(signing_day(own.job, own.lists.company))}."
            self.note.say(f"{title}: {len(options)} alternates compared.{counted}", *list_changes_on_disk(self._compared.get(name), own))
            self._compared_name = name
            if own is not None:
                self._compared[name] = own
            self._trying = Thread(target=self._try_all, args=(options,), daemon=True)
        self._trying.start()

    def wait(self) -> None:
        """Wait until the trials of every alternate are done and everything follows the sliders."""
        self._trying.join()
        self.settle()

    def settle(self) -> None:
        """Wait until everything follows the sliders."""
        while (resting := self._resting).is_alive():
            resting.join()

    def _advance(self, done: int, of: int) -> None:
        self.working.box.max, self.working.box.value = of, done

    def _try_all(self, options: tuple[Option, ...]) -> None:
        """The trials of each alternate, the job itself first; given up when another job is opened."""
        mine = sorted((option for option in options if option.estimate is not None), key=lambda option: not option.chosen)
        self.tried.value, self.tried.max, self.tried.layout.display = 0, len(mine), ""
        try:
            for number, option in enumerate(mine, 1):
                assert option.estimate is not None  # noqa: S101 - for the type checker; only priced ones are in the list
                planned = try_option(self._weighed[option.id], option.estimate)
                with self.working.lock:
                    if self.options is not options:
                        return
                    self._weighed[option.id] = planned
                    self.tried.value = number
                    if number in {1, len(mine)}:
                        self._show()
        except Exception as error:  # noqa: BLE001 - in a thread of its own nobody else would say it
            self.note.say(f"The risk could not be worked out: {explain_failure(error)}", alert=True)
        finally:
            if self.options is options:
                self.tried.layout.display = "none"

    def _fill(self) -> None:
        priced = [option for option in self.options if option.estimate is not None]
        own = next((option for option in self.options if option.chosen), priced[0])
        names = [(option.title, option.id) for option in priced]
        assert priced[0].estimate is not None  # noqa: S101 - for the type checker; only priced ones are in the list
        self._terms = priced[0].estimate.terms
        with self.updating:
            for choice in (self.first, self.second, self.looked_at):
                choice.options = names
                choice.value = own.id
            self.second.value = next((option.id for option in priced if option.id != own.id), own.id)
            self.profit.label = profit_label(self._terms.profit_as)
        self._put_terms()

    def _put_terms(self) -> None:
        for slider, name in ((self.profit, "in:profit"), (self.overhead, "in:overhead")):
            _put(slider, float(self._terms.value(name) * 100))

    def _as_in_job(self) -> None:
        self._put_terms()
        self._show()

    def _slide(self, slider: Slider, to: float) -> None:
        """A slider moves: however fast, only where it comes to is worked out."""
        _put(slider, round(to / STEP) * STEP)
        self._later(MOVE_S, self._follow)

    def _follow(self) -> None:
        """The table follows, and what the sliders do; the rest when they have come to rest. Where they have moved on meanwhile that move is still to come."""
        self._show_first()
        self._later(SETTLE_S, self._show_rest, after=current_thread())

    def _later(self, seconds: float, action: Callable[[], None], *, after: Thread | None = None) -> None:
        """In place of what still waits; `after` gives up where something newer waits than itself."""
        with self._turn:
            if after is not None and after is not self._resting:
                return
            self._resting.cancel()
            self._resting = Timer(seconds, action)
            self._resting.daemon = True
            self._resting.start()

    def _show(self) -> None:
        self._resting.cancel()
        self._show_first()
        self._show_rest()

    def _show_first(self) -> None:
        """Price every alternate at the terms on the sliders; packs, plans, suppliers and hours stay."""
        with self.working.lock:
            terms = {"in:profit": to_decimal(self.profit.at / 100, SHARE_PLACES), "in:overhead": to_decimal(self.overhead.at / 100, SHARE_PLACES)}
            self._estimates, self.figures = {}, {}
            for option in self.options:
                if option.estimate is not None:
                    same = all(option.estimate.terms.value(name) == value for name, value in terms.items())
                    priced = option.estimate if same else revalue(option.estimate, {}, {}, terms)
                    self._estimates[option.id] = priced
                    self.figures[option.id] = self._weighed[option.id] if same else weigh_terms(self._weighed[option.id], priced)
            show_html(self.headline, "The headline", lambda: draw_owner_headline(self.options, self.figures))
            show_html(self.table, "The alternates", lambda: draw_decisions(self.options, self.figures))
            show_html(self.what_if, "What if", self._draw_what_if)

    def _show_rest(self) -> None:
        with self.working.lock:
            show_html(self.chart, "What the price is made of", lambda: draw_alternate_bars(self.options, self._estimates, self.layouts.on_show))
            self._show_changes()
            self._show_days()
            self.back.show([(option.title, self._estimates[option.id], self.figures[option.id].crew_days) for option in self.options if option.usable])

    def _see_layout(self, narrow: bool) -> None:  # noqa: FBT001 - a callback
        """A page says which layout it shows: that is drawn from now on, and the other one when a page wants it first."""
        if self.layouts.see(narrow=narrow) and self._estimates:
            self._show_rest()

    def _draw_what_if(self) -> str:
        own = next((option for option in self.options if option.chosen), self.options[0])
        return draw_was_now(f"What the sliders do to {own.name}", self._weighed[own.id], self.figures[own.id])

    def _show_changes(self) -> None:
        def draw() -> str:
            names = {option.id: option.title for option in self.options}
            ids = str(self.first.value), str(self.second.value)
            old, new = (self._estimates[name] for name in ids)
            days = list_stretches(old, new, *(self._weighed[name] for name in ids))
            prices, facts = (old.price, new.price), list_facts(old, new)
            return draw_differences((names[ids[0]], names[ids[1]]), prices, list_differences(old, new), facts, days, self.layouts.on_show)

        self._show_when_there(self.changes, "What changes", draw)

    def _show_days(self) -> None:
        def draw() -> str:
            name = str(self.looked_at.value)
            figures = self.figures[name]
            risk = figures.risk if isinstance(figures, Figures) else None
            why = draw_why_days(self.options, self._why)
            return draw_decision(figures) + draw_one_alternate(self._estimates[name], figures.schedule, risk, self.layouts.on_show) + why

        self._show_when_there(self.days, "The days", draw)

    def _show_when_there(self, place: Any, what: str, draw: Callable[[], str]) -> None:
        if not self.updating and self._estimates:
            show_html(place, what, draw)

    def save(self) -> None:
        """Write the alternate under "To" as a job file of the folder."""
        option = next((option for option in self.options if option.id == self.second.value), None)
        if option is None:
            raise KitError("There is nothing to save: press Compare first.")
        terms = {"in:profit": ("terms.profit", self.profit.at), "in:overhead": ("terms.overhead", self.overhead.at)}
        moved = {place: f"{percent:g} %" for row, (place, percent) in terms.items() if to_decimal(percent / 100, SHARE_PLACES) != self._terms.value(row)}
        path = self.files.save_alternate(option.job, self._compared_name, option.id, moved)
        with self.updating:
            fill_choices(self._open, self.files.named())
        self.note.say(f"Saved {path.name} in {path.parent.name}, as a job of its own with a new job number, at the profit and overhead on the sliders.")


def _put(slider: Slider, percent: float) -> None:
    slider.show(percent, f"{percent:g}%")
