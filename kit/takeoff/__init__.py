"""How much of everything: one function a trade step, working in words and numbers."""

from kit.takeoff.takeoff import take_off

__all__ = ["take_off"]
