"""A folder of one's own, and the notebooks in JupyterLab."""

from pathlib import Path
from typing import Any

import pytest
from changes import EXAMPLE, edit

from kit import shipped
from kit.cli.serving import lab_command, notebook_home
from kit.errors import KitError


def test_start_lays_a_folder_that_works(run: Any, tmp_path: Path) -> None:
    """Notebooks, price lists and examples; the examples use the lists beside them."""
    home = tmp_path / "mine"
    ended = run("start", home)
    assert ended.code == 0
    assert {path.name for path in home.iterdir()} == {"notebooks", "price_lists", "examples"}
    for path in shipped("price_lists").iterdir():
        assert (home / "price_lists" / path.name).read_bytes() == path.read_bytes()
    edit("company.csv", "^region,Example County", "region,My County")(home / "price_lists")
    assert b"My County" in run("estimate", home / "examples" / EXAMPLE.name, "--sources").out


def test_start_never_overwrites_and_says_what_it_left_alone(run: Any, tmp_path: Path) -> None:
    """A changed price list stays; files that were deleted come back."""
    home = tmp_path / "mine"
    assert f"Next: sinkset lab {home}." in run("start", home).out.decode()
    (home / "price_lists" / "prices.csv").write_text("mine", encoding="utf-8")
    (home / "price_lists" / "items.csv").unlink()
    ended = run("start", home)
    assert ended.code == 0
    assert f"Left alone, already there: {home / 'price_lists' / 'prices.csv'}" in ended.out.decode()
    assert f"1 file written to {home}." in ended.out.decode()
    assert (home / "price_lists" / "prices.csv").read_text(encoding="utf-8") == "mine"


def test_start_refuses_where_a_file_stands_in_the_way(run: Any, tmp_path: Path) -> None:
    """A file in the place of a folder: 2, and nothing is laid."""
    home = tmp_path / "mine"
    home.mkdir()
    (home / "examples").write_text("mine", encoding="utf-8")
    ended = run("start", home)
    assert (ended.code, ended.out) == (2, b"")
    assert "examples is a file; it must be a folder" in ended.err
    assert [path.name for path in home.iterdir()] == ["examples"]
    assert run("start", home / "examples").code == 2


def test_lab_stays_on_this_machine_and_fetches_nothing(tmp_path: Path) -> None:
    """Loopback, no news, no update check, no extension catalogue; root is only allowed to root; no token on the command line."""
    command = lab_command(tmp_path, port=9000, browser=False, root=False)
    assert command[1:3] == ["-m", "jupyterlab"]
    for flag in (
        "--ServerApp.ip=127.0.0.1",
        "--ServerApp.port=9000",
        "--LabApp.news_url=None",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        "--LabApp.extension_manager=readonly",
        "--no-browser",
        f"--ServerApp.root_dir={tmp_path}",
    ):
        assert flag in command
    assert "--allow-root" not in command
    assert not any("token" in word for word in command)
    assert "--allow-root" in lab_command(tmp_path, port=9000, browser=True, root=True)


def test_lab_opens_the_users_own_notebooks_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The folder given, else the current one, else the shipped notebooks."""
    monkeypatch.chdir(tmp_path)
    assert notebook_home(None) == shipped("notebooks").parent
    (tmp_path / "notebooks").mkdir()
    assert notebook_home(None) == tmp_path
    with pytest.raises(KitError, match=r"holds no folder \"notebooks\". Make one with: sinkset start"):
        notebook_home(tmp_path / "notebooks")
    (tmp_path / "job.toml").touch()
    with pytest.raises(KitError, match=r"job\.toml is a file\. Give the folder"):
        notebook_home(tmp_path / "job.toml")
