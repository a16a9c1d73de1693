"""The look: one table for screens and papers, legible by the published rule of contrast, and used by name only."""

import re
from pathlib import Path

import kit
from kit.draw.level_marks import LEVEL_WORDS, level_mark
from kit.draw.look import look, look_on_paper
from kit.draw.style import STYLE
from kit.records import Level

DRAW = Path(kit.__file__).parent / "draw"
LEAST_OF_WORDS, LEAST_OF_EDGES = 4.5, 3.0  # W3C, WCAG 2.2, 1.4.3 and 1.4.11 (level AA); from memory
WORDS = [
    ("ink", "ground"),
    ("soft", "ground"),
    ("accent", "ground"),
    ("on-accent", "accent"),
    ("ink", "tint"),
    ("soft", "tint"),
    ("accent", "tint"),
    ("on-stop", "stop"),
]
WORDS += [(level, "ground") for level in ("stop", "decide", "measure", "ok")]


def contrast(one: str, other: str) -> float:
    """Contrast of two colors as WCAG 2.2 defines it (relative luminance of sRGB); the formula is from memory."""
    lights = []
    for color in (one, other):
        parts = [int(color[place : place + 2], 16) / 255 for place in (1, 3, 5)]
        red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
        lights.append(0.2126 * red + 0.7152 * green + 0.0722 * blue)
    return (max(lights) + 0.05) / (min(lights) + 0.05)


def test_the_rule_of_contrast_is_ours_to_use():
    """Black on white is 21 to 1, a color on itself 1 to 1; #767676 is the lightest gray that passes on white."""
    remembered_most, remembered_gray = 21.0, 4.54
    assert round(contrast("#000000", "#ffffff"), 2) == remembered_most
    assert contrast("#7a2e63", "#7a2e63") == 1.0
    assert round(contrast("#767676", "#ffffff"), 2) == remembered_gray


def test_words_and_edges_stand_out_in_light_dark_and_on_paper():
    """Every pair that the style sheet and the papers set on each other."""
    for place in range(3):
        faint = [pair for pair in WORDS if contrast(look()[pair[0]][place], look()[pair[1]][place]) < LEAST_OF_WORDS]
        assert not faint, place
        assert contrast(look()["edge"][place], look()["ground"][place]) >= LEAST_OF_EDGES


def test_the_style_sheet_names_only_rows_of_the_look():
    """No color stands in the sheet itself, and no name that has no row."""
    sheet = "".join((DRAW / name).read_text(encoding="utf-8") for name in ("style.css", "cards.css"))
    assert not re.findall(r"#[0-9a-f]{3,8}\b|rgb\(", sheet)
    used = set(re.findall(r"var\(--sk-([a-z-]+?)[,)]", sheet))
    assert used - look().keys() == {"top-height"}  # measured by the page
    assert {f"--sk-{name}:{token.value};" for name, token in look().items()} <= set(re.findall(r"--sk-[a-z-]+:[^;]+;", STYLE))


def test_every_paper_takes_its_colors_from_the_look():
    """No color of its own, grays of blocks aside."""
    for path in (DRAW.parent / "export").glob("*.typ"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r'rgb\("', text), path.name
        assert set(re.findall(r"data\.look\.([a-z-]+)", text)) - {"at"} <= look_on_paper().keys()


def test_levels_differ_in_sign_and_frame():
    """Four signs, four words, four classes; the frames of the style sheet differ without color."""
    marks = [level_mark(level) for level in Level]
    assert len({mark.split(">")[1][0] for mark in marks}) == len(marks)
    sheet = (DRAW / "style.css").read_text(encoding="utf-8")
    rules = [sheet.split(f".sk-level-{name}{{")[1].split("}")[0] for name in LEVEL_WORDS.values()]
    frames = {re.sub(r"(color|background):var\([^)]*\);?", "", rule) for rule in rules}
    assert len(frames) == len(rules)
