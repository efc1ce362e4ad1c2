"""Scans that were never made: drawn with known densities and corners, then spoilt as a flatbed spoils them."""
