"""Alternates side by side."""

import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from changes import EXAMPLE, edit, put

from kit import shipped

# one in every run, the others in the long one: each alternate of each is worked out
STEMS = [EXAMPLE.stem, *(pytest.param(path.stem, marks=pytest.mark.long) for path in sorted(shipped("examples").glob("*.toml")) if path != EXAMPLE)]


def kept(document: Any) -> dict[str, Any]:
    """The alternates that keep the counter, by mount."""
    own = next(one for one in document["alternates"] if one["chosen"])
    return {one["mount"]: one for one in document["alternates"] if one["counter"] == own["counter"]}


def test_compare_prices_what_is_allowed_and_keeps_what_is_not_with_its_reason(run: Any, job_file: Any) -> None:
    """An under-mount sink in laminate: the lists say stop, and the job is compared all the same, with that reason."""

    def change(document: Any) -> None:
        put("sink.item", "kind-of-its-own")(document)
        put("scope.sink.supplied_by", "customer")(document)
        put("counter.material", "laminate")(document)

    path = job_file(change)
    lists = shutil.copytree(shipped("price_lists"), path.parent / "price_lists")
    edit("counters.csv", "^stone-3cm,([^,]+),stone", r"stone-3cm,\1,laminate")(Path(lists))
    found = kept(run("compare", path, "--json").json)
    assert sorted(found) == ["flush", "top", "under"]
    assert found["under"]["standing"] == "not recommended"
    assert "core and cut edge" in found["under"]["reason"]
    assert (found["top"]["standing"], found["top"]["reason"].partition(":")[0]) == ("can't be built", "Mid rail and sink bowl are in the same place")
    assert float(found["top"]["figures"]["price"]) > float(found["top"]["figures"]["cost"]) > 0
    assert [mount for mount, one in found.items() if one["chosen"]] == ["under"]
    report = run("compare", path).out.decode()
    assert re.search(r"core and cut edge", report)


def test_a_sink_that_can_not_take_a_mount_is_swapped_and_a_customers_own_is_not(run: Any, job_file: Any) -> None:
    """The example's sink is not made to lie on top: another kind takes its place, unless the customer brings it."""
    top = kept(run("compare", EXAMPLE, "--json").json)["top"]
    assert top["swapped"][0].startswith("33 in two-bowl cast-iron drop-in sink in place of 33 in fireclay apron-front sink, by its nominal sizes")
    assert "stone countertop; same scope; another sink where a mount needs one. AVAILABLE" in " ".join(run("compare", EXAMPLE).out.decode().split())
    report = run("compare", shipped("examples") / "wood_apron_two_bowl.toml").out.decode()
    flush = " ".join(report.partition("Flush mount: Maple")[2].partition("Undermount")[0].split())
    assert "two-bowl" not in flush  # the job's own sink, carried another way, is not another sink
    theirs = kept(run("compare", job_file(put("scope.sink.supplied_by", "customer")), "--json").json)["top"]
    assert (theirs["standing"], theirs["level"], theirs["file"]) == ("can't be built", "stop", None)
    assert "made for flush mount or undermount only" in theirs["reason"]


def test_each_difference_is_that_of_the_dollars_beside_it(run: Any) -> None:
    """10,284 and 15,086 differ by 4,802, whatever their cents come to."""
    report = run("compare", shipped("examples") / "corner_dishwasher_drain_down.toml").out.decode()
    own = int(re.search(r"-> .*?\$([\d,]+)", report)[1].replace(",", ""))  # type: ignore[index]
    rows = re.findall(r"\$([\d,]+) +([+-])\$([\d,]+) ", report)
    assert len(rows) > 10
    for price, sign, more in rows:
        assert int(price.replace(",", "")) - own == int(f"{sign}{more.replace(',', '')}")


@pytest.mark.parametrize("stem", STEMS)
def test_each_alternate_prices_as_its_own_job_file(run: Any, stem: str, tmp_path: Path) -> None:
    """The file of each gives its figures; usable ones come first, by price; the job itself is among them."""
    out, example = tmp_path / "out", shipped("examples") / f"{stem}.toml"
    found = run("compare", example, "--json", "--out", out).json["alternates"]
    files = {one["file"] for one in found if one["file"]}
    assert {path.name for path in out.glob("*.toml")} == files
    assert {one["mount"] for one in found} == {"top", "flush", "under"}
    own = next(one for one in found if one["chosen"])
    usable = [float(one["figures"]["price"]) for one in found if one["standing"] == "usable"]
    assert usable == sorted(usable)
    assert [one["standing"] for one in found[: len(usable)]] == ["usable"] * len(usable)
    assert own["figures"]["price"] == run("estimate", example, "--json").json["price"]
    for one in found:
        if one["file"] is None:
            assert one["reason"]
            continue
        document, figures = run("estimate", out / one["file"], "--json").json, one["figures"]
        same = ("price", "cost", "margin", "hours", "buildable")
        assert {key: figures[key] for key in same} == {key: document[key] for key in same}
        assert document["mount"] == one["mount"]
        assert document["risk"]["cost"]["p80"] == figures["cost_p80"]
        assert document["schedule"]["crew_days"] == figures["crew_days"]


def test_job_files_of_alternates_name_the_lists_that_priced_them(run: Any, job_file: Any, price_lists: Path, tmp_path: Path) -> None:
    """Written far away, each still finds the same lists."""
    edit("company.csv", "^wage,34.00", "wage,61.00")(price_lists)
    out = tmp_path / "far" / "away"
    found = [one for one in run("compare", job_file(), "--json", "--prices", price_lists, "--out", out).json["alternates"] if one["file"]]
    assert len(found) >= 2
    for one in found[:3]:
        document = run("estimate", out / one["file"], "--json").json
        assert document["price"] == one["figures"]["price"]
        assert document["lists"][0]["folder"] == "own_lists"


def test_how_long_the_sink_is_out_has_its_reason_beside_it(run: Any) -> None:
    """What keeps it short is no reason why it is out."""
    said = re.sub(r"\s+", " ", run("compare", EXAMPLE).out.decode())
    assert said.index("HOW LONG THE SINK IS OUT, AND WHY") < said.index("while the old kitchen stays in use")


def test_no_days_are_no_fewer_and_the_tile_setter_cuts_tile(run: Any, tmp_path: Path) -> None:
    """Half an hour earlier is no day less; who lays the tile also cuts the opening."""
    job = shutil.copy(shipped("examples") / "laminate_top_mount.toml", tmp_path)
    said = run("compare", job, "--full").out.decode()
    assert "Why the days differ" in said
    assert "-0.0 " not in said
    assert "+0.0 " not in said
    assert "the tile setter" in said
    assert "No. Mount Countertop Available Reason -" in re.sub(r"\s+", " ", said)  # no column that says the same in each row
    assert "Source of all reasons: common practice, no source; the maker's sheet and local code decide." in re.sub(r"\s+", " ", said)
    assert said.count("no source") == 1
