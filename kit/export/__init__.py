"""Files for other people: workbook, proposal, lists to buy and to work by, rows for the books."""
