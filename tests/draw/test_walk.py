"""Every example walked: no line, task or purchase without its reason in words, and the notebook walks each of them."""

import math
import re
from html import unescape
from itertools import pairwise

import nbformat
import pytest
from walk_claims import CLAIMS
from work_jobs import STEMS, estimated

from kit.draw.walk import draw_walk, explain_line, explain_order, explain_purchase
from kit.shipped_files import shipped
from kit.steps import Step


@pytest.mark.parametrize("stem", STEMS)
def test_nothing_stands_without_its_working(stem):
    """Each line once, each step with its people and its reason, each purchase with what it is for; no id where a name belongs."""
    found = estimated(stem)
    drawn = unescape(draw_walk(found))
    for line in found.lines:
        assert line.basis.strip(), line.id
        assert drawn.count(f"<li>{explain_line(found, line)}</li>") >= 1
    for task in (*found.tasks, *found.hired):
        order = explain_order(found, task)
        assert order.startswith(("after ", "the first of the job", "before and after"))
        assert ("the first of the job" in order) == (not task.after and task.step is not Step.TRIPS)
        assert f"{task.hours_likely:.2f} h of work" in drawn
    for purchase in found.purchases:
        reason = explain_purchase(found, purchase)
        assert re.search(r' for ["\w]|^at least \$', reason), purchase.id
        assert not re.search(r"\d each for|of \d+ each|^\d+\.00 for", reason), "a count has no unit and no decimals"
        if purchase.item == "shop-trip":
            assert reason.count(",") + 1 == round(purchase.need), "a shop for each trip"
        assert reason in drawn
    assert drawn.count("<h4>Trip ") >= len(found.trips)
    extra = found.job.terms.extra_trips or 0
    assert f"in {len(found.trips) + extra} trips{f', {extra} of them extra' if extra else ''}" in drawn or len(found.trips) == 1
    assert "None" not in drawn
    words = re.sub(r"<[^>]+>", " ", drawn)
    named = {row.name for row in found.lists.items.values()} | {row.name for row in found.lists.rates.values()}
    ids = {line.item for line in found.lines if "-" in line.item} | {str(step) for step in Step if "-" in step}
    assert not [name for name in ids if re.search(rf"\b{re.escape(name)}\b", words) and not any(name in row.lower() for row in named)]


@pytest.mark.parametrize("stem", STEMS)
def test_the_lines_of_a_step_come_to_its_hours(stem):
    """Read back from the words alone: hours of the lines, added and times the factors, are the hours of the step to the cent of an hour or two."""
    found = estimated(stem)
    lines = {line.id: line for line in found.lines}
    for task in found.tasks:
        if task.step is Step.TRIPS:
            continue
        said = [re.search(r": ([\d.]+) h at ([\d.]+) h ", explain_line(found, lines[line_id])) for line_id in task.line_ids]
        hand_hours = sum(float(one[1]) for one in said if one) * math.prod(factor for _, factor in task.factors)
        assert hand_hours == pytest.approx(task.hours_likely, abs=0.012 * len(said)), task.step


def test_several_of_a_kind_are_more_than_one():
    """Posts, tailpieces and elbows by their number, plastics by their usual letters, packs in two places."""
    words = {stem: re.sub(r"<[^>]+>", " ", draw_walk(estimated(stem))) for stem in ("wood_apron_two_bowl", "solid_surface_flush", "laminate_top_mount")}
    assert "2 side cleats + 4 posts + 4 blocks below post + 1 rear cross piece" in words["wood_apron_two_bowl"]
    assert "Counted: 2 PVC drain elbows." in words["solid_surface_flush"]
    assert "1 from copper to PVC" in words["solid_surface_flush"]
    assert "2 tailpieces + 1 arm" in words["laminate_top_mount"]
    assert "1 x backsplash 96 x 4 1/4 in, 3/4 in thick, by the cut plan" in words["laminate_top_mount"]
    assert ": 2 x roll of 100 sq ft, rounded up, at $19.00 each" in words["laminate_top_mount"]
    assert not [word for text in words.values() for word in ("times the room", "2.83333") if word in text]


