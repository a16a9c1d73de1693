"""Nothing is lost or changed behind a person's back: what only shows in a real browser."""

import os
import signal

import pytest
from browsing import TOKEN, estimate_outside, kernels_in, money, open_notebook, run_all, wait_until

from kit.job import change_job, write_job

NOTEBOOK = "1_estimator.ipynb"
KNOB = 16  # px, of the browser's own slider
ASK = "node => [node.getAttribute('aria-invalid'), document.getElementById(node.getAttribute('aria-describedby'))?.textContent]"


def test_what_was_typed_stays(tab, pages, home, jobs):
    """Turning to the sliders writes nothing; a key moves to the next step; a refused entry stays marked while others go through. What somebody else
    wrote is shown before it is written over; dropped work stays dropped, and a reload returns to what was open. A name gets its ending, what the disk
    refuses has words, and lists that changed are read anew at Save and said before Issue."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    price = screen.price()
    screen.turn("Countertop")
    screen.type("Run 1: length [in]", "100 3/8")
    price = screen.change_of_price(price)
    screen.turn("Options")
    slider = screen.root.get_by_role("slider", name="Run 1: length [in]")
    slider.wait_for()
    tab.wait_for_timeout(500)  # whatever a slider says of itself when it is drawn has been said by then
    assert slider.get_attribute("aria-valuetext") == "100 3/8 in"
    screen.turn("Countertop")
    typed = screen.root.get_by_role("textbox", name="Run 1: length [in]")
    typed.wait_for()
    assert typed.input_value() == "100 3/8 in"
    screen.type("Run 1: length [in]", "100 1/3")
    screen.turn("Save")
    tab.get_by_text("Saved my_job.toml").wait_for()
    as_typed = (jobs / "my_job.toml").read_text(encoding="utf-8")
    assert as_typed.count('length = "100 1/3 in"') == 1
    screen.turn("Options")
    slider.press("ArrowRight")
    tab.wait_for_function("node => node.getAttribute('aria-valuetext') === '100 1/2 in'", arg=slider.element_handle())
    screen.turn("Discard")
    tab.wait_for_function("node => node.getAttribute('aria-valuetext') === '100 1/3 in'", arg=slider.element_handle())
    slider.hover()  # waits until it stands still
    box, (low, high, at) = slider.bounding_box(), slider.evaluate("node => [node.min, node.max, node.value].map(Number)")
    knob = box["x"] + KNOB / 2 + (box["width"] - KNOB) * (at - low) / (high - low)
    tab.touchscreen.tap(knob, box["y"] + box["height"] / 2)
    tab.wait_for_timeout(500)
    assert slider.get_attribute("aria-valuetext") == "100 1/3 in"  # a finger that only rests on the knob moves nothing
    tab.locator(".sk-column [role=status]").evaluate_all("nodes => nodes.forEach(node => node.remove())")  # what was said of the first Save
    screen.turn("Save")
    tab.get_by_text("Saved my_job.toml").wait_for()
    assert (jobs / "my_job.toml").read_text(encoding="utf-8") == as_typed
    slider.press("ArrowRight")
    tab.wait_for_function("node => node.getAttribute('aria-valuetext') === '100 1/2 in'", arg=slider.element_handle())
    screen.turn("Keep")
    screen.turn("Cabinet")
    screen.type("Sink base width [in]", "500")
    screen.root.locator(".sk-fault").wait_for()
    screen.type("Sink base height [in]", "34 1/4")
    tab.wait_for_function("() => document.querySelectorAll('[aria-invalid=true]').length === 1")
    assert screen.field("Sink base width [in]").input_value() == "500"
    assert screen.field("Sink base width [in]").evaluate(ASK) == ["true", '"500 in" is outside the range 18 to 60 in.']
    screen.turn("Save")
    tab.get_by_text("Not in the file: Sink base width").wait_for()
    job = estimate_outside(jobs / "my_job.toml").job
    assert (job.counter.runs[0].length_in, job.cabinet.width_in, job.cabinet.height_in) == (100.5, 36.0, 34.25)
    screen.type("Sink base width [in]", "36 1/4")
    screen.root.locator(".sk-fault").wait_for(state="detached")
    tab.wait_for_function("() => !document.querySelector('[aria-invalid]')")
    screen.price()
    write_job(change_job(job, {"site.carry": "120 ft"}), jobs / "my_job.toml")  # another window, or an editor
    screen.turn("Save")
    screen.root.locator(".sk-question tr", has_text="Walk from truck to kitchen").wait_for()
    assert estimate_outside(jobs / "my_job.toml").job.cabinet.width_in == 36.0
    screen.turn("Write mine over it")
    tab.get_by_text("Saved my_job.toml").wait_for()
    assert estimate_outside(jobs / "my_job.toml").job.cabinet.width_in == 36.25
    screen.type("Sink base width [in]", "40")
    screen.turn("Start")
    screen.field("Open").select_option("Example: laminate top mount")
    screen.turn("Open")
    tab.get_by_text("my_job.toml has unsaved work").wait_for()
    screen.turn("Discard it")
    tab.get_by_text("Save writes laminate_top_mount.toml; the example stays as it is.").wait_for()
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    tab.get_by_text("examples/laminate_top_mount.toml is open again.").wait_for()
    assert estimate_outside(jobs / "my_job.toml").job.cabinet.width_in == 36.25
    assert screen.root.get_by_role("button", name="Undo").is_disabled()  # a history belongs to one file
    screen.type("Save as", "second")
    screen.turn("Save")
    tab.get_by_text("Saved second.toml in jobs.").wait_for()
    (jobs / "blocked.toml").mkdir()
    screen.type("Save as", "blocked")
    screen.turn("Save")
    refusal = tab.locator(".sk-column [role=alert]", has_text="blocked.toml")
    refusal.wait_for()
    assert "Errno" not in refusal.inner_text()
    screen.type("Save as", "second")
    wages = home / "price_lists" / "company.csv"
    sound = wages.read_text(encoding="utf-8")
    try:
        wages.write_text(sound.replace("wage,34.00", "wage,61.00"), encoding="utf-8")
        price = screen.price()
        screen.turn("Save")
        tab.get_by_text(f"The price lists on disk have changed: the price was {price} and is ").wait_for()
        assert screen.price() == money(estimate_outside(jobs / "second.toml").price) != price
    finally:
        wages.write_text(sound, encoding="utf-8")
    screen.turn("Price and papers")
    screen.turn("Issue")
    tab.locator(".sk-promise [role=alert]", has_text="Nothing is issued yet: look at it, then press Issue once more").wait_for()
    assert (screen.price(), list(jobs.glob("*.json"))) == (price, [])


@pytest.mark.long  # waits until the page misses its program
def test_what_the_program_never_heard_is_offered_back(tab, pages, home, jobs):
    """It ends while a person types: a banner says so and the fields are locked; after a reload the job is as it was kept, and what was typed last,
    in a field and in the picture, is offered."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    price = screen.price()
    screen.turn("Cabinet")
    screen.type("Sink base width [in]", "39")
    screen.change_of_price(price)
    wait_until(tab, lambda: list(jobs.glob(".my_job.kept*")))
    for kernel in kernels_in(home / "notebooks"):
        os.kill(kernel, signal.SIGSTOP)
    screen.type("Sink base height [in]", "34 1/4")
    tab.locator(".sk-fill[data-field='sink.apron_height']:visible").click()
    tab.keyboard.type("10 1/4")
    tab.keyboard.press("Enter")
    tab.locator(".sk-fill[data-field='sink.apron_width']:visible").click()
    tab.keyboard.type("30")
    tab.keyboard.press("Escape")
    tab.wait_for_timeout(100)
    for kernel in kernels_in(home / "notebooks"):
        os.kill(kernel, signal.SIGKILL)
    tab.get_by_text("The program behind this page has ended").wait_for()
    assert screen.field("Sink base width [in]").evaluate("node => Boolean(node.closest('[inert]'))")
    tab.get_by_role("button", name="Reload the page").click()
    tab.get_by_text("Unsaved work on my_job.toml is back").wait_for()
    tab.get_by_text("Typed before the connection was lost and not in the job yet: Sink base height: 34 1/4; Apron height: 10 1/4.").wait_for()
    screen.turn("Put it back")
    screen.turn("Cabinet")
    tab.wait_for_function("() => document.querySelector(\"[class*='sk-at:cabinet.height'] input\")?.value === '34 1/4 in'")
    assert screen.field("Sink base width [in]").input_value() == "39 in"
    tab.get_by_role("button", name="Apron height, 10 1/4 in: type another measure").wait_for()
    tab.reload()
    tab.get_by_text("Unsaved work on my_job.toml is back").wait_for()
    screen.price()
    assert screen.root.locator(".sk-question").is_hidden()


@pytest.mark.long  # opens two more notebooks
def test_a_dollar_sign_is_never_mathematics(tab, served):
    """Worked examples with prices in words and tables: shown as they stand, in a page and in the Lab."""
    address, mode = served
    for name, words in (("5_worked_example.ipynb", "96 in at 5.10 USD and 120 in at 6.75 USD"), ("7_examples_walked.ipynb", "rounded up, at $19.00")):
        tab.goto(f"{address}/voila/render/{name}?token={TOKEN}" if mode == "page" else f"{address}/lab/tree/notebooks/{name}?token={TOKEN}&reset")
        if mode == "lab":
            run_all(tab, "table.sk-table, .jp-OutputArea svg")
        tab.get_by_text(words).filter(visible=True).first.wait_for()  # in the Lab the text below the words has them, too, hidden
        tab.wait_for_timeout(1000)  # what makes mathematics of text comes after the text
        assert tab.locator("mjx-container, .MathJax").count() == 0
