"""What we charge: one list of rows that computes, explains and writes the sheet; draws, cash and working back beside it."""

from kit.pricing.allowances import Allowance, Exclusion, list_allowances, list_exclusions
from kit.pricing.bills import Bill, list_bills
from kit.pricing.build_up import compute_rows, cost_of_hour, price_job
from kit.pricing.cash import CashDay, CashFlow, CashPlan, plan_cash
from kit.pricing.draws import Draw, DrawSchedule, due_now, limit_deposit, plan_draws
from kit.pricing.kinds import row_kinds
from kit.pricing.packs import charge_packs
from kit.pricing.terms import Input, PriceTerms, find_preset, resolve_terms
from kit.pricing.work_back import WorkedBack, find_price, find_price_for_crew_days, find_price_for_margin

__all__ = [
    "Allowance",
    "Bill",
    "CashDay",
    "CashFlow",
    "CashPlan",
    "Draw",
    "DrawSchedule",
    "Exclusion",
    "Input",
    "PriceTerms",
    "WorkedBack",
    "charge_packs",
    "compute_rows",
    "cost_of_hour",
    "due_now",
    "find_preset",
    "find_price",
    "find_price_for_crew_days",
    "find_price_for_margin",
    "limit_deposit",
    "list_allowances",
    "list_bills",
    "list_exclusions",
    "plan_cash",
    "plan_draws",
    "price_job",
    "resolve_terms",
    "row_kinds",
]
