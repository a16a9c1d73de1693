"""What other lists do to the jobs on hand: prices before and after, findings that come up, and the order in which they are told."""

import shutil
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal

import pytest

import kit
from kit.errors import KitError, ListError
from kit.lists import parse_lists
from kit.records import Level
from kit.repricing import Repriced, largest_first, reprice, reprice_jobs

LISTS = kit.load_lists(kit.shipped("price_lists"))
EXAMPLES = kit.shipped("examples")


def other_lists(file, old, new):
    text = LISTS.texts[file]
    assert old in text
    return parse_lists({**LISTS.texts, file: text.replace(old, new, 1)}, "other")


@pytest.fixture(scope="module")
def jobs():
    """Two jobs on hand."""
    return {name: kit.read_job(EXAMPLES / f"{name}.toml") for name in ("stone_apron_single_bowl", "counter_stays_sink_only")}


def test_each_job_has_its_own_lists_in_use(jobs):
    """Before is the price at what the job uses now; progress is told job by job."""
    dearer = other_lists("company.csv", "wage,34.00 USD", "wage,36.00 USD")
    seen = []
    found = reprice_jobs(
        jobs, lambda job: dearer if job is jobs["counter_stays_sink_only"] else LISTS, dearer, advance=lambda done, of: seen.append((done, of))
    )
    assert [one.name for one in found] == list(jobs)
    assert found[0].before == kit.estimate(jobs["stone_apron_single_bowl"], LISTS).price
    assert found[0].after == kit.estimate(jobs["stone_apron_single_bowl"], dearer).price
    assert found[0].difference > 0
    assert found[1].difference == 0
    assert seen == [(1, 2), (2, 2)]


def test_a_finding_that_comes_up_is_told(jobs):
    """A mount that the new list no longer allows is a stop that was not there."""
    wanted = next(row for row in LISTS.texts["mounts.csv"].splitlines() if row.startswith("under,stone,"))
    new = other_lists("mounts.csv", wanted, wanted.replace(f"under,stone,{wanted.split(',')[2]}", "under,stone,stop"))
    job = {"stone": kit.read_job(EXAMPLES / "stone_apron_single_bowl.toml")}
    (found,) = reprice_jobs(job, LISTS, new)
    assert [finding.level for finding in found.news] == [Level.STOP]
    assert reprice_jobs(job, new, LISTS)[0].news == ()


def test_why_there_is_no_price_names_the_lists(jobs):
    """Lists that can't be opened now, and lists that will not serve the job."""

    def missing(job):
        raise KitError("no such folder")

    one = {"stone": jobs["stone_apron_single_bowl"]}
    (found,) = reprice_jobs(one, missing, LISTS)
    assert (found.before, found.problem) == (None, "with its lists in use: no such folder")
    assert found.after == kit.estimate(one["stone"], LISTS).price
    (found,) = reprice_jobs(one, LISTS, other_lists("prices.csv", "shim,Invented Lumber Yard,2026-01-01", "shim,Invented Lumber Yard,2027-01-01"))
    assert found.after is None
    assert found.problem.startswith("with the new lists: prices.csv")


def test_the_largest_difference_stands_first():
    """No price any more, then by size whatever the sign, then those that don't move."""
    rows = [("a", 100, 101), ("b", 100, 100), ("c", 100, None), ("d", 100, 90), ("e", 100, 105)]
    found = tuple(Repriced(name, Decimal(before), None if after is None else Decimal(after)) for name, before, after in rows)
    assert "".join(one.name for one in largest_first(found)) == "cdeab"


@pytest.fixture(scope="module")
def job_files(tmp_path_factory):
    """Eighteen job files beside their lists, one of them with lists of its own and one that is no job; and a folder of dearer lists."""
    home = tmp_path_factory.mktemp("firm")
    shutil.copytree(kit.shipped("price_lists"), home / "price_lists")
    for name, wage in (("dearer", "36.00 USD"), ("own", "35.00 USD")):
        shutil.copytree(home / "price_lists", home / name)
        company = home / name / "company.csv"
        company.write_text(company.read_text(encoding="utf-8").replace("wage,34.00 USD", f"wage,{wage}"), encoding="utf-8")
    (home / "jobs").mkdir()
    for number in range(18):
        source = sorted(EXAMPLES.glob("*.toml"))[number % 3]
        text = source.read_text(encoding="utf-8")
        (home / "jobs" / f"{number:02d}.toml").write_text('prices = "../own"\n' + text if number == 5 else text, encoding="utf-8")
    (home / "jobs" / "07.toml").write_text("no job", encoding="utf-8")
    return sorted((home / "jobs").iterdir()), home / "dearer"


