"""What people with other senses and other input meet: axe finds nothing serious in what our screens render."""

import pytest
from browsing import TOKEN, open_notebook, violations


def test_the_estimator_as_a_page(tab, pages, jobs):
    """Every part and every view, help and answer open, the whole page."""
    screen = open_notebook(tab, pages, "page", "1_estimator.ipynb")
    assert violations(tab) == []
    screen.root.locator(".sk-why").first.click()
    tab.locator(".sk-answer").wait_for()
    screen.turn("Help")
    for view, part in (
        ("Drawings", "What if"),
        ("Takeoff", "Cabinet"),
        ("Purchases", "Counter"),
        ("Hours and calendar", "Plumbing"),
        ("Price and risk", "Terms"),
        ("Findings", "Who does what"),
    ):
        screen.turn(view)
        screen.turn(part)
        screen.price()
        assert violations(tab) == [], (view, part)


def test_the_estimator_in_the_lab(tab, lab, jobs):
    """What we render there; the Lab around it is not ours."""
    screen = open_notebook(tab, lab, "lab", "1_estimator.ipynb")
    screen.turn("What if")
    screen.root.get_by_role("slider").first.wait_for()
    screen.price()
    assert violations(tab, ".sk-screen") == []


@pytest.mark.parametrize("name", ["0_first_steps.ipynb", "2_owner.ipynb", "3_bookkeeper.ipynb", "4_price_lists.ipynb"])
def test_the_other_pages(tab, pages, jobs, name):
    """First steps, owner, bookkeeper and price lists, the whole page."""
    screen = open_notebook(tab, pages, "page", name)
    screen.root.locator(".sk-table, [role=status]").first.wait_for()
    assert violations(tab) == []


def test_the_list_of_pages(tab, pages):
    """The page that lists the notebooks."""
    tab.goto(f"{pages}/?token={TOKEN}")
    tab.get_by_role("link", name="1 estimator").wait_for()
    assert violations(tab) == []