def test_a_price_says_for_how_much_it_is():
    """By the foot, the hour and the hundred pounds; a fee is money and has no price of its own; a firm's people come from it, a trip goes on."""
    corner = estimated("corner_dishwasher_drain_down")
    said = {one.item: explain_purchase(corner, one) for one in corner.purchases}
    assert said["stone-3cm-area"] == '29 sq ft for "Set the countertop", at $92.00 a sq ft'
    assert said["hire-plumber"] == '5.25 h for "Lower the drain in the wall", at $118.00 an hour'
    assert said["hepa-vacuum"] == '2 for "Protect floors and the way in", at $68.00 for one rental'
    assert said["permit-stated"] == '$185.00 for "Orders and paperwork"'
    assert said["disposal"] == '652 lb for "Haul away debris", at $6.50 for 100 lb'
    words = unescape(re.sub(r"<[^>]+>", " ", draw_walk(corner)))
    assert "1 person from the electrician" in words
    assert "Trip 2, continued" in words
    assert "If the customer signs as expected, the work is complete on" in words


def test_a_reason_names_only_what_comes_last_before_it():
    """The trap of a plain swap waits for the set sink, which waits for all the rest; a wait that an earlier step has sat out is not said again."""
    found = estimated("counter_stays_sink_only")
    drain = next(task for task in found.tasks if task.step is Step.CONNECT_DRAIN)
    assert explain_order(found, drain).startswith('after "Set the sink"; clips hold the rim')
    corner = estimated("corner_dishwasher_drain_down")
    inspected = next(task for task in corner.tasks if task.step is Step.INSPECT)
    assert explain_order(corner, inspected).count("inspector's visit") == 1
    stone = estimated("stone_apron_single_bowl")
    test = next(task for task in stone.tasks if task.step is Step.FILL_TEST)
    assert explain_order(stone, test) == 'after "Connect the supply", "Connect the dishwasher"'


def test_each_sentence_of_the_notebook_holds_for_its_estimate():
    """A sentence without a claim, a claim without its sentence and a claim that the estimate denies are told."""
    notebook = nbformat.read(shipped("notebooks") / "7_examples_walked.ipynb", as_version=4)
    for words, code in pairwise(notebook.cells):
        walked = re.match(r'HTML\(draw_walk\(made\["(\w+)"\]\)\)', code.source)
        if walked is None:
            continue
        claims = CLAIMS[walked[1]]
        sentences = re.split(r"(?<=[.?!]) (?=[A-Z])", words.source.split("\n\n", 1)[1].strip())
        assert [said for said in sentences if sum(said.startswith(claim) for claim in claims) != 1] == []
        assert [claim for claim in claims if not any(said.startswith(claim) for said in sentences)] == []
        found = estimated(walked[1])
        assert [said for said, holds in claims.items() if holds is not None and not holds(found)] == []


def test_the_notebook_walks_every_example():
    """A section with words and a call for each, in the look of the screens."""
    notebook = nbformat.read(shipped("notebooks") / "7_examples_walked.ipynb", as_version=4)
    code = "\n".join(cell.source for cell in notebook.cells if cell.cell_type == "code")
    assert all(f'draw_walk(made["{stem}"])' in code for stem in STEMS)
    assert "HTML(STYLE)" in code
    assert draw_walk(estimated(STEMS[0])).startswith("<div class='sk-screen'>")  # its tables look like those of the screens
    headed = [cell for cell in notebook.cells if cell.cell_type == "markdown" and cell.source.startswith("## ")]
    assert len(headed) == len(STEMS)
    assert all(len(cell.source) > 500 for cell in headed)
    assert not [cell.source for cell in headed if re.search(r"\d", cell.source)], "numbers are the kit's: a typed one goes stale"
    assert "assert" in code.splitlines()[-1], "the last cell prints nothing"