@pytest.fixture(scope="module")
def wanted(job_files):
    """The answers, worked out here one after the other."""
    paths, folder = job_files
    return list(reprice(paths, folder, executor=ThreadPoolExecutor(1)))


def test_all_job_files_are_priced_at_their_lists_and_at_others(job_files, wanted):
    """Each against the lists that it uses; a file that is no job is told and holds up nothing."""
    paths, folder = job_files
    assert [one.name for one in wanted] == [str(path) for path in paths]
    assert (wanted[7].before, wanted[7].after) == (None, None)
    assert "07.toml can't be read as a job file" in wanted[7].problem
    dearer = kit.load_lists(folder)
    for number, lists in ((0, LISTS), (5, kit.load_lists(folder.parent / "own"))):
        job = kit.read_job(paths[number])
        assert (wanted[number].before, wanted[number].after) == (kit.estimate(job, lists).price, kit.estimate(job, dearer).price)
    assert wanted[0].difference > 0 < wanted[5].difference


@pytest.mark.parametrize("ahead", [1, 2, 64])
def test_own_processes_and_threads_give_the_same_in_the_same_order(job_files, wanted, ahead):
    """Whatever is handed out at once, and whoever works; an executor that was given stays open."""
    paths, folder = job_files
    if ahead == 64:
        assert list(reprice(paths, folder)) == wanted
    with ThreadPoolExecutor(3) as threads:
        assert list(reprice(iter(paths), folder, executor=threads, ahead=ahead)) == wanted
        assert threads.submit(len, paths).result() == len(paths)


@pytest.mark.long
def test_a_cluster_gives_the_same_in_the_same_order(job_files, wanted):
    """Two workers of dask.distributed on this machine, by the executor of its client."""
    from distributed import Client, LocalCluster

    paths, folder = job_files
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster, Client(cluster) as client:
        assert list(reprice(paths, folder, executor=client.get_executor())) == wanted


def test_new_lists_with_faults_are_refused_before_any_job_is_read(job_files, tmp_path):
    """At the call, not at the first answer."""
    with pytest.raises(ListError, match="holds no price lists"):
        reprice(iter(lambda: pytest.fail("read"), None), tmp_path)


class Remembering(ThreadPoolExecutor):
    """One thread that remembers what it was handed."""

    def __init__(self):
        super().__init__(1)
        self.handed = []

    def submit(self, *given, **more):
        self.handed.append(super().submit(*given, **more))
        return self.handed[-1]


def test_who_stops_early_calls_off_the_rest(job_files):
    """What was not begun when the reader went away is never done."""
    paths, folder = job_files
    with Remembering() as thread:
        found = reprice(paths * 5, folder, executor=thread)
        next(found)
        found.close()
    hand_groups = 12  # 90 files, eight at once
    assert len(thread.handed) == hand_groups
    assert sum(future.cancelled() for future in thread.handed) >= hand_groups - 3


def test_lists_that_change_are_read_anew(job_files, tmp_path):
    """A worker that lives on does not go on with what the folder held before."""
    paths, folder = job_files
    shutil.copytree(folder, tmp_path / "lists")
    with ThreadPoolExecutor(1) as threads:
        (before,) = reprice(paths[:1], tmp_path / "lists", executor=threads)
        company = tmp_path / "lists" / "company.csv"
        company.write_text(company.read_text(encoding="utf-8").replace("wage,36.00 USD", "wage,136.00 USD"), encoding="utf-8")
        (after,) = reprice(paths[:1], tmp_path / "lists", executor=threads)
    assert after.before == before.before
    assert after.after > before.after
