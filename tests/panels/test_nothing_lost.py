"""Nothing is lost or written over behind a person's back: unsaved work, files and lists that others change, disks that refuse."""

import datetime as dt
import errno
import shutil
import threading
from pathlib import Path

import pytest
from turning import control

import kit
from kit.errors import KitError
from kit.issued import open_issued
from kit.job import change_job, write_job
from kit.money import format_money
from kit.panels import Estimator, Owner
from kit.whole_files import explain_os_error, replace_file

EXAMPLES = kit.shipped("examples")
STONE, LAMINATE = "stone_apron_single_bowl.toml", "laminate_top_mount.toml"
DAY = dt.date(2026, 3, 4)


@pytest.fixture
def jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The jobs folder of a person's own folder, with two jobs and lists of their own."""
    monkeypatch.setattr(Path, "home", lambda: tmp_path / "home")
    shutil.copytree(kit.shipped("price_lists"), tmp_path / "mine" / "price_lists")
    folder = tmp_path / "mine" / "jobs"
    folder.mkdir()
    for name in (STONE, LAMINATE):
        shutil.copy(EXAMPLES / name, folder / name)
    return folder


@pytest.fixture
def screen(jobs: Path) -> Estimator:
    """The first of them, open."""
    made = Estimator(folder=jobs)
    made.open(STONE)
    return made


def type_width(screen: Estimator, typed: str) -> None:
    """Type the cabinet's width and come to rest."""
    control(screen, "cabinet.width").value = typed
    screen.state.settle()


def change_on_disk(jobs: Path, name: str, changes: dict[str, str]) -> None:
    """What another person, window or editor does."""
    write_job(change_job(kit.read_job(jobs / name), changes), jobs / name)


def make_dearer(jobs: Path) -> None:
    """A higher wage in the person's own lists."""
    path = jobs.parent / "price_lists" / "company.csv"
    path.write_text(path.read_text(encoding="utf-8").replace("wage,34.00", "wage,61.00"), encoding="utf-8")


def fail_writing(monkeypatch: pytest.MonkeyPatch, number: int, folder: Path) -> None:
    """The system refuses every file of a folder."""
    from kit import whole_files

    honest = whole_files.tempfile.mkdtemp

    def refuse(*given, **more):
        if Path(more["dir"]).is_relative_to(folder):
            raise OSError(number, "as the system says", str(folder))
        return honest(*given, **more)

    monkeypatch.setattr(whole_files.tempfile, "mkdtemp", refuse)


# --- one history a file; what is unsaved is asked about


def test_undo_never_brings_another_file_back(screen, jobs):
    """After Open there is nothing to undo, so Save can't write one customer's job into another's file."""
    screen.desk.open(LAMINATE)
    screen.state.undo()
    screen.save()
    assert not screen.state.can_undo
    assert kit.read_job(jobs / LAMINATE) == kit.read_job(EXAMPLES / LAMINATE)


@pytest.mark.parametrize(
    ("answer", "hand_width", "hand_kept"), [("Save it first", 39.0, False), ("Keep it for later", 36.0, True), ("Discard it", 36.0, False)]
)
def test_open_asks_what_is_to_become_of_unsaved_work(screen, jobs, answer, hand_width, hand_kept):
    """Nothing is opened until it is said; what was dropped stays dropped, what was kept is offered when its file is opened again."""
    type_width(screen, "39")
    screen.open(LAMINATE)
    assert f"{STONE} has unsaved work" in screen.desk.question.text.value
    assert screen.job.cabinet.width_in == 39.0
    screen.desk.question.answer(answer)
    assert screen.job == kit.read_job(jobs / LAMINATE)
    assert kit.read_job(jobs / STONE).cabinet.width_in == hand_width
    again = Estimator(folder=jobs)
    assert again.job == kit.read_job(jobs / LAMINATE)
    again.open(STONE)
    assert again.job.cabinet.width_in == hand_width
    assert ("There is unsaved work" in again.desk.question.text.value) == hand_kept
    if hand_kept:
        assert "<td>36 in</td><td>39 in</td>" in again.desk.question.text.value.replace("<td>39 in</td><td>36 in</td>", "")
        assert ">Unsaved</th>" in again.desk.question.text.value  # what is on the screen is the file
        assert "On the screen" not in again.desk.question.text.value
        again.desk.question.answer("Open it")
        assert again.job.cabinet.width_in == 39.0


