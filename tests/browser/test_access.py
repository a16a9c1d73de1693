"""What people with other senses and other input meet: axe finds nothing serious in what our screens render, at a desk and on a tablet."""

import pytest
from browsing import LEAST_LETTERS, PHONE, STEPS, TABLET, TOKEN, WIDE, open_notebook, shoot, small_targets, smallest_letters, violations, wait_until_it_fits

PRICE_IN_VIEW = """() => {
  const box = document.querySelector(".sk-price").getBoundingClientRect();
  return box.top >= 0 && box.bottom <= window.innerHeight;
}"""

CUT = """() => [...document.querySelectorAll(".sk-fields select")].map(node => {
  const pen = document.createElement("canvas").getContext("2d"), words = node.selectedOptions[0].text;
  pen.font = getComputedStyle(node).font;
  return pen.measureText(words).width > node.clientWidth - 24 ? words : "";
}).filter(Boolean)"""
"""The answers that their fields have no room for."""


def test_the_estimator_as_a_page(tab, pages, jobs):
    """Every step, help and answer open, the whole page: axe finds nothing serious, on a telephone, a tablet and at a desk nothing is wider than the window,
    the letters of drawings are large enough to read, what is pressed is large enough for a finger, and the verdict stays in view when the page is moved."""
    screen = open_notebook(tab, pages, "page", "1_estimator.ipynb")
    screen.price()
    assert violations(tab) == []
    screen.turn("Price and papers")
    screen.root.locator(".sk-main .sk-why").first.click()
    tab.locator(".sk-answer").wait_for()
    for step, words in STEPS.items():
        screen.turn(step)
        screen.root.locator(".sk-main", has_text=words).wait_for()
        more = screen.root.locator(".sk-more")
        if more.count():
            more.first.click()
        screen.price()
        assert violations(tab) == [], step
        for width in (320, 1024, 1440):
            tab.set_viewport_size({"width": width, "height": 900})
            wait_until_it_fits(tab)
            assert smallest_letters(tab) > LEAST_LETTERS - 0.1, (step, width)
            assert small_targets(tab) == [], (step, width)
            if (step, width) in {("Cabinet", 320), ("Options", 320)}:
                assert violations(tab) == [], (step, width)
            if (step, width) == ("Who does what", 320):
                assert tab.evaluate(CUT) == []
            if (step, width) == ("Price and papers", 320):  # what an amount is made of is said by its button
                assert tab.locator(".sk-build-up").evaluate("box => box.scrollWidth <= box.clientWidth")
        for name, size in (("1280", WIDE), ("768", TABLET)):
            tab.set_viewport_size(size)
            wait_until_it_fits(tab)
            assert smallest_letters(tab) > LEAST_LETTERS - 0.1, (step, name)
            shoot(tab, f"{step.replace(' ', '_').lower()}_{name}")
            screen.root.locator(".sk-help").last.scroll_into_view_if_needed()
            tab.wait_for_function(PRICE_IN_VIEW)
        tab.set_viewport_size(WIDE)


UNDER = """() => {
  const node = document.activeElement, box = node.getBoundingClientRect();
  const seen = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
  return node.contains(seen) ? "" : `${node.getAttribute("aria-label") || node.textContent} is under ${seen && seen.textContent.slice(0, 40)}`;
}"""


@pytest.mark.parametrize("size", [WIDE, TABLET])
def test_what_has_the_focus_is_never_under_a_bar(tab, pages, jobs, size):
    """Tab from slider to slider of the what-if and back: the verdict above and the answer below stay in view, and cover none of them (WCAG 2.2, 2.4.11)."""
    tab.set_viewport_size(size)
    screen = open_notebook(tab, pages, "page", "1_estimator.ipynb")
    screen.turn("Options")
    screen.root.locator(".sk-options tbody tr").nth(8).wait_for()
    screen.price()
    sliders = screen.root.get_by_role("slider")
    sliders.first.focus()
    under = []
    for key, last in (("Tab", sliders.last), ("Shift+Tab", sliders.first)):
        while not last.evaluate("slider => slider === document.activeElement"):
            tab.keyboard.press(key)
            under.append(tab.evaluate(UNDER))
    assert len(under) >= 2 * (sliders.count() - 1)
    assert not any(under), under


@pytest.mark.long
def test_the_estimator_in_the_lab(tab, lab, jobs):
    """What we render there; the Lab around it is not ours."""
    screen = open_notebook(tab, lab, "lab", "1_estimator.ipynb")
    screen.turn("Options")
    screen.root.get_by_role("slider").first.wait_for()
    screen.price()
    assert violations(tab, ".sk-screen") == []


@pytest.mark.long
def test_the_lab_in_the_window_of_a_tablet(tab, lab, jobs):
    """Run All reaches the screen beside the Lab's own columns: the price is seen, nothing is wider than its room, a step is turned to."""
    tab.set_viewport_size(TABLET)
    screen = open_notebook(tab, lab, "lab", "1_estimator.ipynb")
    screen.price()
    screen.turn("Cabinet")
    screen.root.locator(".sk-main", has_text=STEPS["Cabinet"]).wait_for()
    tab.wait_for_function(PRICE_IN_VIEW)
    assert screen.root.evaluate("box => box.scrollWidth <= box.clientWidth")
    folded = tab.locator(".jp-CodeCell:has(.sk-screen) .jp-Placeholder").first.bounding_box()
    assert tab.locator(".sk-top").bounding_box()["y"] - 16 >= folded["y"] + folded["height"]  # what lies around it covers no letter of the code
    shoot(tab, "cabinet_lab_768")


@pytest.mark.parametrize(
    ("name", "words"), [("5_worked_example", "Side section through the outlet"), pytest.param("6_python", "Price by sink base width", marks=pytest.mark.long)]
)
def test_a_notebook_without_a_screen_as_a_dark_page(tab, dark_pages, name, words):
    """Axe finds nothing serious; drawings stand light on dark, and their letters keep their size on a telephone. At a desk no line of words is longer than
    80 letters, and a heading stands nearer to its own words than to those above."""
    tab.goto(f"{dark_pages}/voila/render/{name}.ipynb?token={TOKEN}")
    drawing = tab.locator(".sk-drawing svg:visible", has_text=words)
    drawing.wait_for()
    assert violations(tab) == []
    assert max(tab.locator(".jp-RenderedMarkdown :is(p, ul)").evaluate_all("those => those.map(one => one.offsetWidth)")) < 800
    above, below = tab.locator(".jp-RenderedMarkdown h2").last.evaluate("one => [getComputedStyle(one).marginTop, getComputedStyle(one).marginBottom]")
    assert float(above.removesuffix("px")) > float(below.removesuffix("px"))
    assert min(drawing.evaluate("svg => getComputedStyle(svg).color.match(/\\d+/g).slice(0, 3).map(Number)")) > 150
    tab.set_viewport_size(PHONE)
    wait_until_it_fits(tab)
    assert smallest_letters(tab) > LEAST_LETTERS - 0.1
    if name == "6_python":  # a chart is whole there, as on a tablet
        for size in (PHONE, TABLET):
            tab.set_viewport_size(size)
            sweep = tab.locator(".sk-drawing:visible", has_text=words)
            assert sweep.evaluate("box => box.scrollWidth <= box.clientWidth")


def test_the_list_of_pages(tab, pages):
    """The page that lists the notebooks."""
    tab.goto(f"{pages}/?token={TOKEN}")
    tab.get_by_role("link", name="Estimator What does this").wait_for()
    assert violations(tab) == []
