"""What finished jobs teach, on the command line: shown with its intervals, accepted into new lists, refused, or a job that stands out taken in."""

import datetime as dt
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from kit.cli.report_text import Page, share_text
from kit.errors import Fault, KitError
from kit.job.field_names import mount_words
from kit.job.prices import usual_price_folder, whose_lists
from kit.learning.back_test import BackTest, back_test
from kit.learning.belief import Interval
from kit.learning.deciding import accept_lessons, refuse_lesson, take_in_job
from kit.learning.learn import Learning, Lesson, Status, learn_from_jobs
from kit.learning.offer_shares import OfferShare, offer_shares
from kit.learning.words import INTERVAL_WORDS, MOVED_COLUMNS, RATIO_WORDS, figure_words, interval_words, lesson_words, moved_rows, took_words, weight_words
from kit.lists import Lists, load_lists
from kit.lists.write import DESCRIPTION
from kit.shipped_files import shipped
from kit.takeoff.working import counted
from kit.units import format_day, say_cell

__all__ = ["decide", "learning_document", "learning_report", "open_learning"]

_TITLES: dict[Status, str] = {
    "proposed": "Proposed: the lists' figure is outside the range of the rate",
    "refused": "Refused, until more jobs have finished",
    "not clear": "No clear difference: the lists' figure may well be right",
    "as listed": "As in the lists",
    "too few jobs": "Too few jobs yet",
}
_SHOWN: tuple[Status, ...] = ("proposed", "refused")


def open_learning(folder: Path, prices: Path | None, day: dt.date) -> tuple[Learning, Path]:
    """What the jobs of a folder teach about its lists, and where those lie: the given ones, those in or beside the folder, else the kit's."""
    if not folder.is_dir():
        raise KitError(Fault("", "is not a folder of jobs.", str(folder)))
    home = prices or usual_price_folder(folder.absolute())
    return learn_from_jobs(folder, load_lists(home), day), home


def decide(
    learning: Learning,
    lists_folder: Path,
    *,
    accept: Sequence[str],
    refuse: str | None,
    take_in: str | None,
    who: str,
    why: str,
    out: Path | None,
    valid_from: dt.date,
) -> tuple[Learning, tuple[str, ...]]:
    """Do what a person decided, one kind at a time; gives what the jobs teach after it, and what was done in words.

    Raises KitError if several are asked for at once, or as in `accept_lessons`, `refuse_lesson` and `take_in_job`.
    """
    if sum((bool(accept), refuse is not None, take_in is not None)) > 1:
        raise KitError(Fault("--accept, --refuse, --take-in", "Decide one of these at a time."))
    if accept:
        if out is None and lists_folder == shipped(lists_folder.name):
            raise KitError(Fault("--out", "is needed: the lists in use are the kit's own. Say where to put your new folder of lists."))
        home = out or lists_folder.parent
        folder = accept_lessons(learning, accept, who=who, home=home, valid_from=valid_from, description=lists_folder / DESCRIPTION)
        return learning, (f"Written: {folder}. Job files use it once they name it under prices, or once it is called price_lists and is beside them.",)
    if refuse is not None:
        refuse_lesson(learning, refuse, who=who, why=why)
    elif take_in is not None:
        take_in_job(learning, take_in, who=who, why=why)
    else:
        return learning, ()
    done = f"Refused: {refuse}. It comes back when more jobs have finished." if refuse is not None else f"{take_in} counts from now on."
    return learn_from_jobs(learning.folder, learning.lists, learning.day), (done,)


def learning_document(learning: Learning, said: Sequence[str]) -> dict[str, Any]:
    """What the jobs teach as plain data: `lessons` with both intervals in the figures of the lists, `back_test`, `offers`."""
    return {
        "folder": str(learning.folder),
        "as_of": learning.day.isoformat(),
        "lists": learning.lists.folder,
        "invented": learning.invented,
        "jobs": len(learning.jobs),
        "finished": learning.finished,
        "done": list(said),
        "notes": list(learning.notes),
        "lessons": [_lesson_document(lesson) for lesson in learning.lessons],
        "back_test": [_test_document(test) for test in back_test(learning)],
        "offers": [_offers_document(share) for share in offer_shares(learning)],
    }


