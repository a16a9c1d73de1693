"""What we charge: one list of rows that computes, explains and writes the sheet."""

from kit.pricing.build_up import compute_rows, price_job
from kit.pricing.kinds import row_kinds
from kit.pricing.terms import Input, PriceTerms, resolve_terms

__all__ = ["Input", "PriceTerms", "compute_rows", "price_job", "resolve_terms", "row_kinds"]
