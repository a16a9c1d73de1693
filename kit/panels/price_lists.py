"""The screen for price lists: pick a file, see its faults, what changes, what that does to the jobs on hand; take it into use."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.draw.list_tables import draw_came_in, draw_list_changes, draw_list_faults, draw_lists_in_use, draw_repriced
from kit.draw.tables import count_words
from kit.errors import KitError, ListError
from kit.issued import office_day
from kit.lists import Lists
from kit.lists.changes import list_changes
from kit.lists.schema import FILES
from kit.lists.take_in import IncomingLists, take_in
from kit.panels.job_files import FROM_EXAMPLES, JobFiles, jobs_folder
from kit.panels.price_doubts import list_doubts
from kit.panels.price_files import ALL_LISTS, USUAL, PriceFiles, describe_written, list_file
from kit.panels.question import Question
from kit.panels.screen import DownloadFile, Note, Screen, Upload, fill_choices, lay_bar, lay_box, lay_words, make_button, make_download, show_html
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


class PriceListScreen(Screen):
    """The price lists in use, and those that may take their place.

    Parameters
    ----------
    folder
        Where job files lie; `jobs` beside the notebooks when left out.
    day
        Day on which new lists are taken into use; today when left out.
    """

    def __init__(self, folder: Path | None = None, day: dt.date | None = None) -> None:
        super().__init__()
        self.files = JobFiles(folder or jobs_folder())
        self.price_files = PriceFiles(self.files)
        self.lists: Lists | None = None
        self.taken: IncomingLists | None = None
        self.repriced: tuple[Repriced, ...] = ()
        self._contents: dict[str, bytes] = {}
        self.use_note = Note()
        self.question = Question(self.use_note)
        self.in_use_table, self.picked_table, self.changes, self.effect = (widgets.HTML() for _ in range(4))
        self._make_controls(day or office_day())
        self._lay_out()
        self.look_again()

    def _make_controls(self, day: dt.date) -> None:
        self._base = widgets.Dropdown(description="Lists in use", tooltip="Folders of price lists in your own folder", **_FIELD)
        self.date = widgets.DatePicker(value=day, description="Day", tooltip="Day on which prices are compared and new lists are taken into use", **_FIELD)
        self.dated = widgets.Checkbox(value=True, description="New prices get this day as their date", indent=False)
        self.upload = Upload("Upload lists", self.bring, self.note, multiple=True)
        self.choice = widgets.Dropdown(description="From your folder", tooltip="Files and folders of your own folder", **_FIELD)
        self.which = widgets.Dropdown(options=[ALL_LISTS, *FILES], value="prices.csv", description="List", tooltip="Which list to download", **_FIELD)
        self._jobs = widgets.SelectMultiple(
            description="Job files that are to use them", rows=5, layout={"width": "560px"}, style={"description_width": "200px"}
        )
        self.take = make_button("Take what is chosen", "Look at this file or folder", self.note.guard(lambda: self.pick(str(self.choice.value))))
        self.use = make_button("Take into use", "Write the new lists as a folder of this day", self.use_note.guard(self.press_use))
        for control in (self._base, self.date, self.dated):
            control.observe(lambda _: None if self.updating else self.note.guard(self._show)(None), names="value")

    def _lay_out(self) -> None:
        def download(kind: str) -> Any:
            tip = f"The list as it is in use, as {kind}, to edit and bring back"
            file = partial(self._list_file, f".{kind.lower()}")
            return make_download(f"Download as {kind}", tip, file, self.note, self.working)

        self.as_csv, self.as_xlsx = download("CSV"), download("XLSX")
        self.lay_out(
            lay_bar(self._base, self.date, make_button("Look again", "Read folders, files and jobs anew", self.note.guard(self.look_again))),
            lay_bar(self.dated),
            lay_words("h3", "Pick lists"),
            self.upload.box,
            lay_words("p", UPLOAD_HELP),
            lay_bar(self.choice, self.take),
            lay_words("p", WHOLE_HELP),
            self.working.box,
            self.note.box,
            lay_box("sk-scroll sk-came-in", self.picked_table),
            lay_box("sk-scroll sk-list-changes", self.changes),
            lay_box("sk-scroll sk-effect", self.effect),
            lay_words("h3", "Take them into use"),
            lay_words("p", USE_HELP),
            lay_bar(self._jobs, self.use),
            self.use_note.box,
            self.question.box,
            lay_words("h3", "Lists in use"),
            lay_bar(self.which, self.as_csv, self.as_xlsx),
            lay_box("sk-scroll sk-lists-in-use", self.in_use_table),
        )

    @property
    def day(self) -> dt.date:
        """The day on the screen.

        Raises
        ------
        KitError
            If the field is empty.
        """
        if self.date.value is None:
            raise KitError("There is no day. Give one: prices are compared on it, and the new folder has it in its name.")
        return dt.date.fromisoformat(str(self.date.value))

    @property
    def in_use(self) -> str:
        """The chosen folder of lists, as a job file names it."""
        return str(self._base.value)

    def look_again(self) -> None:
        """Read folders of lists, files that can be picked, and jobs anew."""
        names, pickable = self.price_files.names(), self.price_files.pickable()
        with self.updating:
            chosen = self._base.value
            self._base.options = [(f"{self.price_files.folder(USUAL).name} ({USUAL})" if name == USUAL else name, name) for name in names]
            self._base.value = chosen if chosen in names else USUAL
            fill_choices(self.choice, pickable)
            self._jobs.options = [name for name in self.files.names() if not name.startswith(FROM_EXAMPLES)]
        self.take.disabled = not pickable
        self.upload.renew()
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
        self.use_note.say()
        self.question.drop()
        self._weigh()

    def _show(self) -> None:
        """Lists in use, and what was picked against them."""
        self.lists = None
        show_html(self.in_use_table, "The lists in use", self._draw_in_use)
        self._weigh()

    def _draw_in_use(self) -> str:
        name = self.in_use
        try:
            self.lists = self.price_files.lists(name)
        except ListError as error:
            return draw_list_faults(IncomingLists((), (), error.faults, None))
        return draw_lists_in_use(self.lists, self.price_files.folder(name).name, self.price_files.titles(name), self.day)

    def _list_file(self, ending: str) -> DownloadFile:
        return list_file(self.lists, str(self.which.value), ending)

    def _weigh(self) -> None:
        """Faults, changes and prices of what was picked; without a sound pick nothing can be taken into use."""
        with self.working.steps(1):
            self.use.disabled = True
            self.taken, self.repriced = None, ()
            for place in (self.picked_table, self.changes, self.effect):
                place.value = ""
            if not self._contents:
                self.note.say("Nothing is picked yet: below stand the lists in use.")
                return
            if self.lists is None:
                raise KitError("The lists in use have faults, which stand below. Mend them or choose others; then what was picked can be compared.")
            day = self.day
            self.taken = take_in(self.lists, self._contents, dated=day if self.dated.value else None)
            self.picked_table.value = draw_came_in(self.taken, self.lists)
            if self.taken.lists is None:
                self.picked_table.value += draw_list_faults(self.taken)
                self.note.say(f"{count_words(len(self.taken.faults), 'fault')}: mend the rows below and pick again. Nothing is taken over.", alert=True)
                return
            self._compare(self.lists, self.taken.lists, day)

    def _compare(self, old: Lists, new: Lists, day: dt.date) -> None:
        self.changes.value = draw_list_changes(list_changes(old, new, day), day)
        jobs, unread = self.price_files.jobs()
        with self.working.steps(len(jobs)):
            self.repriced = largest_first(reprice_jobs(jobs, self.files.lists_for, new, advance=lambda *_: self.working.advance()))
        self.effect.value = draw_repriced(self.repriced, {name: job.prices or self.price_files.folder(USUAL).name for name, job in jobs.items()})
        self.use.disabled = dict(new.texts) == dict(old.texts)
        examples = any(name.startswith(FROM_EXAMPLES) for name in jobs)
        sentence = "No job files of your own yet: the examples are priced instead." if examples else ""
        self.note.say("No faults." if not self.use.disabled else "No faults, and the same as the lists in use.", sentence, *unread)

    def press_use(self) -> None:
        """Take the new lists into use; where they look like a part of a list, or an empty one, that is asked first."""
        doubts = []
        if self.lists is not None and self.taken is not None and self.taken.lists is not None:
            doubts = list_doubts(self.lists, self.taken.lists, self.day, self.repriced)
        if not doubts:
            self.take_into_use()
            return
        answers: dict[str, Callable[[], object]] = {
            "Leave the lists as they are": lambda: self.use_note.say("Nothing is taken into use."),
            "Take it all the same": self.take_into_use,
        }
        self.question.ask(f"{' '.join(doubts)} A picked file takes the place of the whole list. Is it the whole list?", answers)

    def take_into_use(self, jobs: Sequence[str] | None = None) -> Path:
        """Write the new lists as a folder of the day, and point the marked job files, or the given ones, at it; gives the folder.

        Raises
        ------
        KitError
            If nothing sound was picked, or the folder can't be written.
        """
        with self.working.steps(1):
            if self.taken is None or self.taken.lists is None:
                raise KitError("There is nothing to take into use: pick lists without faults first.")
            marked = list(self._jobs.value if jobs is None else jobs)
            folder, prices = self.price_files.write(self.taken.lists, self.day, self.in_use)
            pointed, failures = self.price_files.point(marked, prices)
            self._contents, self.use.disabled = {}, True
            self._turn_to(prices)
        self.use_note.say(*describe_written(folder, pointed, self.price_files.folder(USUAL).name), *failures, alert=bool(failures))
        return folder

    def _turn_to(self, prices: str) -> None:
        """The new lists are those in use on this screen; what was compared stays to be read."""
        kept = [(place, place.value) for place in (self.picked_table, self.changes, self.effect)]
        repriced = self.repriced
        self.look_again()
        self.choose(prices)
        for place, text in kept:
            place.value = text
        self.repriced = repriced
        self.note.say()
