"""Screens for the notebooks: thin views of one frozen job. Only this room knows a widget library."""

from kit.panels.bookkeeper import Bookkeeper
from kit.panels.estimator import Estimator
from kit.panels.owner import Owner
from kit.panels.price_lists import PriceListScreen

__all__ = ["Bookkeeper", "Estimator", "Owner", "PriceListScreen"]
