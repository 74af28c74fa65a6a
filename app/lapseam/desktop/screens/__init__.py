"""Screens: one folder each, a pure `state` and a thin `view`."""
