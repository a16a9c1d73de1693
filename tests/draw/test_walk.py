"""Every example walked: no line, task or purchase without its reason in words, and the notebook walks each of them."""

import re
from html import escape

import nbformat
import pytest
from work_jobs import STEMS, estimated

from kit.draw.walk import draw_walk, explain_hours, explain_order, explain_purchase
from kit.shipped import shipped
from kit.steps import Step


@pytest.mark.parametrize("stem", STEMS)
def test_nothing_stands_without_its_working(stem):
    """Lines, tasks, hired tasks, purchases and trips, each in the tables with a reason; no id where a name belongs."""
    found = estimated(stem)
    drawn = draw_walk(found)
    for line in found.lines:
        assert line.basis.strip(), line.id
        assert escape(line.basis) in drawn
    for task in (*found.tasks, *found.hired):
        assert task.basis.strip(), task.step
        assert " x " in explain_hours(found, task)
        order = explain_order(found, task)
        assert order.startswith(("after ", "the first of the job", "before and after"))
        assert ("the first of the job" in order) == (not task.after and task.step is not Step.TRIPS)
        assert escape(order) in drawn
    for purchase in found.purchases:
        reason = explain_purchase(found, purchase)
        assert re.search(r" for \w|^at least \$", reason), purchase.id
        if purchase.item == "shop-trip":
            assert reason.count(",") + 1 == round(purchase.need), "a shop for each trip"
        assert escape(reason) in drawn
    assert drawn.count("<caption>") == 4
    assert "None" not in drawn
    own = {line.item for line in found.lines if line.item in found.lists.rates}
    shown = " ".join(explain_hours(found, task) for task in found.tasks)
    assert not [item for item in own if f"({item})" in shown]


def test_hours_by_hand():
    """Two valves of a plain swap at their rate; the product is the task's hours."""
    found = estimated("counter_stays_sink_only")
    task = next(task for task in found.tasks if task.step is Step.FIT_FAUCET)
    words = explain_hours(found, task)
    sums = [float(quantity) * float(hours) for quantity, hours in re.findall(r"([\d.]+) [^()]*\([^()]*\) x ([\d.]+) h", words)]
    times = [float(factor) for factor in re.findall(r"\) x ([\d.]+) for|(?<=\w) x ([\d.]+) for", words) for factor in factor if factor]
    hand = sum(sums)
    for factor in times:
        hand *= factor
    assert len(sums) == len(task.line_ids)
    assert hand == pytest.approx(task.hours_likely, rel=1e-2)


def test_the_notebook_walks_every_example():
    """A section with words and a call for each."""
    notebook = nbformat.read(shipped("notebooks") / "6_examples_walked.ipynb", as_version=4)
    code = "\n".join(cell.source for cell in notebook.cells if cell.cell_type == "code")
    assert all(f'draw_walk(made["{stem}"])' in code for stem in STEMS)
    headed = [cell for cell in notebook.cells if cell.cell_type == "markdown" and cell.source.startswith("## ")]
    assert len(headed) == len(STEMS)
    assert all(len(cell.source) > 150 for cell in headed)
