"""How to cut stock and slabs: exact, with a proven bound."""
