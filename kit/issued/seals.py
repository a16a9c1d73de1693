"""Fingerprints of a promise: what seals a document, and whether a file is still as it was sealed, in every format."""

import hashlib
from collections.abc import Mapping
from typing import Any

from kit.document import document_bytes, fingerprint_of

__all__ = ["FORMAT", "is_sealed", "seal"]

FORMAT = 4
"""1 and 2 hold no figures beside the result and no files; 1 holds lists of other columns, too; 3 and before are sealed as indented text, without days."""

_SEALS = ("files", "sha256", "whole_sha256")
_WHOLE_SINCE = 3  # the format from which on the files are sealed, too


def seal(content: Mapping[str, Any]) -> dict[str, str]:
    """The fingerprints of a document: `sha256` of the promise, which its papers show, and `whole_sha256` of all, the files' fingerprints among it."""
    promise = {key: value for key, value in content.items() if key not in _SEALS}
    if content["format"] < FORMAT:
        return _older_seal(content, promise)
    own = fingerprint_of(promise)
    return {"sha256": own, "whole_sha256": fingerprint_of({"sha256": own, "files": content.get("files", {})})}


def _older_seal(content: Mapping[str, Any], promise: Mapping[str, Any]) -> dict[str, str]:
    """The fingerprints of an earlier format: of indented text, from format 3 on of all of it once more."""
    own = _hash(document_bytes(promise))
    if content["format"] < _WHOLE_SINCE:
        return {"sha256": own}
    return {"sha256": own, "whole_sha256": _hash(document_bytes({**promise, "sha256": own, "files": content.get("files", {})}))}


def is_sealed(document: Mapping[str, Any], text: bytes) -> bool:
    """Whether a document, read from a text, is as it was sealed; what can't be written again (half of a pair of signs, nesting without end) never was."""
    try:
        if document["format"] < FORMAT and _is_the_sealed_text(document, text):
            return True
        return all(document.get(name) == fingerprint for name, fingerprint in seal(document).items())
    except (ValueError, TypeError, RecursionError):
        return False


def _is_the_sealed_text(document: Mapping[str, Any], text: bytes) -> bool:
    """Whether a file of an earlier format is the very text that was sealed, its seals last: writing indented text once more takes most of the time."""
    seals = {name: document[name] for name in _SEALS if name in document}
    last = _inside(seals)
    promise = text.removesuffix(last).removesuffix(b",\n")
    own = _hash(promise + b"\n}\n")
    if not text.endswith(b",\n" + last) or own != seals.get("sha256"):
        return False
    if document["format"] < _WHOLE_SINCE:
        return True
    return _hash(promise + b",\n" + _inside({"sha256": own, "files": seals.get("files", {})})) == seals.get("whole_sha256")


def _inside(content: Mapping[str, Any]) -> bytes:
    """The last lines of a document that ends with this content."""
    return document_bytes(content).removeprefix(b"{\n")


def _hash(text: bytes) -> str:
    return hashlib.sha256(text).hexdigest()
