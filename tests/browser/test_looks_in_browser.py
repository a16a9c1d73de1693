"""What a person sees at a glance: nothing cut or torn, no blank lines, no row under a bar, words beside what they belong to."""

from browsing import STEPS, TABLET, WIDE, open_notebook

NOTEBOOK = "1_estimator.ipynb"
CUT = "() => [...document.querySelectorAll('.sk-start [data-whole]')].map(box => box.dataset.whole)"
BLANK = """() => [...document.querySelectorAll('.sk-options td.sk-wide')].filter(cell => cell.offsetParent && cell.querySelector('summary')).map(cell => {
  const marks = [...cell.querySelectorAll('summary .sk-level')].map(mark => mark.getBoundingClientRect());
  const others = [...cell.parentElement.querySelectorAll('svg, span')].map(one => one.getBoundingClientRect().bottom);
  return Math.round(cell.getBoundingClientRect().bottom - Math.max(...others, ...marks.map(mark => mark.bottom)));
})"""
"""How far the row of each option with a fold goes on below the last of its words [px]."""
TORN = "() => [...document.querySelectorAll('.sk-level')].filter(mark => mark.getClientRects().length > 1).map(mark => mark.textContent)"
FOLDS = "() => [...document.querySelectorAll('.sk-checks:not([open])')].map(fold => fold.offsetHeight)"
WAYS = "() => [...new Set([...document.querySelectorAll('.sk-checks[open] .sk-why')].map(button => Math.round(button.getBoundingClientRect().left)))]"
BESIDE = """() => [...document.querySelectorAll('.sk-build-up .sk-why')].map(button => {
  const words = document.createRange(), row = button.closest('tr').cells[1];
  words.selectNodeContents(row);
  const middle = box => (box.top + box.bottom) / 2;
  return Math.round(middle(button.getBoundingClientRect()) - middle(words.getBoundingClientRect()));
})"""
"""How far each button that asks why stands below the words of its row [px]."""
BELOW = """() => {
  const bar = document.querySelector('.sk-was-now'), box = bar.getBoundingClientRect();
  return [2, 6, 9].map(up => bar.contains(document.elementFromPoint(box.left + 40, innerHeight - up)));
}"""
CLIPPED = """() => {
  const found = [], edge = document.activeElement.getBoundingClientRect();
  for (let box = document.activeElement.parentElement; !box.classList.contains('sk-screen'); box = box.parentElement) {
    const its = box.getBoundingClientRect();
    if (getComputedStyle(box).overflowY !== 'visible' && (its.top > edge.top - 5 || its.bottom < edge.bottom + 5)) found.push(box.className);
  }
  return found;
}"""
"""What cuts off the ring around that which has the focus."""


def test_what_is_shown_stands_whole_and_where_it_belongs(tab, pages, jobs):
    """On a tablet every kind of job is read in its field; options, checks and amounts have no blank lines, no mark is torn, a button that asks why stands
    beside its words; the answer of the what-if covers what lies under it, and the ring of a slider is whole."""
    tab.set_viewport_size(TABLET)
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    screen.price()
    kinds = screen.field("Kind of job")
    for kind in kinds.locator("option").all_inner_texts():
        kinds.select_option(kind)
        tab.wait_for_timeout(200)  # the words below a field come after the next frame
        assert tab.evaluate(CUT) == [], kind
    beside = [one.bounding_box() for one in (kinds, screen.root.get_by_role("button", name="New job"))]
    assert abs(beside[0]["y"] - beside[1]["y"]) < 4
    screen.turn("Cabinet")
    screen.type("Sink base width [in]", "500")
    faults = tab.locator(".sk-top .sk-faults")
    faults.wait_for()
    box, top = faults.bounding_box(), tab.locator(".sk-top").bounding_box()
    assert top["y"] + top["height"] - 12 - (box["y"] + box["height"]) > 4  # clear of the edge of the tape
    screen.type("Sink base width [in]", "33")  # too narrow: with stops
    faults.wait_for(state="detached")
    screen.turn("Check")
    screen.root.locator(".sk-main", has_text=STEPS["Check"]).wait_for()
    heights = tab.evaluate(FOLDS)
    assert heights
    assert max(heights) <= 48
    assert len(tab.evaluate(WAYS)) == 1  # below each other
    screen.turn("Options")
    screen.root.locator(".sk-options tbody tr").nth(8).wait_for()
    for size in (TABLET, WIDE):
        tab.set_viewport_size(size)
        blank = tab.evaluate(BLANK)
        assert len(blank) > 4
        assert max(blank) <= 13, size
        assert tab.evaluate(TORN) == [], size
    sliders = screen.root.get_by_role("slider")
    sliders.nth(3).focus()
    tab.keyboard.press("ArrowRight")
    assert tab.evaluate(BELOW) == [True, True, True]
    assert tab.evaluate(CLIPPED) == []
    screen.turn("Price and papers")
    screen.root.locator(".sk-build-up").wait_for()
    beside = tab.evaluate(BESIDE)
    assert len(beside) > 10
    assert max(map(abs, beside)) <= 2
