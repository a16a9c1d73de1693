"""The workbook on paper, as LibreOffice prints it: how many pages, how small the letters, what stands on the first, what needs no paper."""

import re
import subprocess
from collections import Counter

import export_demo as demo
import export_office as office
import pypdf
import pytest

MOST_PAGES, LEAST_POINTS = 12, 7.0
UNPRINTED = ("Import", "Lists")


def letter_sizes(page: pypdf.PageObject) -> Counter[float]:
    """How many letters of each size [pt] a page has; those in pictures are not among them."""
    sizes: Counter[float] = Counter()

    def see(text: str, outer: list[float], inner: list[float], _font: object, size: float) -> None:
        scale = [(matrix[0] ** 2 + matrix[1] ** 2) ** 0.5 for matrix in (outer, inner)]
        sizes[round(size * scale[0] * scale[1], 1)] += len(text.strip())

    page.extract_text(visitor_text=see)
    return +sizes


@pytest.fixture(scope="module")
def printed(request, tmp_path_factory):
    """The folder with each workbook that this run is about as a PDF, printed by one run of LibreOffice."""
    folder = tmp_path_factory.mktemp("printed")
    if office.find_office() is None:
        office.recalculate([], folder)  # skips, or fails where it must be there
    here = [item.callspec.params["name"] for item in request.session.items if item.path == request.path]
    books = [demo.write_workbook(demo.example(name), folder / f"{name}.xlsx") for name in here]
    profile = f"-env:UserInstallation={(folder / 'user').as_uri()}"
    subprocess.run(["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", folder, *books], check=True, capture_output=True)
    return folder


@pytest.mark.parametrize("name", [demo.EXAMPLES[0], *(pytest.param(name, marks=pytest.mark.long) for name in demo.EXAMPLES[1:])])
def test_it_prints_on_a_dozen_pages_in_letters_that_can_be_read(printed, name):
    """One page of overview first; the rows for the books and the fingerprints take no paper."""
    pages = pypdf.PdfReader(printed / f"{name}.pdf").pages
    assert len(pages) <= MOST_PAGES
    assert min(size for page in pages for size in letter_sizes(page)) >= LEAST_POINTS
    sheets = [re.search(r"Job \S+\s+(\w[\w -]*?)\s+Page", page.extract_text()) for page in pages]
    named = Counter(found[1] for found in sheets if found)
    assert sum(named.values()) == len(pages)
    assert next(iter(named)) == "Overview"
    assert {sheet: named[sheet] for sheet in ("Overview", "Labor", "Calendar", "Build-up", "Terms and rates", *UNPRINTED)} == {
        **dict.fromkeys(("Overview", "Labor", "Calendar", "Build-up", "Terms and rates"), 1),
        **dict.fromkeys(UNPRINTED, 0),
    }
