"""What we charge: one list of rows that computes, explains and writes the sheet; draws, cash and working back beside it."""
