"""What we charge: one list of rows that computes, explains and writes the sheet."""

from kit.pricing.build_up import compute_rows, price_job
from kit.pricing.kinds import row_kinds
from kit.pricing.packs import charge_packs
from kit.pricing.terms import Input, PriceTerms, find_preset, resolve_terms

__all__ = ["Input", "PriceTerms", "charge_packs", "compute_rows", "find_preset", "price_job", "resolve_terms", "row_kinds"]
