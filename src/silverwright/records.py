"""Frozen records that kernels take: what the book and the questions know, without either."""