def test_stay_here_changes_nothing(screen):
    """The job stays on the screen, unsaved as it was."""
    type_width(screen, "39")
    screen.open(LAMINATE)
    screen.desk.question.answer("Stay here")
    assert (screen.job.cabinet.width_in, screen.desk.name, screen.desk.unsaved) == (39.0, STONE, True)


def test_a_reload_returns_to_the_job_that_was_open(screen, jobs):
    """Neither a leftover of another job nor an example; refused entries are in their fields again."""
    type_width(screen, "39")
    screen.open(LAMINATE)
    screen.desk.question.answer("Keep it for later")
    assert Estimator(folder=jobs).desk.name == LAMINATE
    type_width(screen, "37 3/8")
    control(screen, "cabinet.height").value = "500"
    again = Estimator(folder=jobs)
    assert (again.desk.name, again.job.cabinet.width_in) == (LAMINATE, 37.375)
    assert control(again, "cabinet.height").value == "500 in"
    assert "Sink base height" in again.faults.value


def test_what_is_typed_is_remembered_with_the_job_that_is_open(screen, jobs):
    """From the first moment, after Open, and under another name: or it would be offered back into another customer's job, or not at all."""
    assert Estimator(folder=jobs).connection.file == STONE
    assert screen.connection.file == STONE
    screen.open(LAMINATE)
    assert screen.connection.file == LAMINATE
    screen.start.name.value = "another.toml"
    assert screen.connection.file == "another.toml"
    offered = screen.desk.question
    screen.connection.offered({"cabinet.width": ("40", STONE)})
    assert offered.answers == {}
    screen.connection.offered({"cabinet.width": ("40", "another.toml")})
    assert list(offered.answers) == ["Put it back", "Discard it"]


@pytest.mark.parametrize("content", [None, "[cabinet"])
def test_a_reload_says_that_the_job_that_was_open_is_gone(screen, jobs, content):
    """Or can't be read: the screen starts from the example, with no word of it lost and with no other customer's unsaved work in its place."""
    type_width(screen, "39")
    screen.open(LAMINATE)
    screen.desk.question.answer("Keep it for later")
    (jobs / LAMINATE).unlink()
    if content:
        (jobs / LAMINATE).write_text(content, encoding="utf-8")
    again = Estimator(folder=jobs)
    assert again.desk.opened == "examples/stone_apron_single_bowl.toml"
    assert f"{LAMINATE} was open and can&#x27;t be opened again" in again.note.box.value
    assert "role='alert'" in again.note.box.value
    again.open(STONE)
    assert "There is unsaved work" in again.desk.question.text.value


def test_each_window_returns_to_what_it_had_open_itself(jobs, monkeypatch):
    """A page is told its window by its address. Each has its job, its unsaved work and its view; a new one goes on where somebody worked last."""

    def load(window: str) -> Estimator:
        monkeypatch.setenv("QUERY_STRING", f"token=x&window={window}" if window else "token=x")
        return Estimator(folder=jobs)

    one, two = load("00000001"), load("00000002")
    one.open(STONE)
    type_width(one, "39")
    two.open(LAMINATE)
    type_width(two, "40")
    two.look_on(customer=True)
    again, second, third = load("00000001"), load("00000002"), load("")
    assert (again.desk.name, again.job.cabinet.width_in, again.looked_on) == (STONE, 39.0, False)
    assert (second.desk.name, second.job.cabinet.width_in, second.looked_on) == (LAMINATE, 40.0, True)
    assert (third.desk.name, third.looked_on) == (LAMINATE, True)
    assert third.connection.window not in {"", "00000001", "00000002"}
    again.open(LAMINATE)
    assert load(third.connection.window).desk.name == LAMINATE


