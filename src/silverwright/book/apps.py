"""The book as Django's app."""

from django.apps import AppConfig


class BookConfig(AppConfig):
    """What is kept."""

    name = "silverwright.book"
    label = "book"
    verbose_name = "The book"
