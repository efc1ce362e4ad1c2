"""The book's settings, and what pages need besides."""

from silverwright.book.settings import *  # noqa: F403
