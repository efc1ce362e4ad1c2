"""An answer as JSON: what can hurt stands before every amount, as on the page and on the command line."""

import pytest

from silverwright.asking.operation import AnyOperation
from silverwright.catalogue import catalogue


@pytest.mark.parametrize("operation", catalogue(), ids=lambda operation: operation.name)
def test_notes_come_before_any_figure(operation: AnyOperation) -> None:
    assert next(iter(operation.answer.model_fields)) == "notes"
