"""The priced workbook: every sheet of one estimate in one file, live formulas with their values."""

import datetime as dt
import io
from dataclasses import replace

from kit.estimating import Estimate
from kit.export.basis_sheet import write_basis
from kit.export.build_up_sheet import place_build_up, write_build_up, write_parts
from kit.export.calendar_sheet import write_calendar
from kit.export.drawings_sheet import write_drawings
from kit.export.findings_sheet import write_findings
from kit.export.import_sheet import write_import
from kit.export.labor_sheet import place_labor, write_labor
from kit.export.overview_sheet import write_overview
from kit.export.payments_sheet import place_payments, write_payments
from kit.export.purchases_sheet import ordered_purchases, place_purchases, write_purchases
from kit.export.sheet_cells import Book, Place
from kit.export.takeoff_sheet import place_takeoff, write_takeoff
from kit.export.terms_sheet import place_terms, write_terms
from kit.issued import Issued
from kit.outlook import assess_risk, plan_schedule
from kit.pricing.build_up import price_job

__all__ = ["place_figures", "workbook_bytes"]

_LONGEST_FOOTER = 60
_FONT = {"font_name": "Arial", "font_size": 10}  # its widths are the same on every system
_OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
}


def workbook_bytes(estimate: Estimate, *, issued: Issued | None = None, dated: Estimate | None = None) -> bytes:
    """The workbook of an estimate; the same estimate gives the same bytes.

    Parameters
    ----------
    estimate
        As `kit.estimate` gives it.
    issued
        The issued document that the rows for the books are of; without it they are of a draft.
    dated
        The estimate whose days are shown, where they are counted from a later paper (`kit.outlook.ahead_of`).

    Raises
    ------
    PriceError
        If the estimate doesn't hang together: hours that don't follow from its lists, costs that don't sum to its direct cost.
    KitError
        If it has no calendar, as `kit.outlook.plan_schedule` says.
    """
    from xlsxwriter import Workbook

    identity, buffer = estimate.job.identity, io.BytesIO()
    title, dated = f"Job {identity.job_number}, {identity.customer}", dated or estimate
    schedule = plan_schedule(dated)
    risk = assess_risk(dated, schedule)
    with Workbook(buffer, _OPTIONS | {"default_format_properties": dict(_FONT)}) as workbook:  # the library changes what it is given
        workbook.set_properties({"title": title, "author": estimate.lists.company.name, "created": dt.datetime.combine(identity.visit_date, dt.time())})
        workbook.set_size(2400, 1500)
        book = Book(workbook, place_figures(estimate), f"Job {identity.job_number}"[:_LONGEST_FOOTER].replace("&", "&&"))
        write_overview(book, estimate, title, dated, schedule, risk)
        write_takeoff(book, estimate, f"Takeoff: {title}")
        write_purchases(book, estimate, f"Purchases: {title}")
        write_labor(book, estimate, f"Labor: {title}")
        write_calendar(book, dated, f"Calendar: {title}", schedule, risk)
        page = write_build_up(book, _with_idle_minimums(estimate), f"Build-up: {title}")
        write_parts(page, estimate, write_payments(page, estimate))
        write_terms(book, estimate, f"Terms and rates: {title}")
        write_findings(book, estimate, f"Findings and assumptions: {title}")
        write_drawings(book, estimate, f"Drawings: {title}")
        write_import(book, estimate, issued)
        write_basis(book, estimate, f"Lists: {title}")
    return buffer.getvalue()


def place_figures(estimate: Estimate) -> dict[str, Place]:
    """Where each figure that another cell reads will stand, worked out before anything is written."""
    built = place_build_up(_with_idle_minimums(estimate))
    figures = place_takeoff(estimate) | place_purchases(estimate) | place_labor(estimate) | place_terms(estimate)
    return figures | built | place_payments(estimate, built["all:checks"].row)


def _with_idle_minimums(estimate: Estimate) -> Estimate:
    """The estimate whose build-up adds up every purchase of the sheet, minimums at nothing among them."""
    purchases = tuple(ordered_purchases(estimate))
    if len(purchases) == len(estimate.purchases):
        return estimate
    charged = replace(estimate, purchases=purchases)
    return replace(charged, build_up=price_job(purchases, charged.cost_types, charged.tasks, charged.terms))
