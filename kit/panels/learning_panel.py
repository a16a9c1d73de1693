"""The part of the bookkeeper's screen on which a person decides what finished jobs teach: taken into new lists, refused, or a job counted that stands out."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from kit.draw.book_tables import draw_lessons
from kit.draw.folds import fold_words
from kit.errors import KitError
from kit.job.prices import usual_price_folder
from kit.learning.deciding import accept_lessons, refuse_lesson, take_in_job
from kit.learning.learn import Learning, Lesson, learn_from_jobs
from kit.learning.words import figure_words, lesson_words, took_words
from kit.lists import load_lists
from kit.lists.write import DESCRIPTION
from kit.panels.contract_panel import FIELD, ContractPanel
from kit.panels.job_files import JobFiles
from kit.panels.screen import Note, Working, lay_actions, lay_bar, lay_box, lay_words, make_button

__all__ = ["LearningPanel"]

HELP = (
    "Finished jobs are compared with your price lists: hours, waste and waits. Nothing changes by itself. What you accept goes into a new dated folder of "
    "lists with your name in each row; what you refuse stays away until more jobs have finished."
)


class LearningPanel:
    """What the finished jobs of the folder teach, and what a person makes of it.

    Parameters
    ----------
    files
        The job files; their folder's jobs teach, new lists lie beside it.
    contract
        The contract's part of the screen; its day is the day of what is known and decided.
    working
        The progress bar of the screen.
    """

    def __init__(self, files: JobFiles, contract: ContractPanel, working: Working) -> None:
        self.files, self.contract, self._working = files, contract, working
        self.learning: Learning | None = None
        self.note, self.table = Note(), widgets.HTML()
        self.lessons = widgets.SelectMultiple(
            description="To decide", rows=8, tooltip="One or more; those proposed come first", **{**FIELD, "layout": {"width": "900px"}}
        )
        self.who = widgets.Text(description="Who decides", tooltip="The lists will name this person", **FIELD)
        self.why = widgets.Text(description="Why so", placeholder="a new helper on most of them", tooltip="To refuse a lesson, or to count an outlier", **FIELD)
        self.valid_from = widgets.DatePicker(description="Holds from", tooltip="Day in the name of the new folder; empty for the day above", **FIELD)
        self.strays = widgets.Dropdown(description="Outlier", tooltip="Jobs left out as outliers, and of what", **{**FIELD, "layout": {"width": "900px"}})
        self.accept_button = self._button("Accept into new lists", "All chosen ones, into one new dated folder", self.accept)
        self.refuse_button = self._button("Refuse", "The chosen one, with the reason", self.refuse)
        self.count_button = self._button("Count this job", "It happened and could happen again; with the reason", self.take_in)
        self._decide = widgets.VBox(
            [
                self.lessons,
                lay_bar(self.who, self.why, self.valid_from),
                lay_actions(self.accept_button, self.refuse_button),
                lay_bar(self.strays, self.count_button),
            ]
        )
        self.box = widgets.VBox(
            [
                lay_words("h3", "What finished jobs teach"),
                lay_actions(self._button("Read the finished jobs", "Read every job of the folder; with many it takes a while", self.learn)),
                self.note.box,
                lay_box("sk-scroll sk-lessons", self.table),
                self._decide,
                widgets.HTML(fold_words("How to decide", HELP)),
            ]
        )
        self.forget()

    def _button(self, label: str, tip: str, action: Callable[[], object]) -> Any:
        return make_button(label, tip, self.note.guard(action))

    def forget(self) -> None:
        """A contract was written to: what stands here may be another answer by now."""
        self.learning, self.table.value = None, ""
        self._decide.layout.display = "none"

    def learn(self) -> None:
        """Show what the finished jobs of the folder teach about its lists, as known on the day of the contract."""
        with self._working.steps(1):
            folder = self.files.folder
            self._show(learn_from_jobs(folder, load_lists(usual_price_folder(folder.absolute())), self.contract.chosen_day()))
        self.note.say("Choose below what to accept or to refuse." if self._open() else "")

    def _show(self, learning: Learning) -> None:
        self.learning, self.table.value = learning, draw_lessons(learning)
        self.lessons.options = [(_choice_words(lesson), lesson.subject.id) for lesson in self._open()]
        self.lessons.value = ()
        flagged = [(one.observation.job, lesson_words(lesson)) for lesson in learning.lessons for one in lesson.flagged]
        strange = {job: list(dict.fromkeys(words for at, words in flagged if at == job)) for job, _ in flagged}
        self.strays.options = [(f"{job} ({'; '.join(words)})", job) for job, words in strange.items()]
        self.strays.value = next(iter(strange), None)
        self.accept_button.disabled = self.refuse_button.disabled = not self.lessons.options
        self.count_button.disabled = not flagged
        self._decide.layout.display = "" if self.lessons.options or flagged else "none"

    def _open(self) -> list[Lesson]:
        return [lesson for lesson in self._of_learning().lessons if lesson.open]

    def _of_learning(self) -> Learning:
        if self.learning is None:
            raise KitError("Press Read the finished jobs first.")
        return self.learning

    def _chosen(self) -> tuple[str, ...]:
        chosen = tuple(str(subject) for subject in self.lessons.value)
        if not chosen:
            raise KitError("Nothing is chosen under To decide.")
        return chosen

    def _reason(self) -> str:
        reason = str(self.why.value).strip()
        if not reason:
            raise KitError("The reason is missing. Give one under Why so, for whoever asks next year.")
        return reason

    def accept(self) -> None:
        """Write the chosen lessons into a new dated folder of lists; errors as in `accept_lessons`, and where nothing is chosen."""
        learning, chosen, who = self._of_learning(), self._chosen(), str(self.who.value).strip()
        if not who:
            raise KitError("The name is missing. Give one under Who decides: the lists will say it.")
        source = usual_price_folder(self.files.folder.absolute())
        day = self.valid_from.value
        valid_from = self.contract.chosen_day() if day is None else dt.date.fromisoformat(str(day))
        folder = accept_lessons(learning, chosen, who=who, home=self.files.home, valid_from=valid_from, description=source / DESCRIPTION)
        self.forget()
        self.note.say(
            f"Written: {folder.name} in {folder.parent.name}, beside your jobs. A job uses these lists once you choose them under Price lists on the "
            "estimator's screen; new jobs do, once the folder is called price_lists."
        )

    def refuse(self) -> None:
        """Refuse the one chosen lesson; errors as in `refuse_lesson`, and where another number of them is chosen."""
        learning, chosen = self._of_learning(), self._chosen()
        if len(chosen) > 1:
            raise KitError("Refuse one at a time: each has its reason.")
        name = next(lesson_words(lesson) for lesson in learning.lessons if lesson.subject.id == chosen[0])
        refuse_lesson(learning, chosen[0], who=str(self.who.value), why=self._reason())
        self._decided(f'Refused "{name}". It comes back when more jobs have finished.')

    def take_in(self) -> None:
        """Count a job that stands out from now on; errors as in `take_in_job`, and where none does."""
        learning = self._of_learning()
        if self.strays.value is None:
            raise KitError("No job is left out.")
        job = str(self.strays.value)
        take_in_job(learning, job, who=str(self.who.value), why=self._reason())
        self._decided(f"{job} counts from now on.")

    def _decided(self, sentence: str) -> None:
        learning = self._of_learning()
        self.why.value = ""
        self._show(learn_from_jobs(learning.folder, learning.lists, learning.day))
        self.note.say(sentence)


def _choice_words(lesson: Lesson) -> str:
    """A lesson in one line: what it is about, what the lists say, what the jobs took and what would be written, and where that is not clear."""
    unclear = "" if lesson.status == "proposed" else ", not clear"
    now, learned = figure_words(lesson, 1.0), figure_words(lesson, lesson.ratio)
    return f"{lesson_words(lesson)}: now {now}, {len(lesson.used)} jobs took {took_words(lesson)}, learned {learned}{unclear}"
