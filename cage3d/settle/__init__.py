"""Equilibrium: how a laid out cage hangs, and the proof that it does."""

from cage3d.settle.settling import settle
from cage3d.settle.state import SettledCage, State

__all__ = ["SettledCage", "State", "settle"]
