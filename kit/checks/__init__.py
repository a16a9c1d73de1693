"""Will it fit, hold and drain: one module a question, each answer a Finding."""

from kit.checks.check import check_job, worst_first

__all__ = ["check_job", "worst_first"]
