"""A person takes what finished jobs teach into a new dated folder of lists, refuses it with a reason, or takes in a job that stands out."""

import datetime as dt
import math
import shutil
from collections.abc import Sequence
from pathlib import Path

from kit.errors import Fault, KitError
from kit.learning.decisions import Decision, ListCell, add_decisions
from kit.learning.learn import Learning, Lesson
from kit.learning.list_cells import ratio_moved, write_cells
from kit.lists.write import write_lists
from kit.units import format_day

__all__ = ["accept_lessons", "refuse_lesson", "take_in_job"]


def accept_lessons(learning: Learning, subjects: Sequence[str], *, who: str, home: Path, valid_from: dt.date, description: Path | None = None) -> Path:
    """Write a new dated folder of lists with these lessons in place, and write down who took them in; gives the folder.

    Parameters
    ----------
    learning
        What the jobs teach, as `learn_from_jobs` gives it.
    subjects
        Ids of lessons that are proposed or not clear, such as `hours/build-frame`.
    who
        Who accepts, as each changed row will say.
    home
        Where the new folder is to lie, beside the lists in use.
    valid_from
        The day in its name, from which on its figures hold.
    description
        A `datapackage.json` to lay beside the lists.

    Raises
    ------
    KitError
        If somebody accepts without a name, a subject is not open, somebody else decided meanwhile, or it can't be written. Nothing is decided then.
    """
    lessons = [_find(learning, subject, place="--accept") for subject in dict.fromkeys(subjects)]
    faults = [Fault(one.subject.id, _not_proposed(one, learning)) for one in lessons if not one.open]
    if not who.strip():
        faults.append(Fault("--by", "is empty. Say who accepts it: the lists will name that person."))
    if faults:
        raise KitError(faults)
    kind = "invented demonstration jobs" if learning.invented else "finished jobs"
    said = {lesson.subject: f"learned from {lesson.jobs} {kind}, accepted by {who.strip()} on {learning.day}" for lesson in lessons}
    lists = write_cells(learning.lists, [(change, said[lesson.subject]) for lesson in lessons for change in lesson.changes])
    name = "invented_price_lists" if learning.invented else "price_lists"
    folder = write_lists(lists, home, valid_from, name=name, description=description)
    try:
        _decide(learning, [_decision(lesson, learning, who.strip()) for lesson in lessons])
    except KitError:
        shutil.rmtree(folder)  # nothing was decided
        raise
    return folder


def _decide(learning: Learning, decisions: Sequence[Decision]) -> None:
    add_decisions(learning.folder, [decision.model_copy(update={"invented": learning.invented}) for decision in decisions], seen=learning.decided)


def _decision(lesson: Lesson, learning: Learning, who: str) -> Decision:
    belief = lesson.belief
    return Decision(
        kind="accepted",
        subject=lesson.subject.id,
        day=learning.day,
        who=who,
        jobs=(*lesson.earlier, *(one.job for one in lesson.used)),
        cells=tuple(ListCell(file=change.file, key=change.key, column=change.column, cell=change.after) for change in lesson.changes),
        mean=belief.mean - math.log(ratio_moved(lesson.subject, lesson.changes)),
        weight=belief.jobs,
        freedom=belief.freedom,
        variance=belief.variance,
    )


def refuse_lesson(learning: Learning, subject: str, *, who: str, why: str) -> None:
    """Remember that a lesson is refused, and why: it is not proposed again until more jobs came in.

    Raises KitError if it is not open, or no reason is given.
    """
    lesson = _find(learning, subject, place="--refuse")
    if not lesson.open:
        raise KitError(Fault(subject, _not_proposed(lesson, learning)))
    if not why.strip():
        raise KitError(Fault("--why", "is empty. Say why, for whoever asks next year."))
    jobs = (*lesson.earlier, *(one.job for one in lesson.used))
    _decide(learning, [Decision(kind="refused", subject=subject, day=learning.day, who=who.strip(), jobs=jobs, why=why.strip())])


def take_in_job(learning: Learning, job: str, *, who: str, why: str) -> None:
    """Let a job that stands out count from now on, with the reason why. Raises KitError if no lesson leaves that job out, or no reason is given."""
    flagged = {one.observation.job for lesson in learning.lessons for one in lesson.flagged}
    if job not in flagged:
        said = f" Left out are: {', '.join(sorted(flagged))}." if flagged else ""
        raise KitError(Fault("--take-in", f'"{job}" is not a job left out as an outlier.{said}'))
    if not why.strip():
        raise KitError(Fault("--why", "is empty. Say why an outlier should count."))
    _decide(learning, [Decision(kind="took-in", subject="", day=learning.day, who=who.strip(), jobs=(job,), why=why.strip())])


def _find(learning: Learning, subject: str, *, place: str) -> Lesson:
    named = next((lesson for lesson in learning.lessons if lesson.subject.id == subject), None)
    if named is None:
        known = [lesson.subject.id for lesson in learning.lessons if lesson.open]
        raise KitError(Fault(place, f'"{subject}" is not something jobs teach. Known: {", ".join(known) or "nothing yet"}.'))
    return named


def _not_proposed(lesson: Lesson, learning: Learning) -> str:
    if lesson.status == "too few jobs":
        return f"is based on {lesson.jobs} finished jobs; your company file asks for {learning.lists.company.learn_from_jobs}. Wait for more."
    if lesson.status == "refused" and lesson.refused is not None:
        return f"was refused on {format_day(lesson.refused.day)}: {lesson.refused.why}. It comes back when more jobs have finished."
    return "matches what the jobs say: there is nothing to accept."
