"""Estimating and material takeoff for a kitchen-sink-and-counter job.

What stands in `__all__` is for notebooks. What is not needed for an estimate is loaded when it is first used.
"""

from importlib import import_module
from typing import TYPE_CHECKING

from kit.estimating import Estimate, estimate, revalue
from kit.job import Job, read_job
from kit.lists import Lists, load_lists
from kit.shipped_files import shipped

if TYPE_CHECKING:
    from kit.archive.spent import read_spent
    from kit.contract.backup import back_up_folder
    from kit.contract.contract_file import bill_contract, cancel_contract, offer_contract, open_contract, record_end, record_payment, sign_contract, take_back
    from kit.contract.ledger import contract_states
    from kit.contract.spending import record_spending
    from kit.earned_value import BudgetedWork, EarnedValue, measure_earned_value, percent_complete_by_cost
    from kit.export.change_files import change_contents, offer_change, price_contract_change
    from kit.export.estimate_files import files_to_send
    from kit.export.ledger_tables import ledger_files
    from kit.export.posting_files import posting_files
    from kit.issued import issue_estimate, open_issued
    from kit.labor.network import Activity, Link, plan_network
    from kit.labor.three_point import beta_pert_quantiles, beta_pert_variance, pert_mean, pert_variance
    from kit.learning.back_test import back_test
    from kit.learning.belief import Belief, update_belief
    from kit.learning.deciding import accept_lessons, refuse_lesson, take_in_job
    from kit.learning.invented import write_invented_history
    from kit.learning.job_rows import list_jobs
    from kit.learning.learn import learn_from_jobs
    from kit.learning.offer_shares import offer_shares
    from kit.learning.outliers import find_outliers
    from kit.outlook import cash_of, risk_of, schedule_of, set_contingency
    from kit.repricing import reprice
    from kit.risk.finish_chance import UncertainActivity, approximate_finish, try_finish

__all__ = [
    "Activity",
    "Belief",
    "BudgetedWork",
    "EarnedValue",
    "Estimate",
    "Job",
    "Link",
    "Lists",
    "UncertainActivity",
    "accept_lessons",
    "approximate_finish",
    "back_test",
    "back_up_folder",
    "beta_pert_quantiles",
    "beta_pert_variance",
    "bill_contract",
    "cancel_contract",
    "cash_of",
    "change_contents",
    "contract_states",
    "estimate",
    "files_to_send",
    "find_outliers",
    "issue_estimate",
    "learn_from_jobs",
    "ledger_files",
    "list_jobs",
    "load_lists",
    "measure_earned_value",
    "offer_change",
    "offer_contract",
    "offer_shares",
    "open_contract",
    "open_issued",
    "percent_complete_by_cost",
    "pert_mean",
    "pert_variance",
    "plan_network",
    "posting_files",
    "price_contract_change",
    "read_job",
    "read_spent",
    "record_end",
    "record_payment",
    "record_spending",
    "refuse_lesson",
    "reprice",
    "revalue",
    "risk_of",
    "schedule_of",
    "set_contingency",
    "shipped",
    "sign_contract",
    "take_back",
    "take_in_job",
    "try_finish",
    "update_belief",
    "write_invented_history",
]
__version__ = "0.1.0"

_LOADED_WHEN_USED = {
    "kit.archive.spent": ("read_spent",),
    "kit.contract.backup": ("back_up_folder",),
    "kit.contract.contract_file": (
        "bill_contract",
        "cancel_contract",
        "offer_contract",
        "open_contract",
        "record_end",
        "record_payment",
        "sign_contract",
        "take_back",
    ),
    "kit.contract.ledger": ("contract_states",),
    "kit.contract.spending": ("record_spending",),
    "kit.export.change_files": ("change_contents", "offer_change", "price_contract_change"),
    "kit.export.estimate_files": ("files_to_send",),
    "kit.export.ledger_tables": ("ledger_files",),
    "kit.export.posting_files": ("posting_files",),
    "kit.issued": ("issue_estimate", "open_issued"),
    "kit.earned_value": ("BudgetedWork", "EarnedValue", "measure_earned_value", "percent_complete_by_cost"),
    "kit.labor.network": ("Activity", "Link", "plan_network"),
    "kit.labor.three_point": ("beta_pert_quantiles", "beta_pert_variance", "pert_mean", "pert_variance"),
    "kit.learning.back_test": ("back_test",),
    "kit.learning.belief": ("Belief", "update_belief"),
    "kit.learning.deciding": ("accept_lessons", "refuse_lesson", "take_in_job"),
    "kit.learning.invented": ("write_invented_history",),
    "kit.learning.job_rows": ("list_jobs",),
    "kit.learning.learn": ("learn_from_jobs",),
    "kit.learning.offer_shares": ("offer_shares",),
    "kit.learning.outliers": ("find_outliers",),
    "kit.outlook": ("cash_of", "risk_of", "schedule_of", "set_contingency"),
    "kit.repricing": ("reprice",),
    "kit.risk.finish_chance": ("UncertainActivity", "approximate_finish", "try_finish"),
}


def __getattr__(name: str) -> object:
    for module, names in _LOADED_WHEN_USED.items():
        if name in names:
            return getattr(import_module(module), name)
    message = f"module 'kit' has no attribute {name!r}"
    raise AttributeError(message)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
