"""Turns dictated workshop notes into a maintenance record that can be trusted."""

__version__ = "0.1.0"
