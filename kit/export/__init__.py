"""Files for other people: workbook, proposal, lists to buy and to work by, rows for the books."""

from kit.export.handoff import HandoffRow, control_totals, handoff_bytes, handoff_rows, handoff_schema, read_handoff, write_handoff
from kit.export.inputs import InputCell, input_cells
from kit.export.papers import PaperMark, Payment, mark_of
from kit.export.proposal import AgreedPrice, Offer, offers_from, proposal_bytes, proposal_pages, write_proposal
from kit.export.rows import ImportRow, defuse_text, import_rows, restore_text
from kit.export.workbook import workbook_bytes, write_workbook

__all__ = [
    "AgreedPrice",
    "HandoffRow",
    "ImportRow",
    "InputCell",
    "Offer",
    "PaperMark",
    "Payment",
    "control_totals",
    "defuse_text",
    "handoff_bytes",
    "handoff_rows",
    "handoff_schema",
    "import_rows",
    "input_cells",
    "mark_of",
    "offers_from",
    "proposal_bytes",
    "proposal_pages",
    "read_handoff",
    "restore_text",
    "workbook_bytes",
    "write_handoff",
    "write_proposal",
    "write_workbook",
]
