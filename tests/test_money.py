"""Every rounding rule of money."""

import math
import re
import threading
from decimal import Context, Decimal, getcontext, setcontext

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.errors import PriceError, UnitError
from kit.money import (
    count_packs,
    format_money,
    parse_money,
    round_cents,
    split_cents,
    sum_money,
    tax_on,
    times,
    to_decimal,
)

cents = st.integers(min_value=-(10**11), max_value=10**11).map(lambda number: Decimal(number) / 100)


@pytest.mark.parametrize("text", ["1250.00 USD", "1,250.00 USD", "$1250.00", "$1,250", "1250 USD", "USD 1,250.00", " $1,250.0 ", "1250usd"])
def test_every_way_of_writing_money_gives_the_same_amount(text):
    """Sign or code, grouping or not: 1250.00, always with two decimals."""
    amount = parse_money(text)
    assert amount == Decimal("1250.00")
    assert str(amount) == "1250.00"


@pytest.mark.parametrize(
    ("text", "wording"),
    [
        ("250", '"250" has no currency. Give one, such as "250.00 USD".'),
        ("250.00", '"250.00" has no currency.'),
        ("-250", '"-250" has no currency.'),
        ("1,250", '"1,250" has no currency.'),
        ("250 EUR", '"250 EUR" is not in USD. Give an amount in USD, such as "250.00 USD".'),
        ("€250", '"€250" is not an amount of money.'),
        ("2.505 USD", '"2.505 USD" has more than 2 decimals.'),
        ("-5.00 USD", '"-5.00 USD" has a sign.'),
        ("-$5.00", '"-$5.00" has a sign.'),
        ("1,25 USD", '"1,25 USD" is not an amount of money.'),
        ("12,50.00 USD", "is not an amount of money."),
        ("1.250,00 USD", "is not an amount of money."),
        ("nan USD", "is not an amount of money."),
        ("inf USD", "is not an amount of money."),
        ("1e3 USD", "is not an amount of money."),
        ("$5 USD", "is not an amount of money."),
        ("", '"" is not an amount of money. Give one, such as "250.00 USD".'),
        ("٣ USD", "is not an amount of money."),
        ("9" * 20 + " USD", "is too large."),
    ],
)
def test_money_that_cannot_be_read_says_what_is_wanted(text, wording):
    """Bare numbers, other currencies, parts of a cent, signs and nonsense are refused."""
    with pytest.raises(UnitError, match=re.escape(wording)):
        parse_money(text)


@pytest.mark.parametrize("value", [250, 250.0, None])
def test_a_value_that_is_no_text_is_not_money(value):
    """A bare number from a file is refused like bare text."""
    with pytest.raises(UnitError, match=r"has no currency|is not an amount of money"):
        parse_money(value)


def test_credits_other_currencies_and_finer_prices_are_asked_for():
    """A sign, another currency and more decimals are allowed by name only; the dollar sign means US dollars."""
    assert parse_money("-$5.00", signed=True) == Decimal("-5.00")
    assert parse_money("12.50 CAD", "CAD") == Decimal("12.50")
    assert parse_money("0.0375 USD", places=4) == Decimal("0.0375")
    with pytest.raises(UnitError, match="is not in CAD"):
        parse_money("$12.50", "CAD")


@given(cents)
def test_printed_money_reads_back(amount):
    """format_money and parse_money are each other's inverse, in dollars and in another currency."""
    assert parse_money(format_money(amount), signed=True) == amount
    assert parse_money(format_money(amount, "CAD"), "CAD", signed=True) == amount


@pytest.mark.parametrize(
    ("amount", "hand_text"), [("1234.5", "$1,234.50"), ("0", "$0.00"), ("-0.001", "$0.00"), ("-1234567.895", "-$1,234,567.90"), ("999.995", "$1,000.00")]
)
def test_money_is_printed_one_way(amount, hand_text):
    """Grouped, two decimals, sign before the dollar sign, no minus zero."""
    assert format_money(Decimal(amount)) == hand_text


@pytest.mark.parametrize(
    ("amount", "hand_cents"),
    [("2.675", "2.68"), ("2.665", "2.67"), ("-2.675", "-2.68"), ("0.005", "0.01"), ("0.0049999", "0.00"), ("-0.004", "0.00"), ("3", "3.00")],
)
def test_half_a_cent_goes_up(amount, hand_cents):
    """Half up, away from zero for credits, and never minus zero."""
    assert str(round_cents(Decimal(amount))) == hand_cents


def test_floats_are_taken_at_their_shortest_decimal():
    """2.675 is a little below 2.675 in binary; a person means 2.675."""
    assert to_decimal(2.675, 2) == Decimal("2.68")
    assert to_decimal(0.1 + 0.2, 6) == Decimal("0.300000")
    assert to_decimal(7, 2) == Decimal("7.00")
    assert to_decimal(1e-20, 2) == Decimal("0.00")
    for value in (math.nan, math.inf, Decimal("nan")):
        with pytest.raises(PriceError, match="is not an amount"):
            to_decimal(value, 2)


