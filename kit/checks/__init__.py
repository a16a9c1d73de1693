"""Will it fit, hold and drain: one module a question, each answer a Finding."""
