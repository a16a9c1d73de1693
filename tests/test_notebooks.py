"""The notebooks as files: a question first, no stored outputs, a check at the end. nbval runs them in a call of its own."""

import ast
from importlib import resources
from itertools import pairwise

import nbformat
import pytest

from kit import shipped

NOTEBOOKS = sorted(shipped("notebooks").glob("*.ipynb"))
OF_SCREENS = [path for path in NOTEBOOKS if path.name != "6_python.ipynb"]  # in that one code and values are the subject


@pytest.fixture(params=NOTEBOOKS, ids=[path.name for path in NOTEBOOKS])
def notebook(request: pytest.FixtureRequest) -> nbformat.NotebookNode:
    """Each notebook in turn."""
    return nbformat.read(request.param, as_version=4)


@pytest.fixture(params=OF_SCREENS, ids=[path.name for path in OF_SCREENS])
def screen_notebook(request: pytest.FixtureRequest) -> nbformat.NotebookNode:
    """Each notebook that is there for its screen or pictures."""
    return nbformat.read(request.param, as_version=4)


def test_there_are_notebooks() -> None:
    """The tests below have something to look at."""
    assert len(NOTEBOOKS) == len(OF_SCREENS) + 1


def test_no_outputs_are_stored(notebook: nbformat.NotebookNode) -> None:
    """Neither outputs nor counts."""
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert code
    assert all(cell.outputs == [] and cell.execution_count is None for cell in code)


def test_it_opens_with_its_question(notebook: nbformat.NotebookNode) -> None:
    """A heading that asks something, before any code."""
    first = notebook.cells[0]
    assert first.cell_type == "markdown"
    assert first.source.startswith("# ")
    assert first.source.splitlines()[0].endswith("?")


def test_the_list_of_pages_asks_it_too() -> None:
    """Beside each name stands the question with which the page opens."""
    tree = resources.files("kit").joinpath("panels", "pages", "voila", "templates", "sinkset", "tree.html").read_text(encoding="utf-8")
    for path in NOTEBOOKS:
        question = nbformat.read(path, as_version=4).cells[0].source.splitlines()[0].removeprefix("# ").removeprefix("First steps: ")
        assert f'"{path.name}": "{question[:1].upper()}{question[1:]}"' in tree


def test_its_code_is_folded(screen_notebook: nbformat.NotebookNode) -> None:
    """In the Lab the screen stands there, not what draws it."""
    assert all(cell.metadata.get("jupyter", {}).get("source_hidden") for cell in screen_notebook.cells if cell.cell_type == "code")


def test_it_ends_in_a_check(notebook: nbformat.NotebookNode) -> None:
    """The last code cell asserts something."""
    last = [cell.source for cell in notebook.cells if cell.cell_type == "code"][-1]
    assert any(isinstance(node, ast.Assert) for node in ast.walk(ast.parse(last)))


def test_a_page_shows_screens_and_pictures_and_no_python_value(screen_notebook: nbformat.NotebookNode) -> None:
    """What a cell ends in is a screen, a drawing or HTML; checks print nothing, and no price stands on a page twice."""
    for cell in screen_notebook.cells:
        last = ast.parse(cell.source).body[-1:] if cell.cell_type == "code" else []
        for shown in last:
            if isinstance(shown, ast.Expr):
                assert ast.unparse(shown) == "screen" or ast.unparse(shown).startswith(("HTML(", "kit.draw_job(")), cell.source


def test_ten_tasks_in_python_take_six_lines_each() -> None:
    """Each task has one cell of at most six lines of code; lines that only import are not counted."""
    cells = nbformat.read(shipped("notebooks") / "6_python.ipynb", as_version=4).cells
    tasks = [code for words, code in pairwise(cells) if words.source.startswith("## ")]
    assert len(tasks) == 10
    for task in tasks:
        lines = [line for line in task.source.splitlines() if line and not line.startswith(("import ", "from "))]
        assert len(lines) <= 6, task.source


def test_no_amount_is_read_as_mathematics(notebook: nbformat.NotebookNode) -> None:
    """Text between two dollar signs would be set as a formula, also behind a backslash: words of a notebook say USD."""
    assert not [cell.source for cell in notebook.cells if cell.cell_type == "markdown" and "$" in cell.source]


def test_it_runs_on_any_kernel_of_python(notebook: nbformat.NotebookNode) -> None:
    """The kernel has the name that every installation has."""
    assert notebook.metadata.kernelspec.name == "python3"
    nbformat.validate(notebook)
