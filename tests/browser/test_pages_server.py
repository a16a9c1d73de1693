"""`sinkset pages` as it really starts: behind a token, and nothing but the person's notebooks."""

import urllib.error
import urllib.request

import pytest
from browsing import TOKEN


def ask(address: str, path: str) -> int:
    """The status of a page, redirects not followed."""

    class Stay(urllib.request.HTTPRedirectHandler):
        def redirect_request(self, *_: object) -> None:
            return None

    try:
        with urllib.request.build_opener(Stay).open(f"{address}{path}") as answer:
            return int(answer.status)
    except urllib.error.HTTPError as error:
        with error:
            return error.code


@pytest.mark.parametrize("path", ["/", "/voila/render/1_estimator.ipynb", "/voila/tree"])
def test_without_the_token_no_page(pages, path):
    """Who has no token is sent to the door."""
    assert ask(pages, path) in {302, 403}
    assert ask(pages, f"{path}?token=another") in {302, 403}
    assert ask(pages, f"{path}?token={TOKEN}") == 200


@pytest.mark.parametrize(
    "path",
    [
        "/api/contents",
        "/api/kernels",
        "/files/1_estimator.ipynb",
        "/voila/files/1_estimator.ipynb",
        "/voila/files/../price_lists/company.csv",
        "/voila/files/%2e%2e/price_lists/company.csv",
        "/voila/render/../../../../etc/passwd",
        "/voila/render/%2e%2e/%2e%2e/other.ipynb",
    ],
)
def test_no_file_beside_the_pages(pages, path):
    """Neither files of the folder nor what lies above it are given out, token or not."""
    assert ask(pages, f"{path}?token={TOKEN}") in {302, 400, 403, 404, 405, 500}
