"""The estimator's screen: what was measured on the left, what follows from it on the right."""

from collections.abc import Callable
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.draw.calendar import draw_calendar
from kit.draw.files import list_drawings
from kit.draw.front import draw_front
from kit.draw.plan import draw_plan
from kit.draw.section import draw_section
from kit.draw.style import STYLE
from kit.draw.tables import draw_assumptions, draw_build_up, draw_findings, draw_headline, draw_hours, draw_lines, draw_purchases
from kit.errors import KitError
from kit.estimate import Estimate
from kit.export import write_workbook
from kit.job import Job, read_job, write_job
from kit.lists import Lists, load_lists
from kit.outlook import schedule_of
from kit.panels.controls import Control, make_control, walk_fields
from kit.panels.state import JobState
from kit.shipped import shipped

__all__ = ["Estimator"]


def _drawings(made: Estimate, _: bool) -> str:  # noqa: FBT001 - one signature for every view
    return "".join(f"<div class='sk-drawing'>{draw(made)}</div>" for draw in (draw_front, draw_section, draw_plan))


def _cut_plans(made: Estimate, _: bool) -> str:  # noqa: FBT001 - one signature for every view
    drawn = [svg for name, svg in list_drawings(made) if name.startswith("cut-")]
    return "".join(f"<div class='sk-drawing'>{svg}</div>" for svg in drawn) or "<p>Nothing is cut from stock.</p>"


def _calendar(made: Estimate, _: bool) -> str:  # noqa: FBT001 - one signature for every view
    labels = {step: row.label for step, row in made.lists.steps.items()}
    return f"<div class='sk-drawing'>{draw_calendar(schedule_of(made), labels)}</div>"


VIEWS: dict[str, Callable[[Estimate, bool], str]] = {
    "Findings": lambda made, _: draw_findings(made.findings),
    "Drawings": _drawings,
    "Takeoff": lambda made, _: draw_lines(made.lines),
    "Purchases": lambda made, private: draw_purchases(made.purchases, private=private),
    "Cut plan": _cut_plans,
    "Hours": lambda made, private: draw_hours(made.tasks, private=private),
    "Calendar": _calendar,
    "Price": lambda made, private: "<p>Hidden while the customer looks on.</p>" if private else draw_build_up(made.build_up),
    "Assumptions": lambda made, _: draw_assumptions(made.assumptions),
}


