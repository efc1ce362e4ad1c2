"""One-of-a-kind direct positives: exposure, curve, trays, findings and the book."""

__version__ = "0.1.0"
