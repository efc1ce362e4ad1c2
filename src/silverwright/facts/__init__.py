"""Figures of the trade and the standards, each with its source."""