def test_each_window_on_one_job_returns_to_its_own_unsaved_work(jobs, monkeypatch):
    """Not to what the other window typed later; a window that had nothing unsaved is offered what the other one has."""

    def load(window: str) -> Estimator:
        monkeypatch.setenv("QUERY_STRING", f"window={window}")
        return Estimator(folder=jobs)

    screens = [load(window) for window in ("00000001", "00000002", "00000003")]
    for screen in screens:
        screen.open(STONE)
    type_width(screens[0], "39")
    type_width(screens[1], "42")
    assert [load(window).job.cabinet.width_in for window in ("00000001", "00000002", "00000003")] == [39.0, 42.0, 36.0]
    assert "There is unsaved work" in load("00000003").desk.question.text.value


@pytest.mark.parametrize("looked_on", [False, True])
def test_a_duplicated_tab_keeps_what_it_shows_under_a_name_of_its_own(jobs, monkeypatch, looked_on):
    """Its address names the first one's window, until that says that it is taken: what is discarded there, or opened, moves nothing here."""

    def load(window: str) -> Estimator:
        monkeypatch.setenv("QUERY_STRING", f"window={window}")
        return Estimator(folder=jobs)

    one = load("00000001")
    one.open(STONE)
    type_width(one, "39")
    one.look_on(customer=looked_on)
    two = load("00000001")
    two.connection._receive(None, {"type": "taken"}, [])
    assert two.connection.window != "00000001"
    one.look_on(customer=False)
    one.open(LAMINATE)
    one.desk.question.answer("Discard it")
    again = load(two.connection.window)
    assert (again.desk.name, again.job.cabinet.width_in, again.looked_on) == (STONE, 39.0, looked_on)
    assert load("00000001").desk.name == LAMINATE


def test_an_example_that_is_kept_for_later_can_be_opened_again(jobs):
    """It has no file yet, but its work stands in the list."""
    screen = Estimator(folder=jobs)
    type_width(screen, "39")
    screen.open(STONE)
    screen.desk.question.answer("Keep it for later")
    assert "my_job.toml" in [file for _, file in screen.start.choice.options]
    screen.open("my_job.toml")
    assert screen.job.cabinet.width_in == 39.0


def test_a_new_job_is_there_after_a_reload(jobs):
    """Also before anything is typed."""
    screen = Estimator(folder=jobs)
    screen.start.start()
    again = Estimator(folder=jobs)
    assert (again.job, again.desk.name) == (screen.job, screen.desk.name)


def test_a_new_job_of_which_nothing_is_typed_is_left_without_a_question(jobs):
    """Nothing of it stays behind."""
    screen = Estimator(folder=jobs)
    screen.start.start()
    screen.open(STONE)
    assert screen.desk.name == STONE
    assert not list(jobs.glob(".*.kept*"))


def test_undone_work_is_not_kept(screen, jobs):
    """What was taken back to the saved job leaves no copy."""
    type_width(screen, "39")
    screen.state.undo()
    screen.state.settle()
    assert not list(jobs.glob(".*.kept*"))


# --- two windows, two people, an editor


def test_save_shows_what_somebody_else_changed(screen, jobs):
    """The fields that differ, with both values; nothing is written until it is said whose stands."""
    type_width(screen, "39")
    change_on_disk(jobs, STONE, {"site.carry": "120 ft", "cabinet.width": "38 in"})
    screen.save()
    asked = screen.desk.question.text.value
    assert "was changed on disk since" in asked
    assert "<th scope='row'>Walk from truck to kitchen</th><td>120 ft</td><td>70 ft</td>" in asked
    assert "<th scope='row'>Sink base width</th><td>38 in</td><td>39 in</td>" in asked
    assert kit.read_job(jobs / STONE).cabinet.width_in == 38.0


