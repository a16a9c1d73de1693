"""The half of the bookkeeper's screen that takes what was really spent: upload, faults by row, differences by cost code, lessons."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.archive.compare_spent import SpentComparison, compare_spent
from kit.archive.lessons import Lesson, list_lessons
from kit.archive.spent import empty_spent_table, explain_spent_columns, parse_spent
from kit.draw.book_tables import draw_columns, draw_lessons, draw_spent, draw_spent_faults
from kit.draw.tables import count_words
from kit.errors import Fault, KitError, ListError
from kit.export.papers import mark_of
from kit.issued import Issued
from kit.money import format_money
from kit.panels.issued_files import IssuedFiles
from kit.panels.job_files import FROM_EXAMPLES
from kit.panels.screen import CSV, DownloadFile, Note, Upload, Working, fill_choices, lay_bar, lay_box, lay_words, make_button, make_download
from kit.tables import content_text

__all__ = ["SpentPanel"]

UPLOAD_HELP = (
    "CSV (UTF-8) or XLSX, up to 5 MB. Of a file of more than 10 MB nothing arrives here and nothing can be said of it: this screen stays as it is, and "
    "Look again brings a fresh button. Leave out of the table what is not of this job; or lay it into your folder of jobs, press Look again, and choose it "
    "under From your folder."
)


class SpentPanel:
    """What was spent on the issued estimate that is open.

    Parameters
    ----------
    issued_files
        Issued estimates and tables of the folder.
    working
        The progress bar of the screen.
    """

    def __init__(self, issued_files: IssuedFiles, working: Working) -> None:
        self.issued_files, self._working = issued_files, working
        self.issued: Issued | None = None
        self.comparison: SpentComparison | None = None
        self.lessons: tuple[Lesson, ...] = ()
        self.faults: tuple[Fault, ...] = ()
        self.note = Note()
        self._name = self._text = ""
        self.table, self.lesson_table = widgets.HTML(), widgets.HTML()
        self.box = self._lay_out()

    def _lay_out(self) -> Any:
        self.upload = Upload("Upload what was spent", self._uploaded, self.note)
        self.choice = widgets.Dropdown(
            description="From your folder",
            tooltip="Tables in your folder of jobs, and an invented one",
            layout={"width": "480px"},
            style={"description_width": "130px"},
        )
        take = make_button("Take this table", "Compare it with the estimate", self.note.guard(lambda: self.pick(str(self.choice.value))))
        self.keep_button = make_button("Keep with the job", "Write this table beside the issued estimate", self.note.guard(self.keep))
        empty = make_download("Download an empty table", "The columns, to fill in", self.empty_table, self.note, self._working)
        columns = widgets.HTML(f"<details><summary>What the columns mean</summary>{draw_columns(explain_spent_columns())}</details>")
        return widgets.VBox(
            [
                lay_words("h3", "What was really spent"),
                lay_bar(self.upload.box, empty),
                lay_words("p", UPLOAD_HELP),
                lay_bar(self.choice, take, self.keep_button),
                lay_box("sk-scroll sk-columns", columns),
                self.note.box,
                lay_box("sk-scroll sk-spent", self.table),
                lay_box("sk-scroll sk-lessons", self.lesson_table),
            ]
        )

    def look_again(self) -> None:
        """Read anew which tables can be taken; the upload button is a new one."""
        self.upload.renew()
        fill_choices(self.choice, self.issued_files.tables())

    def open(self, name: str, issued: Issued) -> None:
        """Turn to an issued estimate; a table that is kept with it is taken."""
        self._name, self.issued = name, issued
        self._clear()
        kept = self.issued_files.kept(name)
        if kept is None:
            self.note.say("No table of what was spent is kept with this estimate yet.")
        else:
            self.note.guard(lambda: self.pick(kept))(None)

    def _clear(self) -> None:
        self.comparison, self.lessons, self.faults, self._text = None, (), (), ""
        self.table.value = self.lesson_table.value = ""
        self.keep_button.disabled = True

    def _of_issued(self) -> Issued:
        if self.issued is None:
            raise KitError("No issued estimate is open.")
        return self.issued

    def empty_table(self) -> DownloadFile:
        """An empty table for what was spent on this job."""
        issued = self._of_issued()
        return DownloadFile(f"{mark_of(issued.estimate, issued).file_stem}-spent.csv", CSV, empty_spent_table())

    def _uploaded(self, files: Mapping[str, bytes]) -> None:
        for name, content in files.items():
            self.bring(name, content)

    def pick(self, name: str) -> None:
        """Take a table of the folder, or an invented one, by its name in the list."""
        self.bring(name.removeprefix(FROM_EXAMPLES), self.issued_files.content(name))

    def bring(self, name: str, content: bytes) -> None:
        """Compare a table that came in with the estimate; one with faults is reported by row and not taken."""
        issued = self._of_issued()
        with self._working.steps(2):
            self._clear()
            try:
                text = content_text(content, name)
                rows = parse_spent(text, name, issued.estimate.lists, job=issued.number)
            except ListError as error:
                self._refuse(name, error.faults)
                return
            self._working.advance()
            self.comparison, self._text = compare_spent(issued.estimate, rows), text
            self.table.value = draw_spent(self.comparison)
            self.keep_button.disabled = False
            self.note.say(f"{name}: {len(rows)} rows, no faults. {_sum_up(self.comparison)}", *self._learn(issued, self.comparison))

    def _refuse(self, name: str, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        self.table.value = draw_spent_faults(faults)
        self.note.say(f"{name}: {count_words(len(faults), 'fault')}. Mend the rows below and bring it again. Nothing is taken over.", alert=True)

    def _learn(self, issued: Issued, comparison: SpentComparison) -> list[str]:
        """Lessons of this job and of the others whose tables are kept; gives a sentence for each of those that can't be read."""
        sentences, finished, others = [], [comparison], self.issued_files.finished(self._name)
        with self._working.steps(len(others)):
            for name in others:
                try:
                    finished.append(self._compare_kept(name))
                except KitError as error:
                    sentences.append(f"{name} teaches nothing: {error.faults[0]}")
                self._working.advance()
        self.lessons = list_lessons(finished)
        self.lesson_table.value = draw_lessons(self.lessons, {step: row.name for step, row in issued.estimate.lists.steps.items()})
        return sentences

    def _compare_kept(self, name: str) -> SpentComparison:
        other, kept = self.issued_files.open(name), self.issued_files.kept(name) or ""
        text = content_text(self.issued_files.content(kept), kept)
        return compare_spent(other.estimate, parse_spent(text, kept, other.estimate.lists, job=other.number))

    def keep(self) -> Path:
        """Keep the table on the screen with the issued estimate, so that it is there next time and teaches later jobs.

        Raises
        ------
        KitError
            If no sound table is on the screen, or another one is kept already.
        """
        if self.comparison is None:
            raise KitError("There is no table without faults to keep.")
        path = self.issued_files.keep(self._name, self._text)
        self.look_again()
        self.note.say(f"Kept as {path.name} in {path.parent.name}. It stands here whenever this estimate is opened.")
        return path


def _sum_up(comparison: SpentComparison) -> str:
    difference = comparison.total.difference
    if not difference:
        return f"Spent {format_money(comparison.total.spent)}, as estimated."
    return f"Spent {format_money(comparison.total.spent)}, {format_money(abs(difference))} {'more' if difference > 0 else 'less'} than estimated."
