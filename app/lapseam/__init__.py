"""Lapseam: guided photo walkaround and condition disclosure for collector cars."""

__version__ = "0.1.0"
