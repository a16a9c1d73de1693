"""Opening, saving, and the copy that is kept: nothing is lost, nothing outside the folder is touched."""

import datetime as dt
import shutil
from pathlib import Path

import ipywidgets as widgets
import pytest
from turning import control, walk

import kit
from kit.errors import KitError
from kit.money import format_money
from kit.panels import Estimator
from kit.panels.job_files import JobFiles

EXAMPLES = kit.shipped("examples")


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """The jobs folder of a person's own folder."""
    return tmp_path / "mine" / "jobs"


def press_issue(screen: Estimator, reason: str = "") -> str:
    screen.promise.reason.value = reason
    screen.promise.note.guard(screen.issue)(None)
    return screen.promise.note.box.value


def test_unsaved_work_is_back_after_a_new_start(jobs):
    """What was changed but not saved is on the screen of the next kernel, under its name."""
    screen = Estimator(folder=jobs)
    control(screen, "cabinet.width").value = "37 3/8"
    screen.state.settle()
    again = Estimator(folder=jobs)
    assert again.job == screen.job
    assert "Unsaved work on my_job.toml is back" in again.note.box.value


def test_what_was_kept_before_is_not_read_to_keep_what_came_after(jobs, monkeypatch):
    """The kept copy is the screen's own: it is written anew, whole, and holds the job as typed last."""
    screen = Estimator(folder=jobs)
    for change in ({"cabinet.width": "37 3/8 in"}, {"cabinet.width": "39 in", "identity.note": 'a "quoted" note'}):
        screen.state.change(change)
        screen.state.settle()
        assert kit.read_job(jobs / ".my_job.kept.toml") == screen.job
        monkeypatch.delattr("tomlkit.parse", raising=False)
    assert screen.job.cabinet.width_in == 39.0
    assert screen.desk.warning.value == ""


def test_a_saved_job_leaves_no_kept_copy(jobs):
    """After Save there is nothing unsaved; the next screen has the job that was open."""
    screen = Estimator(folder=jobs)
    control(screen, "cabinet.width").value = "37 3/8"
    screen.state.settle()
    screen.save()
    assert sorted(path.name for path in jobs.iterdir()) == [".at_work", "my_job.toml"]
    again = Estimator(folder=jobs)
    assert (again.job, again.desk.unsaved) == (screen.job, False)


def test_opening_a_screen_writes_nothing(jobs):
    """Only a change is kept."""
    Estimator(folder=jobs).state.settle()
    assert not jobs.exists()


def test_an_example_is_saved_under_a_name_of_its_own(jobs):
    """Opening an example proposes a free name in the own folder; the example stays as it is."""
    screen = Estimator(folder=jobs)
    screen.open("examples/laminate_top_mount.toml")
    screen.save()
    assert kit.read_job(jobs / "laminate_top_mount.toml") == screen.job
    screen.open("examples/laminate_top_mount.toml")
    assert screen.start.name.value == "laminate_top_mount_2.toml"


@pytest.mark.parametrize("name", ["../out.toml", "/etc/passwd", "..\\out.toml", ".toml", "job.txt", "", ".hidden.toml", "a/b.toml"])
def test_a_name_leads_nowhere_else(jobs, name):
    """Only plain file names of job files are taken; the refusal says how one looks."""
    with pytest.raises(KitError, match=r'is not a plain file name that ends in [.]toml[.] Give one such as "my_job[.]toml": no slash, no dot in front'):
        JobFiles(jobs).path(name)


def test_a_name_of_a_windows_device_is_not_taken(jobs):
    """A folder may be shared with such a machine; a name that only begins like one is a name."""
    for name in ("CON", "con.toml", "Lpt1.toml", "nul.job.toml"):
        with pytest.raises(KitError, match="Windows keeps the name"):
            JobFiles(jobs).path(name)
    assert JobFiles(jobs).path("contract").name == "contract.toml"


def test_a_link_leads_nowhere_else(jobs, tmp_path):
    """A link in the folder is not followed out of the person's own folder."""
    jobs.mkdir(parents=True)
    shutil.copy(EXAMPLES / "laminate_top_mount.toml", tmp_path / "outside.toml")
    (jobs / "inside.toml").symlink_to(tmp_path / "outside.toml")
    with pytest.raises(KitError, match="leads out of this folder"):
        JobFiles(jobs).open("inside.toml")


