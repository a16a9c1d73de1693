"""What a person reads on the screens: words, and one price; nothing of the program's own."""

import errno
import re
from typing import Any

import pytest
from browsing import SHEETS, STEPS, Screen, open_notebook

from kit.job import Job

PLACES = "|".join(Job.model_fields)
OF_THE_PROGRAM = re.compile(
    r"\b(?:None(?= *(?:$|[|,;:.)]))|[Nn]a[Nn]|inf|True|False(?! front)|null|undefined)\b"  # "None starts later" and a false front are English
    r"|[{}]|</?[a-z]+[ >]|\[Errno|Traceback|object at 0x|[A-Z][a-z]+Error\b"
    r"|\b[a-z0-9]+(?:_[a-z0-9]+)+\b"
    rf"|\b(?:{PLACES})(?:\[\d+\])?\.[a-z_]+",
    re.MULTILINE,
)
OWN_FILES = re.compile(r"(?:/[\w.-]+)+/kept/\w+|[\w./-]+\.(?:toml|csv)\b|\bprice_lists(?:_\d[\d-]*)?\b")  # a person sees these in the folder
READ = """() => {
  document.querySelectorAll(".sk-screen details").forEach(fold => { fold.open = true; });
  const shown = [...document.querySelectorAll("body *")].filter(node => node.getClientRects().length);
  const names = shown.flatMap(node => ["title", "aria-label", "placeholder", "aria-valuetext"].map(name => node.getAttribute(name)));
  const values = shown.filter(node => node.tagName === "INPUT").map(node => node.value);
  const told = [...document.querySelectorAll(".sk-screen :is(option, svg title, svg desc)")].map(node => node.textContent);
  return [document.body.innerText, ...names.filter(Boolean), ...values, ...told].join("\\n");
}"""
PRICES = """() => [...document.querySelectorAll(".sk-screen tr")].filter(row => row.offsetParent && /^Price$|\\(this job\\)/m.test(row.cells[0].innerText))
  .map(row => row.cells[1].innerText.split("\\n")[0]).filter(Boolean)"""


def read(page: Any) -> str:
    """All text on show, folds open: on the page, in fields and lists, and for a screen reader. Nothing of it is the program's own."""
    text = str(page.evaluate(READ))
    assert [text[max(0, one.start() - 60) : one.end() + 20] for one in OF_THE_PROGRAM.finditer(OWN_FILES.sub("", text))] == []
    return text


def walk(screen: Screen, price: str, before: str) -> str:
    """Turn to every step and sheet: each price that is called the job's is this one, and nowhere the one `before` the entry. Gives all that was read."""
    seen, called, page = "", list[str](), screen.page
    for step, words in {**STEPS, **SHEETS}.items():
        if step in SHEETS:
            screen.turn("Price and papers")
            screen.field("Show").select_option(step)
        else:
            screen.turn(step)
        screen.root.locator(".sk-main", has_text=words).wait_for()
        if step == "Options":
            page.locator(".sk-options tr.sk-chosen", has_text=price).wait_for()
        if page.locator(".sk-more").count():
            page.locator(".sk-more").first.click()
        assert screen.price() == price, step
        text = read(page)
        assert before not in text, step
        called += page.evaluate(PRICES)
        seen += text
    assert len(called) >= 3  # a row of the options, of was and now, of the build-up
    assert set(called) == {price}
    return seen


def enter_length(screen: Screen) -> tuple[str, str]:
    """A longer run; the price before and after it."""
    before = screen.price()
    screen.turn("Countertop")
    screen.type("Run 1: length [in]", "120")
    return before, screen.change_of_price(before)


def test_every_step_of_the_estimator_is_in_words_and_says_one_price(tab, pages, jobs):
    """The example after an entry; then what the customer sees."""
    screen = open_notebook(tab, pages, "page", "1_estimator.ipynb")
    before, price = enter_length(screen)
    walk(screen, price, before)
    screen.turn("Customer's view")
    tab.locator(".sk-customer").wait_for()
    assert tab.locator(".sk-price").inner_text() == price
    assert before not in read(tab)


@pytest.mark.long  # as above, on the rarer paths
def test_a_refused_entry_and_a_read_only_folder_are_in_words(tab, pages, jobs, refuse):
    """Both at once: every step says what is open, Save and Issue refuse in words, and the price is that of what was taken over."""
    jobs.mkdir()
    screen = open_notebook(tab, pages, "page", "1_estimator.ipynb")
    refuse(errno.EROFS, jobs)
    before, price = enter_length(screen)
    tab.locator(".sk-column [role=alert]", has_text="the disk is read-only").wait_for()
    screen.turn("Cabinet")
    screen.type("Sink base width [in]", "5 lb")
    tab.locator(".sk-faults", has_text="Sink base width").wait_for()
    assert "the disk is read-only" in walk(screen, price, before)
    screen.turn("Save")
    tab.locator(".sk-column [role=alert]", has_text="my_job.toml is not saved: the disk is read-only. Use another folder").wait_for()
    read(tab)
    screen.turn("Price and papers")
    screen.turn("Issue")
    tab.locator(".sk-promise [role=alert]", has_text="Not issued: fix what was not accepted").wait_for()
    read(tab)


@pytest.mark.long  # as above, on the screens of the office
def test_the_pages_of_owner_and_bookkeeper_are_in_words(tab, pages, home, jobs):
    """The owner's parts, prices called the job's the same after a slider; the bookkeeper's after a signature and a bill; price lists; first steps."""
    screen = open_notebook(tab, pages, "page", "2_owner.ipynb")
    own = tab.locator(".sk-alternates tr.sk-chosen td").first
    own.wait_for()
    before = own.inner_text().split("\n")[0]
    screen.turn("What if")
    screen.root.get_by_role("slider", name="Overhead [%]").press("ArrowRight")
    tab.wait_for_function("before => !document.querySelector('.sk-alternates tr.sk-chosen td').innerText.startsWith(before)", arg=before)
    now = own.inner_text().split("\n")[0]
    tab.locator(".sk-top", has_text=f"This job {now}").wait_for()
    tab.locator(".sk-what-if tr", has_text=now).first.wait_for()
    for part in ("Two compared", "Day by day", "Working back", "Jobs on hand"):
        screen.turn(part)
        tab.wait_for_function("before => !document.body.innerText.includes(before)", arg=before)
        read(tab)
    screen = open_notebook(tab, pages, "page", "3_bookkeeper.ipynb")
    read(tab)
    screen.field("Example").select_option("Example: stone apron single bowl")
    screen.turn("Issue this example")
    tab.get_by_text("Issued DEMO-001, revision 1, in your folder jobs").wait_for()
    screen.turn("Customer signed")
    screen.turn("Make the next bill")
    tab.locator(".sk-contract tbody tr", has_text="bill 1, pay by").wait_for(state="attached")
    for part, place in {"Changes": "change-form", "Rows to import": "control", "Ledger": "ledger", "As issued": "issued", "Bills": "bills"}.items():
        screen.turn(part)
        tab.locator(f".sk-{place}").wait_for()
        read(tab)
        assert before in tab.locator(".sk-sums").inner_text(), part
    open_notebook(tab, pages, "page", "4_price_lists.ipynb")
    read(tab)
    open_notebook(tab, pages, "page", "0_first_steps.ipynb")
    read(tab)
    links = tab.locator(".jp-RenderedHTMLCommon a[href$='.ipynb']").evaluate_all("links => links.map(link => link.href)")
    assert links == [f"{pages}/voila/render/{path.name}" for path in sorted((home / "notebooks").glob("[1-9]*.ipynb"))]
