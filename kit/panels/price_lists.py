"""The screen for price lists: pick a file, see its faults, what changes, what that does to the jobs on hand; take it into use."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.draw.folds import draw_fold, fold_words
from kit.draw.list_tables import (
    draw_came_in,
    draw_list_changes,
    draw_list_faults,
    draw_list_summary,
    draw_lists_facts,
    draw_lists_in_use,
    draw_repriced,
    list_title,
)
from kit.draw.tables import count_words
from kit.errors import KitError, ListError
from kit.issued import office_day
from kit.job import Job, change_job
from kit.lists import Lists
from kit.lists.list_changes import list_changes
from kit.lists.list_files import FILES
from kit.lists.take_in import IncomingLists, take_in
from kit.panels.job_files import FROM_EXAMPLES, JobFiles, jobs_folder
from kit.panels.list_users import ListUsers
from kit.panels.price_doubts import list_doubts, lost_prices
from kit.panels.price_files import ALL_LISTS, USUAL, PriceFiles, describe_written, list_file
from kit.panels.question import Question
from kit.panels.raise_panel import RaisePanel
from kit.panels.screen import DownloadFile, Note, Screen, Upload, fill_choices, lay_actions, lay_bar, lay_box, lay_words, make_button, make_download, show_html
from kit.panels.taken_into_use import TakenIntoUse, changed_on_disk, list_unread, note_taken, read_taken, undo_taken
from kit.repricing import Repriced, largest_first, reprice_jobs

__all__ = ["PriceListScreen"]

HELP = (
    (
        "Bring in CSV or XLSX, several at once where they belong together (a new item and its price), up to 5 MB each. A file over 10 MB never "
        "arrives, and the button takes nothing more until you press Look again. Put a large file into your own folder, press Look again, "
        "and choose it under From your folder."
    ),
    (
        "The whole list: it replaces the one in use. Keep the rows still in force, and those your earlier jobs were priced with: give an "
        "old price its last day, and add the new one from the day after. A folder brings in every list in it."
    ),
    (
        "A part of a list: its rows go into the list in use, by item, supplier and pack (other lists by their first columns). An empty cell or a missing "
        "column leaves yours as it is. A new price starts on its own first day, else on the Day; the old one ends the day before. Nothing "
        "is taken out."
    ),
    "Raise these: a raised price starts on the Day. Prices that start later, and money that is only passed on, stay as they are.",
)
USE_HELP = (
    (
        "Take into use writes a new folder of lists beside the present one; nothing is overwritten. Only the job files you mark use it from "
        "then on. All others, and new ones, keep the lists they have until you choose others under Price lists on the estimator's screen."
    ),
    "Issued estimates are not touched: they keep the lists they were issued with.",
    "Undo points the job files back to the lists they had and removes the new folder, unless somebody has changed it or uses it.",
)
WHOLE, PART = "the whole list", "a part: merge its rows"
ON_VISIT, ON_DAY = "on the day of their visit", "as if visited on the Day"
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
        self._picked = ""
        self._priced: dict[str, Job] = {}
        self._titles: dict[str, str] = {}
        self.use_note = Note()
        self.question = Question(self.use_note)
        self.summary, self.in_use_table, self.picked_table, self.changes, self.effect = (widgets.HTML() for _ in range(5))
        self._make_controls(day or office_day())
        self._lay_out()
        self.look_again()

    def _make_controls(self, day: dt.date) -> None:
        guard = self.note.guard
        self._base = widgets.Dropdown(description="Lists in use", tooltip="Folders of price lists in your own folder", **_FIELD)
        self.date = widgets.DatePicker(value=day, description="Day", tooltip="Day on which prices are compared and new lists are taken into use", **_FIELD)
        self.dated = widgets.Checkbox(value=True, description="New prices get this day as their date", indent=False)
        self.upload = Upload("Upload lists", self.bring, self.note, multiple=True)
        self.choice = widgets.Dropdown(description="From your folder", tooltip="Files and folders of your own folder", **_FIELD)
        self.extent = widgets.Dropdown(options=[WHOLE, PART], description="What came in is", tooltip="A whole list, or rows to merge into yours", **_FIELD)
        self.which = widgets.Dropdown(
            options=[(ALL_LISTS, ALL_LISTS), *((list_title(file), file) for file in FILES)],
            value="prices.csv",
            description="List",
            tooltip="Which list to download",
            **_FIELD,
        )
        self.users = ListUsers()
        self.priced = widgets.Dropdown(options=[ON_VISIT, ON_DAY], description="Jobs priced", tooltip="Which day's prices count for the jobs on hand", **_FIELD)
        self.raises = RaisePanel(self.note, self._raise)
        self.take = make_button("Bring it in", "Look at this file or folder: nothing is written yet", guard(lambda: self.pick(str(self.choice.value))))
        self.use = make_button("Take into use", "Write the new lists as a folder of this day", self.use_note.guard(self.press_use), "primary")
        self.undo_button = make_button("Undo", "Put back the lists that were in use before", self.use_note.guard(self.undo))
        self.drop = make_button("Start over", "Discard what came in and what was raised", guard(self.start_over), "quiet")
        for control in (self._base, self.date, self.dated, self.priced):
            control.observe(lambda _: None if self.updating else guard(self._show)(None), names="value")
        self.extent.observe(lambda change: None if self.updating else guard(lambda: self._set_extent(str(change["new"])))(None), names="value")

    def _lay_out(self) -> None:
        def download(kind: str) -> Any:
            tip = f"The list as it is in use, as {kind}, to edit and bring back"
            file = partial(self._list_file, f".{kind.lower()}")
            return make_download(f"Download as {kind}", tip, file, self.note, self.working)

        self.as_csv, self.as_xlsx = download("CSV"), download("XLSX")
        self._sound = lay_box(
            "sk-sound",
            lay_box("sk-scroll sk-list-changes", self.changes),
            self.priced,
            lay_box("sk-scroll sk-effect", self.effect),
            self.users.box,
        )
        self._weighed = lay_box("sk-weighed", lay_words("h2", "What it does"), lay_box("sk-scroll sk-came-in", self.picked_table), self._sound)
        self.lay_out(
            lay_box("sk-top", self.summary, lay_actions(self.use, self.undo_button, self.drop), self.question.box, self.use_note.box),
            self.note.box,
            lay_bar(self._base, self.date, make_button("Look again", "Read folders, files and jobs again", self.note.guard(self.look_again))),
            lay_words("h2", "Bring in a list"),
            lay_bar(self.extent, self.upload.box, self.choice, self.take),
            lay_words("h2", "Raise prices"),
            self.raises.box,
            self.dated,
            self._weighed,
            widgets.HTML(fold_words("How lists come in", *HELP) + fold_words("What taking into use does", *USE_HELP)),
            lay_words("h2", "Lists in use"),
            lay_bar(self.which, lay_actions(self.as_csv, self.as_xlsx)),
            lay_box("sk-scroll sk-lists-in-use", self.in_use_table),
        )

    @property
    def day(self) -> dt.date:
        """The day on the screen. Raises KitError if the field is empty."""
        if self.date.value is None:
            raise KitError("The day is missing. Give one: prices are compared on it, and the new folder has it in its name.")
        return dt.date.fromisoformat(str(self.date.value))

    @property
    def in_use(self) -> str:
        """The chosen folder of lists, as a job file names it."""
        return str(self._base.value)

    def look_again(self) -> None:
        """Read folders of lists, files that can be picked, what was picked there, and jobs anew."""
        names, pickable = self.price_files.names(), self.price_files.pickable()
        with self.updating:
            chosen = self._base.value
            self._base.options = [(self.price_files.say(name), name) for name in names]
            self._base.value = chosen if chosen in names else USUAL
            fill_choices(self.choice, pickable)
            self._titles = {name: title for title, name in self.files.named()}
            self.users.follow(self._titles)
        self.take.disabled = not pickable
        self.upload.renew()
        if self._picked in pickable:
            self._contents = self.price_files.contents(self._picked)
        self._show()

    def choose(self, name: str) -> None:
        """Choose the folder of lists in use, as a job file names it; `USUAL` for the usual ones."""
        self._base.value = name

    def pick(self, name: str) -> None:
        """Look at a file or folder of the person's own folder."""
        self.bring(self.price_files.contents(name))
        self._picked = name

    def bring(self, contents: Mapping[str, bytes]) -> None:
        """Look at files that came in: their content by name."""
        self._contents, self._picked = dict(contents), ""
        self.use_note.say()
        self._set_extent(str(self.extent.value))

    def _set_extent(self, extent: str) -> None:
        """What came in is the whole list, or a part of it."""
        with self.updating:
            self.extent.value = extent
            if self._contents:
                self.priced.value = ON_DAY if extent == PART else ON_VISIT
        self._weigh()

    def _raise(self) -> None:
        with self.updating:
            self.priced.value = ON_DAY
        self.use_note.say()
        self._weigh()

    def start_over(self) -> None:
        """Discard what came in and what was raised."""
        self._contents, self._picked = {}, ""
        self.raises.drop()
        self.use_note.say()
        self._weigh()

    def _show(self) -> None:
        """Lists in use, and what was picked against them."""
        self.lists = None
        show_html(self.in_use_table, "The lists in use", self._draw_in_use)
        self.raises.show(self.lists, self.date.value or office_day())
        self._weigh()

    def _draw_in_use(self) -> str:
        try:
            self.lists = self.price_files.lists(self.in_use)
        except ListError as error:
            return draw_list_faults(IncomingLists((), (), error.faults, None))
        return draw_fold("What each list holds", draw_lists_in_use(self.lists, self.price_files.titles(self.in_use), self.day))

    def _list_file(self, ending: str) -> DownloadFile:
        return list_file(self.lists, str(self.which.value), ending)

    def _weigh(self) -> None:
        """Faults, changes and prices of what was picked or raised; without anything sound nothing can be taken into use.

        A question about what was compared before is no longer to be answered.
        """
        self.question.drop()
        with self.working.steps(1):
            self.use.disabled = True
            self.drop.disabled = not self._contents and not self.raises.sentences
            self._weighed.layout.display = "none" if self.drop.disabled else ""
            record = read_taken(self.files.home)
            self.undo_button.disabled = record is None
            self.undo_button.tooltip = f"Put back the lists from before {record.folder}" if record else "Nothing to put back"
            self.taken, self.repriced = None, ()
            for place in (self.picked_table, self.changes, self.effect, self.summary):
                place.value = ""
            if self.lists is None:
                self.note.say("The lists in use have faults, listed below. Fix them or choose others; then new ones can be compared.", alert=True)
                return
            day = self.day
            self.summary.value = draw_lists_facts(self.lists, self.price_files.folder(self.in_use).name, day)
            if self.drop.disabled:
                self.note.say("Nothing is picked yet. Bring in a list, or raise prices: this shows what would change before anything is written.")
                return
            self._take_in(self.lists, day)

    def _take_in(self, old: Lists, day: dt.date) -> None:
        dated = day if self.dated.value else None
        self.taken = IncomingLists((), (), (), old)
        if self._contents:
            self.taken = take_in(old, self._contents, dated=dated, merged_on=day if self.extent.value == PART else None)
            self.picked_table.value = draw_came_in(self.taken, old)
        self._sound.layout.display = "none" if self.taken.lists is None else ""
        if self.taken.lists is None:
            self.picked_table.value += draw_list_faults(self.taken)
            part = "" if self.extent.value == PART else f' Is it a part of a list? Then choose "{PART}".'
            self.note.say(f"{count_words(len(self.taken.faults), 'fault')}: fix the rows below and pick again. Nothing was taken in.{part}", alert=True)
            return
        new = self.raises.raised(self.taken.lists, day, dated)
        self.taken = replace(self.taken, lists=new)
        self._compare(old, new, day)

    def _compare(self, old: Lists, new: Lists, day: dt.date) -> None:
        changes = list_changes(old, new, day)
        jobs, unread = self.price_files.jobs()
        self._priced = jobs
        with self.working.steps(len(jobs)):
            at = {name: visited_on(job, day) for name, job in jobs.items()} if self.priced.value == ON_DAY else jobs
            self.repriced = largest_first(reprice_jobs(at, self.files.lists_for, new, advance=lambda *_: self.working.advance()))
        examples = any(name.startswith(FROM_EXAMPLES) for name in jobs)
        on_hand = count_words(len(jobs), "example" if examples else "job") + ("" if examples else " on hand")
        self.summary.value = draw_list_summary(changes, self.repriced, self._titles, on_hand)
        self.changes.value = draw_fold(f"Every change ({len(changes)})", draw_list_changes(changes, day))
        uses = {name: self.price_files.say(job.prices) if job.prices else self.price_files.folder(USUAL).name for name, job in jobs.items()}
        self.effect.value = draw_fold(f"{on_hand}, before and after", draw_repriced(self.repriced, uses, self._titles))
        self.use.disabled = dict(new.texts) == dict(old.texts)
        raised = f"Raised: {'; '.join(self.raises.sentences)}." if self.raises.sentences else ""
        sentence = "No job files of your own yet: the examples are priced instead." if examples else ""
        doubts = list_doubts(old, new, day)
        alarm = bool(doubts or lost_prices(self.repriced, self._titles))  # the summary above names the jobs
        (self.use.remove_class if alarm else self.use.add_class)("sk-primary")
        if alarm and self.extent.value == WHOLE:
            doubts = [*doubts, f'Is it a part of a list? Then choose "{PART}" under What came in is.']
        sound = "No faults." if not self.use.disabled else "No faults, and the same as the lists in use."
        self.note.say("" if alarm else sound, raised, *doubts, sentence, *unread, alert=alarm)

    def press_use(self) -> None:
        """Take the new lists into use; where the disk holds something else than was compared, that is asked first."""
        changed = []
        if self.lists is not None:
            changed = changed_on_disk(self.files, self._priced, self.lists, self.price_files.lists(self.in_use))
        if self._picked and self.price_files.contents(self._picked) != self._contents:
            changed.append(f"{self._picked} was changed on disk since it was picked.")
        if not changed:
            self._ask_doubts()
            return
        self.question.ask(" ".join(changed), {"Compare again": self.look_again, "Take into use what is shown": self._ask_doubts})

    def _ask_doubts(self) -> None:
        """Where new lists look like a part of a list, or an empty one, that is asked first."""
        doubts = []
        if self.lists is not None and self.taken is not None and self.taken.lists is not None:
            repriced = self.repriced if self.priced.value == ON_VISIT else reprice_jobs(self._priced, self.files.lists_for, self.taken.lists)
            doubts = list_doubts(self.lists, self.taken.lists, self.day) + lost_prices(repriced, self._titles)
        if not doubts:
            self.take_into_use()
            return
        answers: dict[str, Callable[[], object]] = {
            "Leave the lists as they are": self._leave,
            **({"Merge its rows": lambda: self._set_extent(PART)} if self._contents and self.extent.value == WHOLE else {}),
            "Take it anyway": self.take_into_use,
        }
        whole = " A picked file replaces the whole list. Is it the whole list?" if self._contents and self.extent.value == WHOLE else ""
        self.note.say()  # the question says it
        self.question.ask(f"{' '.join(doubts)}{whole}", answers)

    def _leave(self) -> None:
        """Nothing is taken into use; what speaks against the lists is said again."""
        self._weigh()
        self.use_note.say("Nothing is taken into use.")

    def take_into_use(self, jobs: Sequence[str] | None = None) -> Path:
        """Write the new lists as a folder of the day, and point the marked job files, or the given ones, at it; gives the folder.

        Raises KitError if nothing sound was picked, or the folder can't be written.
        """
        with self.working.steps(1):
            if self.taken is None or self.taken.lists is None:
                raise KitError("There is nothing to take into use: pick lists without faults first.")
            marked = self.users.marked if jobs is None else list(jobs)
            folder, prices = self.price_files.write(self.taken.lists, self.day, self.in_use)
            before = {name: job.prices for name, job in self._priced.items()}
            pointed, failures = self.price_files.point(marked, prices)
            note_taken(self.files.home, folder, prices, {name: before.get(name) for name in pointed})
            self._contents, self._picked, self.use.disabled = {}, "", True
            self.raises.drop()
            self._turn_to(prices)
        self.use_note.say(
            *describe_written(folder, [self._titles.get(name, name) for name in pointed], self.price_files.folder(USUAL).name), *failures, alert=bool(failures)
        )
        return folder

    def undo(self) -> None:
        """Put back what was in use before the last taking into use."""
        record = read_taken(self.files.home)
        if record is None:
            raise KitError("Nothing to put back.")
        unread = list_unread(self.files, record)
        if not unread:
            self._undo(record)
            return
        them = "it may use" if len(unread) == 1 else "they may use"
        asks = f"{', '.join(unread)} can't be read, and {them} {record.folder}: fix that first, or {record.folder} stays where it is when the rest is put back."
        self.question.ask(asks, {"Leave all as it is": lambda: self.use_note.say("Nothing is put back."), "Put the rest back": lambda: self._undo(record)})

    def _undo(self, record: TakenIntoUse) -> None:
        done = undo_taken(self.files, record)
        self.look_again()
        earlier = read_taken(self.files.home)
        more = f"Undo once more puts back what was in use before {earlier.folder}." if earlier else ""
        self.use_note.say(*done, more)

    def _turn_to(self, prices: str) -> None:
        """The new lists are those in use on this screen; what was compared stays to be read."""
        places = (self.picked_table, self.changes, self.effect)
        texts, repriced = [place.value for place in places], self.repriced
        self.look_again()
        self.choose(prices)
        for place, text in zip(places, texts, strict=True):
            place.value = text
        self.repriced = repriced
        self.note.say()


def visited_on(job: Job, day: dt.date) -> Job:
    """A job as if it were visited on a day; as it is where its other days don't allow that."""
    try:
        return change_job(job, {"identity.visit_date": day})
    except KitError:
        return job
