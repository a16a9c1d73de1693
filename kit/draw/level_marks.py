"""How bad is a finding, as people see it? A sign, a word that says what to do, and a frame: form and weight say it, color repeats it."""

from html import escape

from kit.records import Level

__all__ = ["LEVEL_WORDS", "level_mark", "level_sign"]

LEVEL_WORDS = {Level.OK: "ok", Level.CAUTION: "decide", Level.UNKNOWN: "measure", Level.STOP: "stop"}
"""What to do with a finding of each level."""
_SIGNS = {Level.OK: "\u2713", Level.CAUTION: "\u25b3", Level.UNKNOWN: "\u25cb", Level.STOP: "\u25a0"}


def level_sign(level: Level) -> str:
    """A level as sign and word, the signs those of the flags in drawings: a full square, a triangle, a ring."""
    return f"{_SIGNS[level]} {LEVEL_WORDS[level]}"


def level_mark(level: Level, words: str = "") -> str:
    """The same in the frame of its level, as HTML; `words` stand in the place of the level's own."""
    return f"<span class='sk-level sk-level-{LEVEL_WORDS[level]}'>{_SIGNS[level]} {escape(words or LEVEL_WORDS[level])}</span>"
