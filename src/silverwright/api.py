"""The Python door."""

from silverwright.asking.operation import Answer
from silverwright.catalogue import CATALOGUE, find


def ask(name: str, **given: object) -> Answer:
    """Ask a question: `ask("exposure.bellows", focal_mm=150, extension_mm=300)`."""
    answer: Answer = find(name).ask(given)
    return answer


__all__ = ["CATALOGUE", "ask", "find"]