def test_price_lists_outside_the_own_folder_are_refused(jobs, tmp_path):
    """A job on the screen can't make the kit read lists from elsewhere; those of the own folder can be chosen."""
    for place in (tmp_path / "elsewhere", jobs.parent / "old_lists"):
        shutil.copytree(kit.shipped("price_lists"), place)
    screen = Estimator(EXAMPLES / "stone_apron_single_bowl.toml", folder=jobs)
    screen._changed({"prices": "../../elsewhere"})
    assert "leads out of your own folder" in screen.faults.value
    assert ("old_lists", "../old_lists") in control(screen, "prices").options
    control(screen, "prices").value = "../old_lists"
    assert screen.faults.value == ""
    assert screen.state.lists.folder == "old_lists"


def test_lists_beside_the_jobs_folder_are_used(jobs):
    """The screen prices with the lists that `sinkset estimate` would take for the saved file."""
    lists = shutil.copytree(kit.shipped("price_lists"), jobs.parent / "price_lists")
    text = (lists / "company.csv").read_text().replace("wage,34.00", "wage,61.00")
    (lists / "company.csv").write_text(text)
    screen = Estimator(folder=jobs)
    assert str(screen.state.lists.company.wage) == "61.00"


def test_issue_freezes_the_estimate(jobs):
    """Issuing writes a revision that opens with the same price; a stop asks for its reason first."""
    from kit.issued import open_issued

    jobs.parent.mkdir()
    (jobs.parent / "price_lists").symlink_to(kit.shipped("price_lists"))
    screen = Estimator(folder=jobs, day=dt.date(2026, 3, 4))
    assert "Issued as DEMO-001-r01.json" in press_issue(screen)
    assert open_issued(jobs / "DEMO-001-r01.json").estimate.price == screen.estimate.price
    control(screen, "sink.mount").value = "top"
    assert "says stop" in press_issue(screen)
    assert "Issued as DEMO-001-r02.json" in press_issue(screen, "the maker agreed in writing")


def test_lists_that_were_not_found_are_said_at_issue(jobs):
    """A renamed folder of lists does not send out invented prices in silence; a reason does, and every issue says whose lists."""
    screen = Estimator(folder=jobs, day=dt.date(2026, 3, 4))
    assert "Was yours renamed or moved?" in press_issue(screen)
    assert not list(jobs.glob("*.json"))
    assert "Price lists: the invented ones of the kit" in press_issue(screen, "only to try it")


def test_a_workbook_is_made_of_the_job_on_the_screen(jobs):
    """The download has the job's name; a name that is none is said and gives no file."""
    screen = Estimator(folder=jobs)
    sent = []
    screen.papers.view.send = lambda message, buffers=None: sent.append((message["name"], buffers[0][:2]))
    screen.papers.make("Workbook")
    assert sent == [("my_job.xlsx", b"PK")]
    screen.start.name.value = "../x"
    with pytest.raises(KitError, match=r'"../x.toml" is not a plain file name'):
        screen.papers.make("Workbook")
    assert len(sent) == 1


def test_a_folder_whose_examples_are_gone_starts_from_another(tmp_path):
    """The first example may be thrown away, and all of them: the screen starts from what is there, or from the kit's own."""
    from kit.panels.job_files import FIRST_EXAMPLE, JobFiles
    from kit.shipped_files import shipped

    examples = tmp_path / "examples"
    examples.mkdir()
    files = JobFiles(tmp_path / "jobs")
    assert files.first() == FIRST_EXAMPLE
    (examples / "other.toml").write_bytes((shipped("examples") / "laminate_top_mount.toml").read_bytes())
    assert files.first() == "examples/other.toml"
    assert Estimator(folder=tmp_path / "jobs").job.counter.material == "laminate"


