"""Lists behind papers and books: cost codes, books, suppliers, sentences."""

import re

from list_changes import change, copy_lists, faults_of

import kit
from kit.lists.money_rows import BOOK_USES
from kit.sources import sources

LISTS = kit.load_lists(kit.shipped("price_lists"))
# Classes of UNIFORMAT II that the list uses, with their names as printed (nistir-6389, table of ASTM E1557-97); F2010 is from memory.
PRINTED_CLASSES = {
    "C3010": "wall finishes",
    "D2010": "plumbing fixtures",
    "D2020": "domestic water distribution",
    "D2030": "sanitary waste",
    "E10": "equipment",
    "E2010": "fixed furnishings",
}
FROM_MEMORY = {"F2010"}


def test_every_code_in_use_has_a_name(tmp_path):
    """A code of an item or a step that cost_codes.csv does not hold is told by row."""
    used = {item.cost_code for item in LISTS.items.values()} | {step.cost_code for step in LISTS.steps.values()}
    assert used <= set(LISTS.cost_codes)
    folder = copy_lists(tmp_path)
    change(folder, "cost_codes.csv", "^410,", "411,")
    faults = faults_of(folder)
    assert faults
    assert all(re.fullmatch(r'(items|steps)\.csv, row \d+, cost_code: "410" is not in cost_codes\.csv\.', fault) for fault in faults)


def test_classes_are_those_of_the_published_table():
    """A class bears the name printed in the table, or says that it is from memory."""
    classes = {code.uniformat: code.says for code in LISTS.cost_codes.values() if code.uniformat}
    assert {code: says for code, says in classes.items() if code not in FROM_MEMORY} == PRINTED_CLASSES
    assert all("from memory" in classes[code] for code in FROM_MEMORY & set(classes))


def test_the_books_need_an_entry_for_each_use(tmp_path):
    """A deposit has its liability account, purchases their tax codes."""
    assert tuple(LISTS.books) == BOOK_USES
    folder = copy_lists(tmp_path)
    change(folder, "books.csv", "^deposit-liability.*\n", "")
    assert faults_of(folder) == ['books.csv: Use "deposit-liability" has no row.']


def test_sentences_are_about_what_there_is(tmp_path):
    """Care is about a material, a crew's caution about a step, everything else about nothing."""
    folder = copy_lists(tmp_path)
    change(folder, "wording.csv", "^care-stone,care,stone,", "care-stone,care,,")
    change(folder, "wording.csv", "^crew-haul,crew,haul,", "crew-haul,crew,fly,")
    change(folder, "wording.csv", "^step-haul,step,haul,", "step-haul,step,all,")
    change(folder, "wording.csv", "^right-local,right,,", "right-local,right,stone,")
    faults = [re.sub(r"^wording\.csv, row \d+, about:? ", "", fault) for fault in faults_of(folder)]
    assert sorted(faults) == [
        '"" is not a material of a countertop or sink.',
        '"all" is not a step.',
        '"fly" is not a step or all.',
        "must be empty for the use right.",
    ]


def test_sentences_name_who_says_so_and_claim_nothing():
    """Every source is known; no sentence says that something complies or is safe."""
    for wording in LISTS.wording:
        assert wording.source in sources()
        assert not re.search(r"\b(compl(y|ies|iant)|meets? (the )?code|up to code|guarante)", wording.says, re.IGNORECASE)


def test_every_material_has_its_care():
    """Whatever counter or sink the lists hold, the customer is told how to keep it."""
    told = {wording.about for wording in LISTS.wording if wording.use == "care"}
    assert {counter.material for counter in LISTS.counters.values()} | {sink.material for sink in LISTS.sinks.values()} <= told


def test_address_phone_and_licenses_may_be_left_out(tmp_path):
    """They stand on papers only; a company file without them is whole."""
    assert "(invented" in (kit.shipped("price_lists") / "company.csv").read_text(encoding="utf-8").partition("\naddress,")[2]
    folder = copy_lists(tmp_path)
    change(folder, "company.csv", "^address,.*\n^phone,.*\n^licenses,.*\n", "")
    company = kit.load_lists(folder).company
    assert (company.address, company.phone, company.licenses) == ("", "", "")
    assert all((LISTS.company.address, LISTS.company.phone, LISTS.company.licenses))