class Estimator:
    """A job on the screen.

    Parameters
    ----------
    job
        The job to start from, or a job file; the first shipped example when left out.
    lists
        The price lists; the shipped ones when left out.
    folder
        Where job files and workbooks are written; the notebook's own folder when left out.
    """

    def __init__(self, job: Job | Path | None = None, lists: Lists | None = None, folder: Path | None = None) -> None:
        path = min(shipped("examples").glob("*.toml")) if job is None else job
        start = read_job(path) if isinstance(path, Path) else path
        self.folder = folder or Path.cwd()
        self.state = JobState(start, lists or load_lists(shipped("price_lists")))
        self._held = False
        self._controls: dict[str, Control] = {}
        self._headline, self._faults, self._view = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self._note = widgets.HTML()
        self._part = widgets.ToggleButtons(options=[], description="", tooltips=[], style={"button_width": "auto"})
        self._tabs = widgets.ToggleButtons(options=list(VIEWS), style={"button_width": "auto"})
        self._fields = widgets.VBox()
        self._private = widgets.ToggleButton(description="Hide cost and hours", tooltip="While the customer looks on")
        self._name = widgets.Text(value="my_job.toml", description="File", tooltip="Job file in this notebook's folder", continuous_update=False)
        self._build_fields()
        self._part.observe(lambda _: self._show_part(), names="value")
        self._tabs.observe(lambda _: self._show_view(), names="value")
        self._private.observe(lambda _: self._show(), names="value")
        self.state.listen(self._show)
        self.screen = self._lay_out()
        self._show()

    def _lay_out(self) -> Any:
        buttons = [
            _button("Undo", "Take the last change back", self._guarded(self.state.undo)),
            _button("Redo", "Do it again", self._guarded(self.state.redo)),
            _button("Open", "Open the job file named beside", self._guarded(self.open)),
            _button("Save", "Save the job file named beside", self._guarded(self.save)),
            _button("Workbook", "Write the workbook beside the job file", self._guarded(self.write_workbook)),
        ]
        left = widgets.VBox([self._part, self._fields], layout=widgets.Layout(flex="1 1 380px", min_width="320px"))
        right = widgets.VBox([self._headline, self._faults, self._tabs, self._view], layout=widgets.Layout(flex="2 1 420px", min_width="360px"))
        bar = widgets.HBox([self._name, *buttons, self._private], layout=widgets.Layout(flex_flow="row wrap"))
        body = widgets.HBox([left, right], layout=widgets.Layout(flex_flow="row wrap", align_items="flex-start"))
        return widgets.VBox([widgets.HTML(STYLE), bar, self._note, body])

    def _ipython_display_(self) -> None:
        from IPython.display import display

        display(self.screen)  # type: ignore[no-untyped-call]

    @property
    def estimate(self) -> Estimate:
        """The estimate on the screen."""
        return self.state.estimate

    @property
    def job(self) -> Job:
        """The job on the screen."""
        return self.state.job

    @property
    def shown_price(self) -> str:
        """The price as it stands on the screen."""
        text = str(self._headline.value)
        return text.partition("class='sk-price'>")[2].partition("<")[0]

    @property
    def faults_text(self) -> str:
        """What stands in the place for faults, as HTML; empty when the last entry was sound."""
        return str(self._faults.value)

    @property
    def view_text(self) -> str:
        """The view on the screen, as HTML."""
        return str(self._view.value)

    def hide_cost(self, *, hidden: bool) -> None:
        """Hide cost, hours and margin while the customer looks on, or show them again."""
        self._private.value = hidden

    def control(self, place: str) -> Any:
        """The widget of a field by its place, such as "cabinet.width"."""
        return self._controls[place].widget

    def show_view(self, name: str) -> None:
        """Turn to one of the views by its name."""
        self._tabs.value = name

    def save(self) -> None:
        """Save the job on the screen under the name in the file box."""
        path = self._path(".toml")
        write_job(self.job, path)
        self._say(f"Saved {path.name}.")

    def open(self) -> None:
        """Open the job file named in the file box."""
        path = self._path(".toml")
        self.state.replace(read_job(path))
        self._build_fields()
        self._say(f"Opened {path.name}.")

    def write_workbook(self) -> None:
        """Write the workbook of the job on the screen beside the job file."""
        self.state.settle()
        path = write_workbook(self.estimate, self._path(".toml").with_suffix(".xlsx"))
        self._say(f"Wrote {path.name}.")

    def _path(self, ending: str) -> Path:
        name = Path(str(self._name.value).strip()).name
        if not name.endswith(ending) or name == ending:
            raise KitError(f'"{name}" is not a file name that ends in {ending}.')
        return self.folder / name

    def _guarded(self, action: Callable[[], None]) -> Callable[[Any], None]:
        def run(_: Any) -> None:
            try:
                action()
            except (KitError, OSError) as error:
                self._say(str(error), alert=True)

        return run

    def _say(self, text: str, *, alert: bool = False) -> None:
        role = "alert" if alert else "status"
        self._note.value = f"<p role='{role}'>{escape(text)}</p>"

    def _build_fields(self) -> None:
        self._held, shown = True, self._part.value
        parts: dict[str, list[Control]] = {}
        for place, rule, value in walk_fields(self.job):
            control = make_control(place, rule, value, self._changed)
            parts.setdefault(place.partition(".")[0], []).append(control)
        if "prices" in parts:  # the folder of price lists is no measure: it stands last
            parts["prices"] = parts.pop("prices")
        self._parts = parts
        self._controls = {control.place: control for controls in parts.values() for control in controls}
        self._part.options = [(name.replace("_", " ").capitalize(), name) for name in parts]
        self._part.value = shown if shown in parts else next(iter(parts))
        self._held = False
        self._show_part()

    def _show_part(self) -> None:
        controls = self._parts.get(self._part.value, [])
        children, under = [], ""
        for control in controls:
            way = control.place.rpartition(".")[0].partition(".")[2]
            if way != under:
                children.append(widgets.HTML(f"<b>{escape(way.replace('_', ' ').replace('[', ' ').replace(']', '').replace('.', ' '))}</b>"))
                under = way
            children.append(control.widget)
        self._fields.children = children

    def _changed(self, place: str, typed: Any) -> None:
        if self._held:
            return
        try:
            self.state.change({place: typed})
        except Exception as error:  # noqa: BLE001 - a screen must say what failed and go on; nothing else would show it
            self._faults.value = f"<div class='sk-faults' role='alert'>Not priced: {escape(f'{type(error).__name__}: {error}')}</div>"

    def _show(self) -> None:
        made, private = self.state.estimate, bool(self._private.value)
        faults = "".join(f"<div>{escape(str(fault))}</div>" for fault in self.state.faults)
        self._faults.value = f"<div class='sk-faults' role='alert'>Not taken over: {faults}</div>" if faults else ""
        if not self.state.faults:
            self._refresh_controls()
        self._show_view()
        self._headline.value = draw_headline(made, private=private)

    def _show_view(self) -> None:
        self._view.value = f"<div class='sk-scroll'>{VIEWS[self._tabs.value](self.state.estimate, bool(self._private.value))}</div>"

    def _refresh_controls(self) -> None:
        """Show the job's values in their controls: after undo, or where a typed value was written another way."""
        self._held = True
        for place, _, value in walk_fields(self.job):
            control = self._controls.get(place)
            if control is not None:
                control.show(value)
        self._held = False


def _button(label: str, help: str, action: Callable[[Any], None]) -> Any:  # noqa: A002 - the word the screens use
    button = widgets.Button(description=label, tooltip=help, layout=widgets.Layout(width="auto"))
    button.on_click(action)
    return button
