"""
Everything that can go wrong, as one tree.

SilverwrightError        never raised itself
    BadQuestion          what was typed has faults; holds every one of them
    UnknownName          nothing of that name is here: no question, no act, no fact, no thing in the book
    OutOfRange           a kernel was called outside the range where it means something
    NotEnoughReadings    fewer readings than the method needs
    Stale                what was corrected had been changed by somebody else meanwhile
    Contradiction        the same key was sent before with another content
    DiskFull             the disk takes no more: nothing of the act was written
    BookBusy             somebody else wrote for too long
    BookDamaged          the book's file cannot be read as a book
    BookOutOfReach       the book's file or folder cannot be opened or written
    BookTooNew           a newer version of silverwright wrote this book
    BadBackup            a backup is damaged or incomplete, or would overwrite something
    NotStarted           the example's server did not start
    ScanRefused          a scan's file cannot be measured as it is; holds every reason
    ScanFailed           the reading of a scan's file ended without a result
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass


class SilverwrightError(Exception):
    """Base of the tree."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with what was typed, beside the field that it belongs to."""

    field: str
    given: str
    problem: str


class BadQuestion(SilverwrightError):
    """What was typed cannot be used like this."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(f"{fault.field}: {fault.problem}" for fault in faults))


class UnknownName(SilverwrightError):
    """Nothing of that name is here."""

    def __init__(self, kind: str, name: str, near: Sequence[str] = ()) -> None:
        self.kind, self.name, self.near = kind, name, tuple(near)
        hint = f" Did you mean {' or '.join(near)}?" if near else ""
        super().__init__(f"No {kind} is called “{name}”.{hint}")


class OutOfRange(SilverwrightError):
    """A kernel was called with a number for which its formula says nothing."""

    def __init__(self, name: str, value: float, allowed: str) -> None:
        self.name, self.value, self.allowed = name, value, allowed
        super().__init__(f"{name} is {value:g}; allowed is {allowed}.")


class NotEnoughReadings(SilverwrightError):
    """Fewer readings than the method needs."""

    def __init__(self, what: str, given: int, needed: int) -> None:
        self.what, self.given, self.needed = what, given, needed
        super().__init__(f"{given} {what} given; at least {needed} are needed.")


def of_kind(kind: str, name: str) -> str:
    """`sheet 26-014`, but `scan-002`: a name that says its kind needs it once."""
    return name if name.startswith(f"{kind}-") else f"{kind} {name}"


class Stale(SilverwrightError):
    """What was corrected had been changed meanwhile: both values are shown, nothing is overwritten."""

    def __init__(self, kind: str, name: str, mine: Mapping[str, str], theirs: Mapping[str, str]) -> None:
        self.kind, self.name, self.mine, self.theirs = kind, name, dict(mine), dict(theirs)
        super().__init__(f"Nothing was overwritten: {of_kind(kind, name)} was changed after you opened it. Look at both values and correct again.")


class Contradiction(SilverwrightError):
    """The same key was sent before, with another content."""

    def __init__(self, key: str) -> None:
        self.key = key
        super().__init__("This key was already used for something else that was recorded. Send a new key.")


class DiskFull(SilverwrightError):
    """The disk takes no more."""

    def __init__(self) -> None:
        super().__init__(
            "The disk is full, or a file may grow no further. Nothing of this was written, and everything recorded before is still there. "
            "Make room, then send it again."
        )


class BookBusy(SilverwrightError):
    """Somebody else wrote for too long."""

    def __init__(self) -> None:
        super().__init__("The book was busy for too long, and nothing of this was written. Send it again.")


class BookDamaged(SilverwrightError):
    """The book's file cannot be read as a book."""

    def __init__(self) -> None:
        super().__init__("The book's file is damaged. Leave it as it is, and restore the newest backup into an empty folder.")


class BookOutOfReach(SilverwrightError):
    """The book's file or folder cannot be opened or written."""

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(f"The book cannot be opened or written: {why}. Nothing was changed. See that the data folder exists and may be written in.")


class BookTooNew(SilverwrightError):
    """A newer version of silverwright wrote this book."""

    def __init__(self, unknown: Sequence[str]) -> None:
        self.unknown = tuple(unknown)
        super().__init__("A newer version of silverwright wrote this book. Nothing was changed. Install that version, or restore an older backup.")


class BadBackup(SilverwrightError):
    """A backup is damaged or incomplete, or would overwrite something."""

    def __init__(self, where: str, problems: Sequence[str]) -> None:
        self.where, self.problems = where, tuple(problems)
        super().__init__(f"{where}: {'; '.join(problems)}.")


class NotStarted(SilverwrightError):
    """The example's server did not start."""

    def __init__(self) -> None:
        super().__init__("The example could not be started. Your own book is not touched. What went wrong stands where this server was started.")


class ScanRefused(SilverwrightError):
    """A scan's file cannot be measured as it is: every reason, and what the file says of itself as far as it could be read."""

    def __init__(self, faults: Sequence[Fault], header: Mapping[str, object] | None = None) -> None:
        self.faults, self.header = tuple(faults), dict(header or {})
        super().__init__(" ".join(fault.problem for fault in faults))


class ScanFailed(SilverwrightError):
    """The reading of a scan's file ended without a result."""

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(f"The scan could not be read: {why} The file is kept as it is.")