def test_whose_job_stands_is_a_choice(screen, jobs):
    """Theirs (mine comes back with undo), mine over it, or mine under another name."""
    type_width(screen, "39")
    change_on_disk(jobs, STONE, {"cabinet.width": "38 in"})
    screen.save()
    screen.desk.question.answer("Take what is in the file")
    assert (screen.job.cabinet.width_in, screen.desk.unsaved) == (38.0, False)
    screen.state.undo()
    change_on_disk(jobs, STONE, {"cabinet.width": "40 in"})
    screen.save()
    screen.desk.question.answer("Save mine under another name")
    free = STONE.replace(".toml", "_2.toml")
    assert (kit.read_job(jobs / STONE).cabinet.width_in, kit.read_job(jobs / free).cabinet.width_in, screen.start.name.value) == (40.0, 39.0, free)
    screen.start.name.value = STONE
    screen.save()
    screen.desk.question.answer("Write mine over it")
    assert kit.read_job(jobs / STONE).cabinet.width_in == 39.0


def test_a_file_that_is_no_job_any_more_is_not_offered_to_be_written_over(screen, jobs):
    """An answer that would be refused is none; under another name the work is saved."""
    type_width(screen, "39")
    (jobs / STONE).write_text("[cabinet", encoding="utf-8")
    screen.save()
    assert list(screen.desk.question.answers) == ["Save mine under another name", "Not now"]
    screen.desk.question.answer("Save mine under another name")
    assert (screen.desk.name, screen.desk.unsaved, (jobs / STONE).read_text(encoding="utf-8")) == (STONE.replace(".toml", "_2.toml"), False, "[cabinet")


def test_a_comment_of_somebody_else_is_no_conflict(screen, jobs):
    """It stays in the file, and nothing is asked."""
    (jobs / STONE).write_text("# call first\n" + (jobs / STONE).read_text(encoding="utf-8"), encoding="utf-8")
    type_width(screen, "39")
    screen.save()
    assert (screen.desk.question.answers, (jobs / STONE).read_text(encoding="utf-8").startswith("# call first")) == ({}, True)


def test_two_windows_keep_their_unsaved_work_apart(jobs):
    """Neither writes over the other's copy; each saves with a question."""
    one, two = Estimator(folder=jobs), Estimator(folder=jobs)
    for screen, width in ((one, "39"), (two, "42")):
        screen.open(STONE)
        type_width(screen, width)
    assert {kit.read_job(path).cabinet.width_in for path in jobs.glob(".*.kept*")} == {39.0, 42.0}
    one.save()
    two.save()
    assert (kit.read_job(jobs / STONE).cabinet.width_in, bool(two.desk.question.answers)) == (39.0, True)


def test_issue_refuses_a_job_that_others_changed(screen, jobs):
    """Nothing goes out until it is said whose job stands."""
    change_on_disk(jobs, STONE, {"cabinet.width": "38 in"})
    with pytest.raises(KitError, match=r"Nothing is issued yet: [a-z_]*[.]toml was changed on disk"):
        screen.issue()
    assert "Take what is in the file" in screen.desk.question.answers


def test_lists_that_changed_are_read_anew_and_said_before_issue(screen, jobs):
    """The first press says both prices and issues nothing; the second one goes on with the new price."""
    before = screen.estimate.price
    make_dearer(jobs)
    screen.desk.note.guard(screen.issue)(None)
    after = kit.estimate(kit.read_job(jobs / STONE), kit.load_lists(jobs.parent / "price_lists")).price
    assert after != before
    assert screen.shown_price == format_money(after)
    assert f"the price was {format_money(before)} and is {format_money(after)} now" in screen.note.box.value.replace("&#x27;", "'")
    assert not list(jobs.glob("*.json"))
    screen.promise._day = DAY
    screen.issue()
    assert open_issued(next(jobs.glob("*-r01.json"))).price == after


def test_lists_that_changed_are_seen_at_the_next_change(screen, jobs):
    """Without a restart; faulty ones leave those in use that were read before, and say so until they are mended."""
    make_dearer(jobs)
    type_width(screen, "39")
    assert "price lists on disk have changed" in screen.note.box.value
    path = jobs.parent / "price_lists" / "rates.csv"
    sound = path.read_text(encoding="utf-8")
    path.write_text(sound.replace("0.15 h", "a while", 1), encoding="utf-8")
    type_width(screen, "39 1/4")
    assert "so the ones read before stay in use" in screen.desk.warning.value
    with pytest.raises(KitError, match="Nothing is issued yet"):
        screen.issue()
    path.write_text(sound, encoding="utf-8")
    type_width(screen, "39 1/2")
    assert screen.desk.warning.value == ""