def _lesson_document(lesson: Lesson) -> dict[str, Any]:
    return {
        "id": lesson.subject.id,
        "name": lesson.subject.name,
        "status": lesson.status,
        "jobs": lesson.jobs,
        "took": None if lesson.ratio_of_jobs is None else lesson.figure(lesson.ratio_of_jobs),
        "listed": lesson.listed,
        "learned": lesson.figure(lesson.ratio),
        "interval_of_the_rate": _limits(lesson, "rate"),
        "interval_of_the_next_job": _limits(lesson, "next job"),
        "scatter": lesson.spread,
        "left_out": [
            {
                "job": one.observation.job,
                "expected": one.observation.expected,
                "took": one.observation.actual,
                "distance": one.distance,
                "limit": one.limit,
            }
            for one in lesson.flagged
        ],
        "changes": [
            {"file": change.file, "row": change.key, "column": change.column, "before": change.before, "after": change.after} for change in lesson.changes
        ],
        "moves": [{"row": one.driver, "name": one.name, "share_of_hours": one.share, "jobs": one.jobs} for one in lesson.moves],
        "stays": list(lesson.stays),
        "refused": None if lesson.refused is None else {"day": lesson.refused.day.isoformat(), "by": lesson.refused.who, "why": lesson.refused.why},
    }


def _limits(lesson: Lesson, of: Any) -> list[float]:
    interval = lesson.interval(of)
    return [lesson.figure(interval.low), lesson.figure(interval.high)]


def _test_document(test: BackTest) -> dict[str, Any]:
    scores = {name: {"bias": score.bias, "mean_error": score.mean_error, "coverage": score.coverage} for name, score in _scores(test)}
    return {"name": test.name, "predictions": test.predictions, **scores}


def _scores(test: BackTest) -> tuple[tuple[str, Any], ...]:
    return ("as_listed", test.before), ("learned", test.after)


def _offers_document(share: OfferShare) -> dict[str, Any]:
    margin = share.margin
    return {
        "by": share.by,
        "name": share.name,
        "decided": share.decided,
        "signed": share.signed,
        "share": share.share,
        "interval_of_the_share": None if share.signed_low is None else [share.signed_low, share.signed_high],
        "finished": share.finished,
        "margin": None if margin is None else margin.mean,
        "interval_of_the_margin": None if margin is None else [(i := margin.interval("rate")).low, i.high],
        "interval_of_the_next_job": None if margin is None else [(i := margin.interval("next job")).low, i.high],
    }


def learning_report(learning: Learning, said: Sequence[str], *, everything: bool = False) -> str:
    """What the jobs teach for people: what is proposed first, what is left out, whether it would have helped, which offers are signed."""
    page = Page()
    head = "What invented jobs teach" if learning.invented else "What finished jobs teach"
    page.title(
        f"{head}: {learning.folder if learning.folder.name else 'this folder'}",
        f"{learning.finished} of {counted(len(learning.jobs), 'job', 'jobs').text} finished, as of {format_day(learning.day)}",
        whose_lists(learning.lists),
    )
    for sentence in (*said, *learning.notes):
        page.note(sentence)
    shown: list[Lesson] = []
    for status, title in _TITLES.items():
        lessons = [lesson for lesson in learning.lessons if lesson.status == status]
        if everything or status in _SHOWN:
            page.table(title, ("About", ">Lists", ">Took", ">Learned", ">Rate itself, 90%", "=To decide"), [_row(lesson) for lesson in lessons])
            shown += lessons
    page.table("What one more job may take", ("About", ">Jobs", ">Next job, 90%", ">Scatter"), [_next_job_row(lesson) for lesson in shown])
    if shown:
        page.note(weight_words(learning.lists))
        page.note(INTERVAL_WORDS)
        moved = moved_rows(shown)
        page.table("Rates that each would move", MOVED_COLUMNS, moved)
        if moved:
            page.note(RATIO_WORDS)
    if everything:
        _show_cells(page, learning.lessons)
    _show_refused(page, learning.lessons)
    _show_left_out(page, learning.lessons, learning.lists)
    _show_tests(page, back_test(learning))
    _show_offers(page, offer_shares(learning))
    page.note(_next_words(learning, everything=everything))
    return page.text()


def _row(lesson: Lesson) -> tuple[str, ...]:
    """Figures without the unit of days, which stands beside what they are about: there are many of them in a row."""
    days = ", in days" if lesson.subject.kind == "days" else ""
    figures = (figure_words(lesson, 1.0), took_words(lesson), figure_words(lesson, lesson.ratio), interval_words(lesson, lesson.interval("rate")))
    about = f"{lesson_words(lesson)} ({counted(len(lesson.used), 'job', 'jobs').text}{days})"
    return about, *(figure.removesuffix(" days") for figure in figures), lesson.subject.id