def test_a_job_saved_after_the_signature_can_be_priced_as_a_change(tmp_path):
    """On the estimator's screen it is chosen once it is saved; what is not saved isn't in its file, and is not priced; what is priced goes with a change."""
    screen = Estimator(kit.shipped("examples") / "wood_apron_two_bowl.toml", kit.load_lists(kit.shipped("price_lists")), tmp_path / "jobs")
    screen.promise.reason.value = "An invented example"
    screen.promise.issue()
    screen.promise.contract.sign()
    inside = list(walk(screen.promise.box))
    choice = next(one for one in inside if isinstance(one, widgets.Dropdown) and one.description == "Changed job")
    words = next(one for one in inside if isinstance(one, widgets.HTML) and "no job file with the change" in one.value)
    assert "Change the job on this screen and save it: then it can be chosen here." in words.value
    control(screen, "site.carry").value = "190 ft"
    screen.save()
    assert (list(dict(choice.options).values()), choice.layout.display, words.value) == (["wood_apron_two_bowl.toml"], "", "")
    price, write = (next(one for one in inside if getattr(one, "description", "") == name) for name in ("Price the change", "Write the change order"))
    said = [one for one in inside if isinstance(one, widgets.HTML)]
    control(screen, "site.carry").value = "200 ft"
    screen.state.settle()
    price.click()
    assert "has unsaved work: save it first." in "".join(one.value for one in said)
    screen.save()
    price.click()
    assert ("Change order 1: $" in "".join(one.value for one in said), write.disabled) == (True, False)
    control(screen, "site.carry").value = "210 ft"
    screen.save()
    assert ("Change order 1: $" in "".join(one.value for one in said), write.disabled) == (False, True)


def test_a_contract_beside_another_price_says_which_is_which(tmp_path):
    """Nothing is said while they agree, nor before the signature; the job's change asks for a change order, one that was signed at another sum for none.

    There is no second proposal with the price of the job as it stands, neither before the change order is signed nor after.
    """

    def proposal() -> tuple[bool, str]:
        return screen.papers.buttons["Proposal"].disabled, screen.papers.waits.value

    says = "The contract under DEMO-002 is signed, and this job is not what its proposal says. A change goes to the customer as a change order."
    no_more = (True, f"<p>{says}</p>")
    screen = Estimator(kit.shipped("examples") / "wood_apron_two_bowl.toml", kit.load_lists(kit.shipped("price_lists")), tmp_path / "jobs")
    signed = format_money(screen.estimate.price)
    screen.promise.reason.value = "An invented example"
    screen.promise.issue()
    control(screen, "site.carry").value = "190 ft"
    assert screen.promise.stands.value == ""
    screen.state.undo()
    screen.promise.contract.sign()
    assert (screen.promise.stands.value, proposal()) == ("", (False, ""))
    control(screen, "site.carry").value = "200 ft"
    screen.state.settle()
    assert proposal() == no_more
    price = format_money(screen.estimate.price)
    assert price != signed
    assert f"The contract stands at {signed}. The price at the top, {price}, is that of the job as it stands now" in screen.promise.stands.value
    assert "change the contract by a change order, under Changes." in screen.promise.stands.value
    screen.save()
    inside = list(walk(screen.promise.box))
    texts = [one for one in inside if isinstance(one, widgets.Text)]
    next(one for one in texts if one.description == "Why").value = "The truck stands farther away"
    next(one for one in texts if one.tooltip == "Why you issue it despite a warning; it is kept").value = "Prices stand as agreed"
    for name in ("Price the change", "Write the change order", "Customer signed the change"):
        next(one for one in inside if getattr(one, "description", "") == name).click()
    stands = format_money(screen.promise.contract.of_contract().state.contract_sum)
    assert stands not in {signed, price}  # a change order has markups of its own
    assert f"The contract stands at {stands}: that is what the customer signed. The price at the top, {price}, is what" in screen.promise.stands.value
    assert ("change order" in screen.promise.stands.value, proposal()) == (False, no_more)
    screen.look_on(customer=True)
    assert screen.promise.stands.value == ""


def test_a_reason_goes_with_its_own_job_only(tmp_path):
    """It stays while the job is worked on, and is not frozen into the next one."""
    screen = Estimator(kit.shipped("examples") / "wood_apron_two_bowl.toml", kit.load_lists(kit.shipped("price_lists")), tmp_path / "jobs")
    screen.promise.reason.value = "An invented example"
    control(screen, "site.carry").value = "190 ft"
    assert screen.promise.reason.value == "An invented example"
    screen.save()
    screen.start.start()
    assert screen.job.identity.job_number != "DEMO-002"
    assert screen.promise.reason.value == ""
