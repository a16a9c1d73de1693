"""Change orders: what a change costs, and what it does to days and payments."""
