"""Columns made from words: a number of the vocabulary, or one of a few words. A change of help or bounds is no change of the store."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from silverwright.asking.fields import Quantity
from silverwright.book.words import LONGEST_WORD, listed

if TYPE_CHECKING:
    Numbers = models.FloatField[Any, Any]
    Texts = models.CharField[Any, Any]
else:
    Numbers, Texts = models.FloatField, models.CharField
Deconstructed = tuple[str, str, Sequence[Any], dict[str, Any]]


class NumberColumn(Numbers):
    """A number as migrations see it: no bounds and no help."""

    def deconstruct(self) -> Deconstructed:
        """A plain column of numbers."""
        name, _, arguments, more = super().deconstruct()
        return name, "django.db.models.FloatField", arguments, {key: more[key] for key in more if key not in {"validators", "help_text"}}


class WordColumn(Texts):
    """A word as migrations see it: no list of choices."""

    def deconstruct(self) -> Deconstructed:
        """A plain column of text."""
        name, _, arguments, more = super().deconstruct()
        return name, "django.db.models.CharField", arguments, {key: more[key] for key in more if key != "choices"}


def column(mark: Quantity) -> "models.FloatField[float | int | str | None, float | None]":
    """A number with the unit, bounds and help of its word; empty where nobody knows it."""
    return NumberColumn(help_text=mark.help, validators=[MinValueValidator(mark.low), MaxValueValidator(mark.high)], null=True, blank=True)


def word(words: object, default: str) -> "models.CharField[str, str]":
    """One of a few words."""
    return WordColumn(max_length=LONGEST_WORD, choices=[(one, one) for one in listed(words)], default=default)