def test_compare_sees_lists_anew(jobs):
    """The owner presses Compare once more, without a restart."""
    change_on_disk(jobs, STONE, {"terms.profit": "12.25 %"})
    owner = Owner(STONE, folder=jobs)
    assert (owner.profit.text, owner.profit.at) == ("12.25%", 12.25)  # between two steps of the slider, and not rounded to one
    make_dearer(jobs)
    owner.open(STONE)
    own = next(option for option in owner.options if option.chosen)
    assert "The price lists have changed since." in owner.note.box.value
    assert own.estimate.price == kit.estimate(kit.read_job(jobs / STONE), kit.load_lists(jobs.parent / "price_lists")).price


# --- names and disks


@pytest.mark.parametrize(("typed", "hand_name"), [("smith", "smith.toml"), ("Smith 2. floor", "Smith 2. floor.toml"), ("smith.TOML", "smith.toml")])
def test_a_name_gets_its_ending(screen, jobs, typed, hand_name):
    """The box shows the name that was written."""
    screen.start.name.value = typed
    screen.save()
    assert (screen.start.name.value, (jobs / hand_name).exists()) == (hand_name, True)


@pytest.mark.parametrize(("number", "hand_words"), [(errno.EROFS, "the disk is read-only"), (errno.ENOSPC, "the disk is full. Free some space")])
def test_a_disk_that_refuses_is_said_in_words_and_work_is_kept_elsewhere(screen, jobs, monkeypatch, number, hand_words):
    """Save says why; unsaved work goes into the person's home until the folder takes it again, and is back after a new start."""
    fail_writing(monkeypatch, number, jobs)
    type_width(screen, "39")
    assert "Unsaved work is kept in" in screen.desk.warning.value
    assert hand_words in screen.desk.warning.value
    screen.desk.note.guard(screen.save)(None)
    assert f"{STONE} is not saved: {hand_words}" in screen.note.box.value
    assert "Errno" not in screen.note.box.value + screen.desk.warning.value
    again = Estimator(folder=jobs)
    assert (again.desk.name, again.job.cabinet.width_in) == (STONE, 39.0)
    monkeypatch.undo()
    monkeypatch.setattr(Path, "home", lambda: jobs.parent.parent / "home")
    type_width(screen, "39 1/4")
    assert screen.desk.warning.value == ""


def test_work_that_can_be_kept_nowhere_is_said_until_it_can(screen, jobs, tmp_path, monkeypatch, sent):
    """The page is to stay open, and it is tried again by itself; every try is heard of, so that no server takes the kernel for idle and ends it.

    The browser, too, remembers what was typed until it is on a disk.
    """
    copies = screen.connection.copies
    fail_writing(monkeypatch, errno.ENOSPC, tmp_path)
    type_width(screen, "39")
    assert screen.connection.copies == copies
    assert "can&#x27;t be saved for now: the disk is full" in screen.desk.warning.value
    assert "keep this page open" in screen.desk.warning.value
    retry = screen.files.keeper._retry
    sent.clear()
    retry.function(*retry.args)
    assert sent
    retry = screen.files.keeper._retry
    monkeypatch.undo()
    retry.function(*retry.args)
    assert screen.desk.warning.value == ""
    retry.cancel()


def test_every_refusal_of_the_system_has_words():
    """What has none says what the system says, without its number."""
    assert (
        explain_os_error(OSError(errno.EACCES, "Permission denied")) == "the folder can't be written to. Get permission to write there, or use another folder"
    )
    assert explain_os_error(OSError(errno.EBADF, "Bad file descriptor")) == "Bad file descriptor"


# --- one job or list at fault does not break a page


def test_a_job_that_can_not_be_priced_is_said_and_another_opens(screen, jobs):
    """The estimator starts from something else, the owner lists the reason."""
    change_on_disk(jobs, STONE, {"prices": "../gone"})
    again = Estimator(folder=jobs)
    assert f"{STONE} can&#x27;t be priced" in again.note.box.value
    assert again.shown_price
    owner = Owner(STONE, folder=jobs)
    assert "Price lists: &quot;../gone&quot; is not a folder" in owner.note.box.value
    with pytest.raises(KitError, match="nothing to save: press Compare first"):
        owner.save()


