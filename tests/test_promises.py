"""The corpus of promises is whole: each file's own fingerprint fits, and what was sent says its number and its price."""

import gzip
import hashlib
import json
from decimal import Decimal
from pathlib import Path

import pytest

FOLDERS = sorted(path for path in (Path(__file__).parent / "promises").iterdir() if path.is_dir())


def test_the_corpus_is_all_there():
    """Nine promises of the examples and five of jobs moved by chance."""
    assert len(FOLDERS) == 14
    assert sum(folder.name.startswith("CORPUS") for folder in FOLDERS) == 5


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_a_promise_is_as_it_was_issued(folder):
    """The seal over everything but itself fits, and the proposal names the job and states the price."""
    document = json.loads(gzip.decompress((folder / f"{folder.name}.json.gz").read_bytes()))
    sealed = {key: value for key, value in document.items() if key != "sha256"}
    content = (json.dumps(sealed, indent=2, ensure_ascii=False) + "\n").encode()
    assert document["sha256"] == hashlib.sha256(content).hexdigest()
    assert f"{document['number']}-r{document['revision']:02d}" == folder.name
    proposal = (folder / "proposal.txt").read_text(encoding="utf-8")
    assert document["number"] in proposal
    assert f"{Decimal(document['result']['price']):,.2f}" in proposal
