"""Estimating and material takeoff for a kitchen-sink-and-counter job."""

__version__ = "0.1.0"
