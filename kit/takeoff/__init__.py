"""How much of everything: one function a trade step, working in words and numbers."""
