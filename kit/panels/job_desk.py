"""Which file does the job on the screen belong to, what of it is unsaved, and what did somebody else do to the file or the lists meanwhile?"""

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import ipywidgets as widgets

from kit.errors import Fault, KitError
from kit.job import Job, read_job
from kit.job.field_names import label_of
from kit.job.prices import PRICE_FOLDER
from kit.lists import Lists, load_lists
from kit.money import format_money
from kit.panels.faults import list_open
from kit.panels.job_files import FROM_EXAMPLES, JobFiles, OpenedJob
from kit.panels.job_state import JobState
from kit.panels.keeping import AtWork, KeptWork
from kit.panels.on_disk import FileChangedError, draw_file_differences
from kit.panels.question import Question
from kit.panels.screen import Note
from kit.shipped_files import shipped

__all__ = ["JobDesk"]


class JobDesk:
    """A job on the screen with its file: nothing of it is lost or written over without a word.

    Parameters
    ----------
    files
        The job files of the folder.
    note
        Where is said what was done.
    job
        The job to start from, or a job file; what was open last when left out.
    lists
        The price lists; those of the job when left out.
    """

    def __init__(self, files: JobFiles, note: Note, job: Job | Path | None = None, lists: Lists | None = None) -> None:
        self.files, self.note, self._lists = files, note, lists
        self.stand_in = False
        """Whether the kit's invented lists stand in for those of the job, which have faults."""
        self.question = Question(note)
        self.warning = widgets.HTML()
        self.listed: Callable[[], object] = lambda: None
        """Called when the names of job files, or the name that Save writes, have changed."""
        self._lists_trouble = ""
        self._failures: dict[str, None] = {}
        start = self._begin(job)
        self.opened, self.name = start.opened, start.name
        self.saved: Job | None = start.saved
        """The job in its file; None for a new one, which has none yet."""
        self._fresh: Job | None = start.saved
        self._kept = self._mark()
        for changes in start.at_work.refused.values() if start.at_work else ():
            self.state.change(changes)
        self.note.say(start.trouble, start.sentence, *self._failures, alert=bool(start.trouble or self._failures))
        files.keeper.changed = self._warn
        self._warn()
        if start.at_work and files.keeper.came_from != files.keeper.window:  # this window goes its own way from here
            self._hand_on()
        if start.at_work and not start.at_work.copy:
            self._offer_unsaved(self.name)

    def _begin(self, job: Job | Path | None) -> OpenedJob:
        """The first of the jobs to start from that can be priced; where the lists are at fault, with the kit's own."""
        for start in self._starts(job):
            if self._try(start):
                return start
        self.stand_in = True
        return next(start for start in self._starts(job) if self._try(start))

    def _try(self, start: OpenedJob) -> bool:
        try:
            self.state = JobState(start.job, self._lists_for)
        except KitError as error:
            self._failures[f"{start.name} can't be priced: {error.faults[0].message}"] = None
            return False
        return True

    def _starts(self, job: Job | Path | None) -> Iterator[OpenedJob]:
        if isinstance(job, Job):
            yield OpenedJob(job, "", "my_job.toml", job, "")
        elif job is not None:
            try:
                saved = self.files.open(job.name) if job.resolve().parent == self.files.folder.resolve() else read_job(job)
                yield OpenedJob(saved, job.name, job.name, saved, f"Opened {job.name}.")
            except KitError as error:
                self._failures[f"{job.name} can't be opened: {error.faults[0].message}"] = None
        yield from self.files.start()

    def _lists_for(self, job: Job) -> Lists:
        if self._lists is not None:
            return self._lists
        try:
            lists = self.files.lists_for(job)
        except KitError as error:
            if not self.stand_in:
                raise
            self._lists_trouble = (
                f"The price lists have faults, so the kit's invented ones are used for now: {error.faults[0]} Fix them; they are read again at the next change."
            )
            return load_lists(shipped(PRICE_FOLDER))
        self.stand_in = False
        return lists

    @property
    def fell_back(self) -> bool:
        """Whether the kit's invented lists stand in for the person's own."""
        return self._lists is None and (self.stand_in or self.files.fell_back(self.state.job))

    @property
    def unsaved(self) -> bool:
        """Whether something would be lost that is in no job file."""
        return self.state.job not in (self.saved, self._fresh) or bool(self.state.refused)

    # --- opening

    def open(self, name: str) -> None:
        """Open a job file or an example; unsaved work is asked about first."""
        self.leave(name, lambda: self._open(name))

    def leave(self, what: str, go_on: Callable[[], object]) -> None:
        """Put something else on the screen: at once where nothing is unsaved, else once it is said what is to become of that."""
        self.state.settle()
        if not self.unsaved:
            if self.saved is None:
                self.files.keeper.forget(self.name)  # a new job of which nothing is typed
            go_on()
            return
        self.keep()

        def save() -> None:
            self.save()
            if not self.unsaved:
                go_on()

        def drop() -> None:
            self.files.forget(self.name)
            go_on()

        answers = {"Save it first": save, "Keep it for later": go_on, "Discard it": drop, "Stay here": lambda: None}
        self.note.say()
        self.question.ask(f"{self.name} has unsaved work. What should happen to it before {what} opens?", answers)

    def _open(self, name: str) -> None:
        job, example = self.files.open(name), name.startswith(FROM_EXAMPLES)
        self.put(job, opened=name, name=self.files.free_name(name) if example else name)
        self.note.say(f"Opened {name}.", f"Save writes {self.name}; the example stays as it is." if example else "")
        if not example:
            self._offer_unsaved(name)

    def put(self, job: Job, *, opened: str, name: str) -> None:
        """Put a job on the screen that goes by a name, a new one where nothing was `opened`; its history begins here."""
        self.state.start(job)
        self.opened, self.name, self.saved, self._fresh = opened, name, job if opened else None, job
        self.question.drop()
        self.look_at_lists()
        self.keep()
        self.listed()

    def _offer_unsaved(self, name: str) -> None:
        """Offer the newest unsaved work on a job file that is not what is on the screen, another window's for one."""
        for work in self.files.keeper.unsaved_work(name):
            if work.job != self.state.job:
                self._offer(work)
                break

    def _offer(self, work: KeptWork) -> None:
        def take() -> None:
            self.files.keeper.adopt(work)
            self.state.replace(work.job)
            self.note.say(f"Unsaved work on {work.name} is back. Save keeps it, Undo goes back to the file.")

        answers = {"Open it": take, "Leave it for later": lambda: None, "Discard it": lambda: self.files.keeper.drop(work)}
        self.question.ask(f"There is unsaved work on {work.name}, too.", answers, more=draw_file_differences(self.saved, work.job, "Unsaved"))

    def offer_typed(self, typed: Mapping[str, str], enter: Callable[[], object], forget: Callable[[], object]) -> None:
        """Offer back what a browser remembers of the last moments before its connection was lost; with nothing new it is forgotten."""
        if not typed:
            forget()
            return

        def put_back() -> None:
            enter()
            forget()

        named = "; ".join(f"{label_of(place)}: {text}" for place, text in typed.items())
        self.question.ask(f"Typed before the connection was lost and not in the job yet: {named}.", {"Put it back": put_back, "Discard it": forget})

    # --- saving

    def save(self, *, over: bool = False) -> None:
        """Write the job under its name; what somebody else wrote there meanwhile is shown first, unless it is to be written `over`."""
        self.state.settle()
        job = self.state.job
        try:
            path = self.files.save(job, self.name, over=over)
        except FileChangedError as error:
            self._ask_whose(error)
            return
        self.saved = self._fresh = job
        self.opened = self.name = path.name
        self.keep()
        self.listed()
        left_out = [f"Not in the file: {sentence}" for sentence in list_open(self.state.refused)]
        self.note.say(f"Saved {path.name} in {path.parent.name}.", *self.look_at_lists(), *left_out, alert=bool(left_out))

    def _ask_whose(self, error: FileChangedError) -> None:
        def rename() -> None:
            self.files.forget(error.name)
            self.name = self.files.free_name(error.name)
            self.save()

        def take_theirs() -> None:
            theirs = self.files.open(error.name)
            self.state.replace(theirs)
            self.opened, self.saved, self._fresh = error.name, theirs, theirs
            self.keep()
            self.note.say(f"{error.name} is on the screen as in the file. Undo brings yours back.")

        answers = {"Save mine under another name": rename, "Take what is in the file": take_theirs, "Write mine over it": lambda: self.save(over=True)}
        if error.theirs is None:  # somebody may be at work on it: there is nothing to take, and nothing to write a job into
            answers = {"Save mine under another name": rename}
        answers["Not now"] = lambda: None
        self.note.say()
        self.question.ask(
            f"{error.name} {error.sentence} Nothing is written yet.", answers, more=draw_file_differences(error.theirs, self.state.job, "On the screen")
        )

    # --- keeping

    def rename(self, name: str) -> None:
        """Another name for Save to write."""
        if name != self.name:
            if self.unsaved:
                self.files.keeper.forget(self.name)
            self.name = name
            self.keep()
            self.listed()

    def keep(self) -> None:
        """Keep what is unsaved, and what is open, if either is not kept yet, before anything else is done with the file."""
        self.note_work()
        self.files.keeper.write()

    def part(self, window: str) -> None:
        """Go on as another window: what is open, and what of it is unsaved, is kept for this one too."""
        self.files.keeper.part(window)
        self._hand_on()
        self.files.keeper.write()

    def note_work(self) -> None:
        """Hand what is unsaved, and what is open, to the keeper if either is not kept yet; it is not on the disk until that has written it."""
        mark, before = self._mark(), self._kept
        if mark == before:
            return
        self._kept = mark
        if self.state.job == self.saved and before[:2] == mark[:2] and before[2] != before[3]:
            self.files.keeper.forget(self.name)  # undone or taken back to what is saved
        self._hand_on()

    def _hand_on(self) -> None:
        at_work = AtWork(self.opened, self.name, {place: entry.changes for place, entry in self.state.refused.items() if entry.stays})
        self.files.keeper.keep(self.state.job, at_work, unsaved=self.state.job != self.saved)

    def _mark(self) -> tuple[object, ...]:
        return self.opened, self.name, self.state.job, self.saved, self.state.refused

    # --- what others did to lists and file

    def look_at_lists(self) -> list[str]:
        """Read the price lists anew; what is to be said where they changed. Faulty ones are a warning that stays until they are mended."""
        trouble, said = self._lists_trouble, []
        try:
            self._lists_trouble = ""
            move = self.state.renew()
            if move is not None:
                said = [f"The price lists on disk have changed: the price was {format_money(move.before)} and is {format_money(move.after)} now."]
        except KitError as error:
            self._lists_trouble = f"The price lists on disk can't be used now, so the ones read before stay in use: {error.faults[0]}"
        if trouble != self._lists_trouble:
            self._warn()
        return said

    def check_before_issue(self) -> None:
        """Whether what is on the screen may go out.

        Raises KitError if entries wait to be mended, or the job file or the lists were changed by somebody else: what changed is said, and nothing goes
        out.
        """
        self.state.settle()
        if self.state.refused:
            raise KitError(_faults("Not issued: fix what was not accepted, or take it back with Undo.", *list_open(self.state.refused)))
        try:
            self.files.check(self.state.job, self.name)
        except FileChangedError as error:
            self._ask_whose(error)
            raise KitError(f"Nothing is issued yet: {error.name} {error.sentence} First say whose version to keep.") from None
        moved = self.look_at_lists()
        if moved:
            raise KitError(_faults(*moved, "Nothing is issued yet: look at it, then press Issue once more."))
        if self._lists_trouble and not self.stand_in:
            raise KitError(_faults("Nothing is issued yet.", self._lists_trouble))

    def _warn(self) -> None:
        """What stays on the screen until it is mended."""
        sentences = [sentence for sentence in (self.files.keeper.trouble, self._lists_trouble) if sentence]
        note = Note()
        note.say(*sentences, alert=True)
        self.warning.value = note.box.value


def _faults(*sentences: str) -> list[Fault]:
    return [Fault("", sentence) for sentence in sentences]
