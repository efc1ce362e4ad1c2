"""What was read from the book as a document: plain words, numbers and lists, the same as JSON at every door."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from typing import Any

from django.db.models import ForeignKey, Model, QuerySet
from pydantic import BaseModel

from silverwright.book.models import KeptAnswer

UNTOLD = frozenset({"id"})  # a row's number is the store's own business


def document(value: object) -> Any:  # noqa: ANN401 (any JSON)
    """Anything that `book/queries.py` gives: a row tells its columns, and names what it belongs to."""
    if isinstance(value, Model):
        return _row(value)
    if isinstance(value, BaseModel):
        return value.model_dump(mode="json")
    if isinstance(value, Mapping):
        return {str(name): document(one) for name, one in value.items()}
    if isinstance(value, tuple | list | QuerySet):
        return [document(one) for one in value]
    if is_dataclass(value):
        return {one.name: document(getattr(value, one.name)) for one in fields(value)}
    return value.isoformat() if isinstance(value, date) else value


def _row(row: Model) -> dict[str, Any]:
    told: dict[str, Any] = {}
    for field in row._meta.concrete_fields:  # noqa: SLF001 (Django's public name for it)
        if field.name in UNTOLD:
            continue
        value = getattr(row, field.name)
        if isinstance(field, ForeignKey) and value is not None and not isinstance(value, KeptAnswer):
            value = str(value)
        told[field.name] = document(value)
    for name in vars(row).get("_prefetched_objects_cache", {}):
        told[name] = [document(one) for one in getattr(row, name).all()]
    return told
