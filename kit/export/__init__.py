"""Files for other people: workbook, proposal, lists to buy and to work by, rows for the books."""

from kit.export.bill import bill_bytes, bill_pages, bill_stem, bills_of, write_bill
from kit.export.change_order import Changing, change_order_bytes, change_order_pages
from kit.export.control import ControlCheck, check_control
from kit.export.crew_sheet import crew_sheet_bytes, crew_sheet_pages, write_crew_sheet
from kit.export.handoff import HandoffRow, control_totals, handoff_bytes, handoff_files, handoff_rows, handoff_schema, read_handoff, row_files, write_handoff
from kit.export.handoff_change import change_rows
from kit.export.inputs import InputCell, input_cells
from kit.export.papers import PaperMark, Payment, mark_of, payments_of
from kit.export.proposal import AgreedPrice, Offer, agreed_prices, offers_from, proposal_bytes, proposal_pages, write_proposal
from kit.export.purchase_list import PurchaseRow, list_purchases, purchase_list_bytes, purchase_list_csv, purchase_list_pages, write_purchase_list
from kit.export.rows import ImportRow, defuse_text, import_rows, restore_text
from kit.export.workbook import workbook_bytes, write_workbook

__all__ = [
    "AgreedPrice",
    "Changing",
    "ControlCheck",
    "HandoffRow",
    "ImportRow",
    "InputCell",
    "Offer",
    "PaperMark",
    "Payment",
    "PurchaseRow",
    "agreed_prices",
    "bill_bytes",
    "bill_pages",
    "bill_stem",
    "bills_of",
    "change_order_bytes",
    "change_order_pages",
    "change_rows",
    "check_control",
    "control_totals",
    "crew_sheet_bytes",
    "crew_sheet_pages",
    "defuse_text",
    "handoff_bytes",
    "handoff_files",
    "handoff_rows",
    "handoff_schema",
    "import_rows",
    "input_cells",
    "list_purchases",
    "mark_of",
    "offers_from",
    "payments_of",
    "proposal_bytes",
    "proposal_pages",
    "purchase_list_bytes",
    "purchase_list_csv",
    "purchase_list_pages",
    "read_handoff",
    "restore_text",
    "row_files",
    "workbook_bytes",
    "write_bill",
    "write_crew_sheet",
    "write_handoff",
    "write_proposal",
    "write_purchase_list",
    "write_workbook",
]
