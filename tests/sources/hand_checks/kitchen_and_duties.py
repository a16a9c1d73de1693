"""Limits of the kitchen and of duties, read again from what is printed elsewhere."""

from kit.sources import value


def check_lead_rule():
    """Houses built before 1978; 6 sq ft a room inside (cfr-40-745, 745.83)."""
    printed_year, printed_area = 1978, 6
    assert value("checks", "lead/year") == printed_year
    assert value("checks", "lead/area-least") == printed_area


def check_suspect_flooring():
    """Installed no later than 1980 (cfr-29-1926-1101)."""
    printed_year = 1980
    assert value("checks", "flooring/year") == printed_year


def check_deposit_rule_of_california():
    """Above 500 USD in writing; at most the lesser of 1,000 USD or a tenth (ca-bpc-7159)."""
    printed_contract, printed_most, printed_share = 500, 1000, 0.10
    assert value("checks", "ca/contract-from") == printed_contract
    assert value("checks", "ca/deposit-most") == printed_most
    assert value("checks", "ca/deposit-share") == printed_share


def check_hole_in_a_stud():
    """Six tenths of the depth where nothing is carried (irc, R602.6; from memory)."""
    assert value("checks", "stud/hole-share") == 6 / 10


def check_days_to_cancel_a_sale_at_home():
    """Until midnight of the third business day (cfr-16-429, 429.1)."""
    printed_days = 3
    assert value("calendar", "cooling-off/business-days") == printed_days
