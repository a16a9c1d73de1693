"""How sure are we? Seeded trials of what a job may cost and when it may be done.

Risk reads cost and hours only, never the job. numpy is imported when the first trial is drawn, not before.
"""

from kit.risk.cost import cost_risk, simulate_cost
from kit.risk.finish import FinishRisk, finish_risk
from kit.risk.outcome import CostRisk, Driver, DriverEffect, weigh_driver
from kit.risk.records import RiskItem, SiteRisk

__all__ = [
    "CostRisk",
    "Driver",
    "DriverEffect",
    "FinishRisk",
    "RiskItem",
    "SiteRisk",
    "cost_risk",
    "finish_risk",
    "simulate_cost",
    "weigh_driver",
]
