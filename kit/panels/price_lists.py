"""The screen for price lists: pick a file, see its faults, what changes, what that does to the jobs on hand; take it into use."""

import datetime as dt
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.draw.list_tables import draw_came_in, draw_list_changes, draw_list_faults, draw_lists_in_use, draw_repriced
from kit.draw.style import STYLE
from kit.errors import KitError, ListError
from kit.issued import office_day
from kit.lists import Lists
from kit.lists.changes import list_changes
from kit.lists.schema import FILES
from kit.lists.take_in import IncomingLists, take_in
from kit.panels.files import FROM_EXAMPLES, JobFiles, jobs_folder
from kit.panels.layout import Note, lay_bar, lay_pane, lay_words, make_button
from kit.panels.price_files import ALL_LISTS, USUAL, PriceFiles, list_file, tell_written
from kit.panels.upload import Upload
from kit.panels.views import say_failure
from kit.panels.working import Working, make_download
from kit.repricing import Repriced, largest_first, reprice_jobs

__all__ = ["PriceListScreen"]

UPLOAD_HELP = (
    "CSV or XLSX, several at once where they belong together (a new item and its price), up to 5 MB each. More than 10 MB never arrives: nothing "
    "can be said of it here, and the button takes nothing more until you press Look again. Lay a large file into your own folder, press Look again, "
    "and choose it below."
)
WHOLE_HELP = (
    "A picked file takes the place of the whole list that it is; nothing is merged. Keep the rows that still hold, and those that your earlier "
    "jobs were priced with: give an old price its last day, and add the new one from the day after. A picked folder brings every list in it."
)
USE_HELP = (
    "Writes a new folder of lists beside the present one; nothing is written over. Only the job files that you mark (several with Ctrl or Shift) use "
    "it from then on; all others, and new ones, go on with the lists they have until you choose others under Price lists on the estimator's screen. "
    "Estimates that are issued already are not touched: they hold the lists that they were issued with."
)
_FIELD: dict[str, Any] = {"layout": {"width": "420px"}, "style": {"description_width": "130px"}}