def test_rounding_does_not_depend_on_the_context_of_a_thread():
    """A callback in another thread, or a caller's own context, changes nothing."""
    results = []

    def work():
        setcontext(Context(prec=3, rounding="ROUND_DOWN"))
        results.append(
            (
                round_cents(Decimal("12345.675")),
                times(Decimal("1234.56"), 1.5),
                sum_money([Decimal("1234.56"), Decimal("0.01")]),
                split_cents(Decimal("1234.56"), [1, 2]),
            )
        )
        results.append(
            (count_packs(1234.5, 1.0), times(Decimal("0.25"), 2), tax_on([Decimal("12345.67")], Decimal("0.0825")), format_money(Decimal("12345.67")))
        )

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert results == [
        (Decimal("12345.68"), Decimal("1851.840"), Decimal("1234.57"), (Decimal("411.52"), Decimal("823.04"))),
        (1235, Decimal("0.50"), Decimal("1018.52"), "$12,345.67"),
    ]
    assert getcontext().prec == 28


@pytest.mark.parametrize(
    ("need", "pack", "hand_packs"),
    [
        (0.0, 10.0, 0),
        (1e-9, 1.0, 0),
        (0.4e-6, 1.0, 0),
        (0.6e-6, 1.0, 1),
        (10.0, 10.0, 1),
        (10.0000001, 10.0, 1),
        (10.001, 10.0, 2),
        (0.1 + 0.2, 0.1, 3),
        (2.9999999, 1.0, 3),
        (7, 2, 4),
        (1.1 * 3, 1.1, 3),
    ],
)
def test_packs_round_to_six_places_then_up(need, pack, hand_packs):
    """Noise of floats buys no extra pack; a real need does."""
    assert count_packs(need, pack) == hand_packs


@pytest.mark.parametrize(
    ("need", "pack", "wording"),
    [
        (-1.0, 1.0, "a need can't be negative"),
        (1.0, 0.0, "it must hold more than nothing"),
        (1.0, -1.0, "it must hold more than nothing"),
        (math.nan, 1.0, "is not a number of packs"),
        (1.0, math.inf, "is not a number of packs"),
    ],
)
def test_packs_of_nonsense_are_refused(need, pack, wording):
    """Negative need, empty pack, not a number."""
    with pytest.raises(PriceError, match=wording):
        count_packs(need, pack)


@given(st.floats(min_value=0, max_value=1e6), st.floats(min_value=1e-3, max_value=1e4))
def test_packs_hold_the_need_and_not_one_pack_less(need, pack):
    """What is bought covers the need to within the rounding, and one pack less would not."""
    packs = count_packs(need, pack)
    assert packs * pack >= need - 0.51e-6 * pack
    assert packs == 0 or (packs - 1) * pack < need + 0.51e-6 * pack


@given(
    cents, st.lists(st.one_of(st.floats(min_value=0, max_value=1e6), st.decimals(min_value=0, max_value=1000, places=2)), min_size=1, max_size=12).filter(any)
)
def test_parts_sum_to_the_total_to_the_cent(total, shares):
    """No cent is lost or made; each part is within a cent of its exact share; equal parts differ by a cent at most."""
    parts = split_cents(total, shares)
    assert sum(parts) == total
    whole = sum(float(share) for share in shares)
    for part, share in zip(parts, shares, strict=True):
        assert abs(float(part) - float(total) * float(share) / whole) <= 0.0101 + abs(float(total)) * 1e-12


def test_split_by_hand():
    """One dollar in three; a credit mirrors it; a zero share gets nothing; the larger loss is made good first."""
    assert split_cents(Decimal("1.00"), [1, 1, 1]) == (Decimal("0.34"), Decimal("0.33"), Decimal("0.33"))
    assert split_cents(Decimal("-1.00"), [1, 1, 1]) == (Decimal("-0.34"), Decimal("-0.33"), Decimal("-0.33"))
    assert split_cents(Decimal("0.05"), [0, 1, 1]) == (Decimal("0.00"), Decimal("0.03"), Decimal("0.02"))
    assert split_cents(Decimal("0.10"), [0.101, 0.899]) == (Decimal("0.01"), Decimal("0.09"))


@pytest.mark.parametrize("shares", [[], [0, 0], [-1, 2], [math.nan], [math.inf]])
def test_shares_that_cannot_be_used_are_refused(shares):
    """No shares, all zero, negative, not a number."""
    with pytest.raises(PriceError, match="Shares must be numbers of zero or more"):
        split_cents(Decimal("1.00"), shares)


def test_parts_of_a_cent_cannot_be_split():
    """A total must be whole cents."""
    with pytest.raises(PriceError, match=r"1\.005 has parts of a cent"):
        split_cents(Decimal("1.005"), [1])


def test_tax_is_rounded_once():
    """1.41 at 6 percent is 0.0846: third decimal 4, so 0.08; rounding twice (0.085, 0.09) is the trap."""
    assert tax_on([Decimal("1.41")], Decimal("0.06")) == Decimal("0.08")
    assert tax_on([Decimal("1.42")], Decimal("0.06")) == Decimal("0.09")  # 0.0852
    assert tax_on([Decimal("0.75")], Decimal("0.06")) == Decimal("0.05")  # 0.0450
    assert tax_on([], Decimal("0.06")) == Decimal("0.00")


def test_tax_by_item_and_by_invoice_differ():
    """Three items of 0.09 at 6 percent: 0.0054 each rounds to 0.01, three cents by item, 0.0162 so two by invoice."""
    amounts = [Decimal("0.09")] * 3
    assert tax_on(amounts, Decimal("0.06"), basis="item") == Decimal("0.03")
    assert tax_on(amounts, Decimal("0.06")) == Decimal("0.02")