def test_faulty_lists_do_not_break_the_page(screen, jobs):
    """The kit's invented lists stand in, which is said; nothing is issued with them without a reason; mended ones are used at the next change."""
    path = jobs.parent / "price_lists" / "rates.csv"
    sound = path.read_text(encoding="utf-8")
    path.write_text(sound.replace("0.15 h", "a while", 1), encoding="utf-8")
    again = Estimator(folder=jobs, day=DAY)
    assert again.desk.name == STONE
    assert "invented ones are used for now" in again.desk.warning.value
    assert again.desk.fell_back
    path.write_text(sound, encoding="utf-8")
    type_width(again, "39")
    assert (again.desk.warning.value, again.desk.fell_back) == ("", False)


def test_an_alternate_is_saved_with_its_terms_as_a_job_of_its_own(jobs):
    """Its name says which job was compared, also when another is chosen since; its number is free, its price is the one that was shown."""
    owner = Owner(STONE, folder=jobs)
    owner._open.value = LAMINATE
    owner.profit.move(20)
    owner.overhead.move(25)
    option = next(option for option in owner.options if option.id == owner.second.value)
    owner.settle()
    with owner.working.lock:  # the trials go on in the background
        shown = owner.figures[option.id].price
    owner.save()
    made = kit.read_job(jobs / f"stone_apron_single_bowl_{option.id}.toml")
    number = kit.read_job(jobs / STONE).identity.job_number
    assert (made.identity.job_number, made.terms.profit_share, made.terms.overhead_share) == (f"{number}-2", 0.2, 0.25)
    assert kit.estimate(made, kit.load_lists(jobs.parent / "price_lists")).price == shown
    owner.save()
    assert kit.read_job(jobs / f"stone_apron_single_bowl_{option.id}_2.toml").identity.job_number == f"{number}-3"


# --- writing what is kept


class SlowDisk:
    """A disk that takes its time: whatever is written waits until it is let go on."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.busy, self.goes_on = threading.Event(), threading.Event()
        monkeypatch.setattr("kit.panels.keeping.replace_file", self._replace)

    def _replace(self, path: Path, content: bytes) -> None:
        self.busy.set()
        assert self.goes_on.wait(60)
        replace_file(path, content)


def widths_kept(jobs: Path) -> list[float]:
    """The cabinet's width in each kept copy."""
    return [kit.read_job(path).cabinet.width_in for path in jobs.glob(".*.kept*")]


def test_an_entry_does_not_wait_for_the_disk(screen, jobs, monkeypatch):
    """While the disk is slow with what is kept, the next entry is priced; it is kept in its turn."""
    disk = SlowDisk(monkeypatch)
    control(screen, "cabinet.width").value = "39"  # comes to rest by itself, in another thread
    assert disk.busy.wait(60)
    price = screen.state.estimate.price
    entry = threading.Thread(target=screen.state.change, args=({"terms.overhead": "31 %"},), daemon=True)
    entry.start()
    entry.join(30)
    assert (entry.is_alive(), screen.state.estimate.price == price) == (False, False)
    disk.goes_on.set()
    screen.state.settle()
    assert widths_kept(jobs) == [39.0]
    (path,) = jobs.glob(".*.kept*")
    assert kit.read_job(path) == screen.job


def test_save_leaves_no_kept_copy_behind_a_slow_disk(screen, jobs, monkeypatch):
    """What is still being written when Save is pressed is dropped with the rest."""
    disk = SlowDisk(monkeypatch)
    control(screen, "cabinet.width").value = "39"
    assert disk.busy.wait(60)
    save = threading.Thread(target=screen.save, daemon=True)
    save.start()
    save.join(0.2)
    disk.goes_on.set()
    save.join(60)
    assert (save.is_alive(), widths_kept(jobs), kit.read_job(jobs / STONE).cabinet.width_in) == (False, [], 39.0)