class PriceListScreen:
    """The price lists in use, and those that may take their place.

    Parameters
    ----------
    folder
        Where job files lie; `jobs` beside the notebooks when left out.
    day
        Day on which new lists are taken into use; today when left out.
    """

    def __init__(self, folder: Path | None = None, day: dt.date | None = None) -> None:
        self.files = JobFiles(folder or jobs_folder())
        self.price_files = PriceFiles(self.files)
        self.lists: Lists | None = None
        self.taken: IncomingLists | None = None
        self.repriced: tuple[Repriced, ...] = ()
        self._contents: dict[str, bytes] = {}
        self._held = False
        self._note, self._done, self._working = Note(), Note(), Working()
        self._in_use, self._came, self._changes, self._effect = (widgets.HTML() for _ in range(4))
        self._make_controls(day or office_day())
        self.screen = self._lay_out()
        self.look_again()

    def _make_controls(self, day: dt.date) -> None:
        self._base = widgets.Dropdown(description="Lists in use", tooltip="Folders of price lists in your own folder", **_FIELD)
        self._day = widgets.DatePicker(value=day, description="Day", tooltip="Day on which prices are compared and new lists are taken into use", **_FIELD)
        self._dated = widgets.Checkbox(value=True, description="New prices get this day as their date (price_date in company.csv)", indent=False)
        self._upload = Upload("Upload lists", self.bring, self._note, multiple=True)
        self._pick = widgets.Dropdown(description="From your folder", tooltip="Files and folders of your own folder", **_FIELD)
        self._which = widgets.Dropdown(options=[ALL_LISTS, *FILES], value="prices.csv", description="List", tooltip="Which list to download", **_FIELD)
        self._jobs = widgets.SelectMultiple(
            description="Job files that are to use them", rows=5, layout={"width": "560px"}, style={"description_width": "200px"}
        )
        self._take = make_button("Take what is chosen", "Look at this file or folder", self._note.guard(lambda: self.pick(str(self._pick.value))))
        self._use = make_button("Take into use", "Write the new lists as a folder of this day", self._done.guard(self.take_into_use))
        self._base.observe(lambda _: self._chosen(), names="value")
        for control in (self._day, self._dated):
            control.observe(lambda _: self._chosen(), names="value")

    def _lay_out(self) -> Any:
        def download(ending: str) -> Any:
            tip = f"The list as it is in use, as {ending[1:].upper()}, to edit and bring back"
            return make_download(
                f"Download as {ending[1:].upper()}", tip, lambda: list_file(self.lists, str(self._which.value), ending), self._note, self._working
            )

        self._as_csv, self._as_xlsx = download(".csv"), download(".xlsx")
        again = make_button("Look again", "Read folders, files and jobs anew", self._note.guard(self.look_again))
        screen = widgets.VBox(
            [
                widgets.HTML(STYLE),
                lay_bar(self._base, self._day, again),
                lay_bar(self._dated),
                lay_words("h3", "Pick lists"),
                self._upload.box,
                lay_words("p", UPLOAD_HELP),
                lay_bar(self._pick, self._take),
                lay_words("p", WHOLE_HELP),
                self._working.box,
                self._note.box,
                lay_pane(self._came, "sk-came-in"),
                lay_pane(self._changes, "sk-list-changes"),
                lay_pane(self._effect, "sk-effect"),
                lay_words("h3", "Take them into use"),
                lay_words("p", USE_HELP),
                lay_bar(self._jobs, self._use),
                self._done.box,
                lay_words("h3", "Lists in use"),
                lay_bar(self._which, self._as_csv, self._as_xlsx),
                lay_pane(self._in_use, "sk-lists-in-use"),
            ]
        )
        screen.add_class("sk-screen")
        return screen

    def _ipython_display_(self) -> None:
        from IPython.display import display

        display(self.screen)  # type: ignore[no-untyped-call]

    @property
    def day(self) -> dt.date:
        """The day on the screen.

        Raises
        ------
        KitError
            If the field is empty.
        """
        if self._day.value is None:
            raise KitError("There is no day. Give one: prices are compared on it, and the new folder has it in its name.")
        return dt.date.fromisoformat(str(self._day.value))

    @property
    def in_use(self) -> str:
        """The chosen folder of lists, as a job file names it."""
        return str(self._base.value)

    @property
    def note_text(self) -> str:
        """What the screen last said of picked lists, as HTML."""
        return self._note.text

    @property
    def done_text(self) -> str:
        """What the screen last said of lists taken into use, as HTML."""
        return self._done.text

    @property
    def in_use_text(self) -> str:
        """The lists in use, as HTML."""
        return str(self._in_use.value)

    @property
    def came_text(self) -> str:
        """What came in, and its faults, as HTML."""
        return str(self._came.value)

    @property
    def changes_text(self) -> str:
        """What changes, as HTML."""
        return str(self._changes.value)

    @property
    def effect_text(self) -> str:
        """What that does to the jobs on hand, as HTML."""
        return str(self._effect.value)

    def look_again(self) -> None:
        """Read folders of lists, files that can be picked, and jobs anew."""
        self.files.forget_lists()
        self._held = True
        try:
            chosen, names = self._base.value, self.price_files.names()
            self._base.options = [(f"{self.price_files.folder(USUAL).name} ({USUAL})" if name == USUAL else name, name) for name in names]
            self._base.value = chosen if chosen in names else USUAL
            picked, found = self._pick.value, self.price_files.pickable()
            self._pick.options = found
            self._pick.value = picked if picked in found else next(iter(found), None)
            self._jobs.options = [name for name in self.files.names() if not name.startswith(FROM_EXAMPLES)]
        finally:
            self._held = False
        self._take.disabled = not found
        self._upload.renew()
        self._show()

    def choose(self, name: str) -> None:
        """Choose the folder of lists in use, as a job file names it; `USUAL` for the usual ones."""
        self._base.value = name

    def pick(self, name: str) -> None:
        """Look at a file or folder of the person's own folder."""
        self.bring(self.price_files.contents(name))

    def bring(self, contents: Mapping[str, bytes]) -> None:
        """Look at files that came in: their content by name."""
        self._contents = dict(contents)
        self._done.say()
        self._weigh()

    def _chosen(self) -> None:
        if not self._held:
            self._note.guard(self._show)(None)

    def _show(self) -> None:
        """Lists in use, and what was picked against them."""
        name = self.in_use
        self.lists = None
        try:
            self.lists = self.price_files.lists(name)
            self._in_use.value = draw_lists_in_use(self.lists, self.price_files.folder(name).name, self.price_files.titles(name), self.day)
        except ListError as error:
            self._in_use.value = draw_list_faults(IncomingLists((), (), error.faults, None))
        except Exception as error:  # noqa: BLE001 - a screen must say what failed and go on; nothing else would show it
            self._in_use.value = say_failure("The lists in use", error)
        self._weigh()

    def _weigh(self) -> None:
        """Faults, changes and prices of what was picked; without a sound pick nothing can be taken into use."""
        with self._working.steps(1):
            self._use.disabled = True
            self.taken, self.repriced = None, ()
            for place in (self._came, self._changes, self._effect):
                place.value = ""
            if not self._contents:
                self._note.say("Nothing is picked yet: below stand the lists in use.")
                return
            if self.lists is None:
                raise KitError("The lists in use have faults, which stand below. Mend them or choose others; then what was picked can be compared.")
            day = self.day
            self.taken = take_in(self.lists, self._contents, dated=day if self._dated.value else None)
            self._came.value = draw_came_in(self.taken, self.lists)
            if self.taken.lists is None:
                self._came.value += draw_list_faults(self.taken)
                count = len(self.taken.faults)
                self._note.say(f"{count} fault{'' if count == 1 else 's'}: mend the rows below and pick again. Nothing is taken over.", alert=True)
                return
            self._compare(self.lists, self.taken.lists, day)

    def _compare(self, old: Lists, new: Lists, day: dt.date) -> None:
        self._changes.value = draw_list_changes(list_changes(old, new, day), day)
        jobs, unread = self.price_files.jobs()
        with self._working.steps(len(jobs)):
            self.repriced = largest_first(reprice_jobs(jobs, self.files.lists_for, new, advance=lambda *_: self._working.advance()))
        self._effect.value = draw_repriced(self.repriced, {name: job.prices or self.price_files.folder(USUAL).name for name, job in jobs.items()})
        self._use.disabled = dict(new.texts) == dict(old.texts)
        examples = any(name.startswith(FROM_EXAMPLES) for name in jobs)
        told = "No job files of your own yet: the examples are priced instead." if examples else ""
        self._note.say("No faults." if not self._use.disabled else "No faults, and the same as the lists in use.", told, *unread)

    def take_into_use(self, jobs: Sequence[str] | None = None) -> Path:
        """Write the new lists as a folder of the day, and point the marked job files, or the given ones, at it; gives the folder.

        Raises
        ------
        KitError
            If nothing sound was picked, or the folder can't be written.
        """
        with self._working.steps(1):
            if self.taken is None or self.taken.lists is None:
                raise KitError("There is nothing to take into use: pick lists without faults first.")
            marked = list(self._jobs.value if jobs is None else jobs)
            made, prices = self.price_files.write(self.taken.lists, self.day, self.in_use)
            pointed, told = self.price_files.point(marked, prices)
            self._contents, self._use.disabled = {}, True
            self._turn_to(prices)
        self._done.say(*tell_written(made, pointed, self.price_files.folder(USUAL).name), *told, alert=bool(told))
        return made

    def _turn_to(self, prices: str) -> None:
        """The new lists are those in use on this screen; what was compared stays to be read."""
        kept = [(place, place.value) for place in (self._came, self._changes, self._effect)]
        found = self.repriced
        self.look_again()
        self.choose(prices)
        for place, text in kept:
            place.value = text
        self.repriced = found
        self._note.say()