def _next_job_row(lesson: Lesson) -> tuple[str, ...]:
    return lesson_words(lesson), str(lesson.jobs), interval_words(lesson, lesson.interval("next job")), f"x {lesson.spread:.2f}"


def _show_cells(page: Page, lessons: Iterable[Lesson]) -> None:
    rows = [
        (change.name, change.column.replace("_", ", "), say_cell(change.before), say_cell(change.after), lesson.subject.id)
        for lesson in lessons
        if lesson.status == "proposed"
        for change in lesson.changes
    ]
    page.table("What the lists would say", ("Row", "Column", ">Now", ">Then", "By"), rows)


def _show_refused(page: Page, lessons: Iterable[Lesson]) -> None:
    for lesson in lessons:
        if lesson.status == "refused" and lesson.refused is not None:
            page.note(f"{lesson.subject.name}: refused on {format_day(lesson.refused.day)}: {lesson.refused.why}.")


def _measure_words(lesson: Lesson, amount: float, lists: Lists) -> str:
    """What was expected or took: hours, days, or an item's quantity in its unit."""
    kind, _, name = lesson.subject.id.partition("/")
    unit = {"hours": "h", "days": "days"}.get(kind) or lists.item(name).unit
    return f"{amount:.2f} {unit}"


def _show_left_out(page: Page, lessons: Iterable[Lesson], lists: Lists) -> None:
    rows = [
        (
            one.observation.job,
            lesson_words(lesson),
            _measure_words(lesson, one.observation.expected, lists),
            _measure_words(lesson, one.observation.actual, lists),
            f"{one.distance:.2f}",
            f"{one.limit:.2f}",
        )
        for lesson in lessons
        for one in lesson.flagged
    ]
    page.table(
        "Left out as outliers (Grubbs's test): check the time sheets",
        ("Job", "About", ">Expected", ">Took", ">Std. devs. off", ">Limit"),
        rows,
    )
    if rows:
        page.note("If it really happened and could happen again, count it: sinkset learn FOLDER --take-in JOB --why TEXT.")


def _show_tests(page: Page, tests: Sequence[BackTest]) -> None:
    rows = [
        (f"{test.name}, {words}", str(test.predictions), share_text(score.bias), share_text(score.mean_error), share_text(score.coverage))
        for test in tests
        for words, score in (("as listed", test.before), ("as learned by then", test.after))
    ]
    page.table("Would it have helped? Each job predicted from the ones before it", ("Figure", ">Cases", ">Over or under", ">Off by", ">90% held"), rows)
    if rows:
        page.note(
            "Over or under: how far the predictions run too high or, with a minus, too low, on average. Off by: how far one lies off, to"
            " either side, on average. 90% held: how often the figure lay in the range given for it."
        )


def _show_offers(page: Page, shares: Sequence[OfferShare]) -> None:
    rows = []
    for one in shares:
        margin = ("-", "-", "-") if one.margin is None else (share_text(one.margin.mean), *(_shares(one.margin.interval(of)) for of in ("rate", "next job")))
        if one.signed_low is not None and one.signed_high is not None:
            rows.append(
                (
                    f"Mount: {mount_words(one.name)}" if one.by == "mount" else f"Countertop: {one.name}",
                    f"{one.signed} of {one.decided}",
                    f"{one.signed_low:.0%} to {one.signed_high:.0%}",
                    *margin,
                )
            )
    columns = ("Offers", ">Signed", ">Share, 90%", ">Margin", ">Margin itself, 90%", ">Next job, 90%")
    page.table("Which offers get signed, and what they leave over direct cost", columns, rows)


def _shares(interval: Interval) -> str:
    return f"{interval.low:.1%} to {interval.high:.1%}"


def _next_words(learning: Learning, *, everything: bool) -> str:
    if not learning.finished:
        return "No job of this folder has finished yet: there is nothing to learn from."
    counts = {status: sum(lesson.status == status for lesson in learning.lessons) for status in _TITLES}
    least = learning.lists.company.learn_from_jobs
    rest = f"Not clear yet: {counts['not clear']}. As the lists say: {counts['as listed']}. Seen in fewer than {least} jobs: {counts['too few jobs']}."
    more = "" if everything or not learning.lessons else " --all shows them."
    if not counts["proposed"]:
        return f"Nothing is proposed. {rest}{more}"
    first = next(lesson.subject.id for lesson in learning.lessons if lesson.status == "proposed")
    return f"{rest}{more} Next: sinkset learn FOLDER --accept {first} --by NAME, or --refuse {first} --why TEXT."
