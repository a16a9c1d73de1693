"""Files for other people: the priced workbook and the rows for the books."""

from kit.export.inputs import InputCell, input_cells
from kit.export.rows import ImportRow, defuse_text, import_rows, restore_text
from kit.export.workbook import workbook_bytes, write_workbook

__all__ = ["ImportRow", "InputCell", "defuse_text", "import_rows", "input_cells", "restore_text", "workbook_bytes", "write_workbook"]
