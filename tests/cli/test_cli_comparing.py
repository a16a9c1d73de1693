"""Mounts side by side."""

import re
import shutil
from pathlib import Path
from typing import Any

from changes import EXAMPLE, edit, put

from kit import shipped


def test_compare_prices_what_is_allowed_and_keeps_what_is_not_with_its_reason(run: Any, job_file: Any) -> None:
    """An under-mount sink in laminate: the lists say stop, and the alternate stays with that reason."""

    def change(document: Any) -> None:
        put("sink.item", "kind-of-its-own")(document)
        put("scope.sink.supplied_by", "customer")(document)
        put("counter.material", "laminate")(document)

    path = job_file(change)
    lists = shutil.copytree(shipped("price_lists"), path.parent / "price_lists")
    edit("counters.csv", "^stone-3cm,stone", "stone-3cm,laminate")(Path(lists))
    ended = run("compare", path, "--json")
    found = {one["mount"]: one for one in ended.json["alternates"]}
    assert list(found) == ["top", "flush", "under"]
    assert found["under"]["allowed"] is False
    assert found["under"]["price"] is None
    assert "core and cut edge" in found["under"]["reason"]
    assert found["top"]["allowed"] is True
    assert float(found["top"]["price"]) > float(found["top"]["cost"]) > 0
    assert [one["chosen"] for one in found.values()] == [False, False, True]
    report = run("compare", path).out.decode()
    assert re.search(r"core and cut edge", report)


def test_compare_says_when_the_kind_of_sink_can_not_take_a_mount(run: Any) -> None:
    """The example's sink is not made to lie on top."""
    top = run("compare", EXAMPLE, "--json").json["alternates"][0]
    assert (top["mount"], top["allowed"], top["level"]) == ("top", False, "stop")
    assert "made for flush or under mount only" in top["reason"]


def test_compare_of_the_jobs_own_mount_is_its_estimate(run: Any, example: Path) -> None:
    """The alternate that is the job itself has the job's price."""
    own = next(one for one in run("compare", example, "--json").json["alternates"] if one["chosen"])
    document = run("estimate", example, "--json").json
    assert own["allowed"] is True
    assert {key: own[key] for key in ("price", "cost", "margin", "hours", "buildable")} == {
        key: document[key] for key in ("price", "cost", "margin", "hours", "buildable")
    }


def test_compare_writes_job_files_that_price_the_same(run: Any, job_file: Any, price_lists: Path, tmp_path: Path) -> None:
    """Each alternate's file, estimated by itself, gives the price of the comparison, from the same lists."""
    edit("company.csv", "^wage,34.00", "wage,61.00")(price_lists)
    out = tmp_path / "far" / "away"
    ended = run("compare", job_file(), "--json", "--prices", price_lists, "--out", out)
    allowed = [one for one in ended.json["alternates"] if one["allowed"]]
    assert sorted(path.name for path in out.glob("*.toml")) == sorted(f"job_{one['mount']}.toml" for one in allowed)
    assert len(allowed) >= 2
    for one in allowed:
        document = run("estimate", out / f"job_{one['mount']}.toml", "--json").json
        assert (document["price"], document["mount"]) == (one["price"], one["mount"])
        assert document["lists"][0]["folder"] == "own_lists"
