"""Screens for the notebooks: thin views of one frozen job. Only this room knows a widget library."""

from kit.panels.estimator import Estimator
from kit.panels.owner import Owner

__all__ = ["Estimator", "Owner"]
