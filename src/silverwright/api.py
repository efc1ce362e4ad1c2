"""
The Python door: ask anything, and keep a book.

    >>> from silverwright import api
    >>> api.ask("exposure.bellows", focal_mm=210, extension_mm=315)
    >>> api.do("paper", name="RC paper, grade 2")
    >>> api.do("lens", name="210 mm lens", focal_mm=210)
    >>> planned = api.plan(paper="RC paper, grade 2", lens="210 mm lens", reading_ev=10, extension_mm=315, aperture_f="f/22")
    >>> done = api.do("expose", paper="RC paper, grade 2", lens="210 mm lens", reading_ev=10, extension_mm=315, aperture_f="f/22", given_s=97)
    >>> api.story(done.name)

Asking keeps nothing and opens nothing. The first act, plan or reading of the book opens it: the folder in `SILVERWRIGHT_HOME`, or else the usual one
of this computer.
"""

from pathlib import Path
from typing import TYPE_CHECKING, Literal

from silverwright.asking.operation import Answer
from silverwright.catalogue import catalogue, find

if TYPE_CHECKING:
    from silverwright.book.counting import CountKnown
    from silverwright.book.lots import BoxKnown, HolderKnown
    from silverwright.book.models import Calibration
    from silverwright.book.queries import PaperKnown, SheetLine, Story
    from silverwright.book.scans import ScanKnown
    from silverwright.book.shelf import BathKnown, Shelf, StockKnown
    from silverwright.records_chemistry import Recipe
    from silverwright.report.labels import LabelSize
    from silverwright.workshop.act import Done
    from silverwright.workshop.flashes import PlannedFlashes
    from silverwright.workshop.plan import Planned


def ask(name: str, /, **given: object) -> Answer:
    """Ask a question: `ask("exposure.bellows", focal_mm=150, extension_mm=300)`."""
    answer: Answer = find(name).ask(given)
    return answer


def open_book() -> None:
    """Open the book in this process and bring it up to date, once; everything below does it by itself."""
    from silverwright.book import opening

    opening.open_book()


def do(deed: str, /, *, key: str = "", who: str = "", **given: object) -> "Done":
    """
    Do an act: `do("load", holder="holder 1", side="1", lot="box A")`.

    Args:
        deed: Name of the act: `[deed.name for deed in silverwright.workshop.deeds.DEEDS]`.
        key: Any text of your own; the same key and content sent again makes no second act and gives the same result.
        who: Who does it; stands in the history.
        given: The fields of the act's form.

    Returns:
        What was made or changed, in a sentence, with notes worth reading.

    Raises:
        BadQuestion: with every fault. Stale: somebody else corrected the same field meanwhile. Contradiction: the key was used for something else.
    """
    open_book()
    from silverwright.workshop import deeds

    return deeds.do(deed, {name: keep_file(value) if isinstance(value, Path) else value for name, value in given.items()}, key=key, who=who)


def keep_file(path: Path) -> str:
    """Keep a file byte for byte; its SHA-256, by which acts name it. `do("scan", file=Path("26-018.tif"), ...)` does it by itself."""
    open_book()
    from silverwright.book.files import keep_open

    with path.expanduser().open("rb") as file:
        return keep_open(file).sha256


def densities(scan: str) -> "ScanKnown":
    """One scan and its densities, after whatever still waits for it is done: `densities("scan-003").densities`."""
    open_book()
    from silverwright.book.scans import scan_known
    from silverwright.workshop.worker import finish

    finish(scan)
    return scan_known(scan)


def calibration(scanner: str) -> "Calibration":
    """How a scanner tells density, and which steps of its tablet are left out: `calibration("flatbed in the office").answer.answer`."""
    open_book()
    from silverwright.book.scans import calibration_known

    return calibration_known(scanner)


def plan(**given: object) -> "Planned | PlannedFlashes":
    """How to expose, with everything that the book knows: `plan(paper="...", reading_ev=10, aperture_f="f/22")`; with a flash, how many flashes."""
    open_book()
    from silverwright.workshop.flashes import plan_either

    return plan_either(given)


def field_page(**given: object) -> str:
    """The field page, one file for a phone: `Path("field-page.html").write_text(field_page(paper="RC paper, grade 2"))`."""
    open_book()
    from silverwright.report import fieldpage
    from silverwright.workshop.outdoors import take_along

    return fieldpage.field_page(take_along(given))


def card(size: Literal["a6", "a4"] = "a6", **given: object) -> bytes:
    """The exposure card as PDF, two pages of A6 or one of A4 to fold twice: `card(paper="RC paper, grade 2", lens="210 mm lens")`."""
    open_book()
    from silverwright.report.card import card_pdf
    from silverwright.workshop.outdoors import take_along

    return card_pdf(take_along(given), size)


def ruler(sheet: Literal["a4", "us-letter"] = "a4") -> bytes:
    """The ruler target as PDF."""
    from silverwright.report.target import target_pdf

    return target_pdf(sheet)


def recipes(role: str = "") -> "tuple[Recipe, ...]":
    """The recipes in the order of the process, or those for one step: `recipes("bleach")[0].parts`."""
    from silverwright.questions.recipe import recipes_for

    return recipes_for(role)


def mixing_card(page: Literal["a5", "half-letter"] = "a5", **given: object) -> bytes:
    """The mixing card as PDF: `mixing_card(recipe="peroxide bath", volume_ml="1 L", stocks="blue can; hydrogen peroxide; 35; % w/w")`."""
    from silverwright.questions.mix import MixQuestion, answer
    from silverwright.report.mixingcard import mixing_card_pdf

    question = MixQuestion.model_validate(given)
    return mixing_card_pdf(question, answer(question), page)


def hazard_card(page: Literal["a4", "us-letter"] = "a4") -> bytes:
    """The hazard card for the wall as PDF, by what stands on the shelf: `Path("hazard-card.pdf").write_bytes(hazard_card())`."""
    open_book()
    from silverwright.report.hazardcard import hazard_card_pdf
    from silverwright.workshop.hazardcard import hazard_card as of_the_room

    return hazard_card_pdf(of_the_room(), page)


def labels(size: "LabelSize" = "62x29", **given: object) -> bytes:
    """Labels for bottles, baths and waste as PDF: `labels(what="baths")`, `labels("a4", names="B-05")`."""
    open_book()
    from silverwright.report.labels import labels_pdf
    from silverwright.workshop.labels import shelf_labels

    return labels_pdf(shelf_labels(given), size)


def sheet_labels(size: "LabelSize" = "62x29", **given: object) -> bytes:
    """Labels for sheets or holder sides as PDF: `sheet_labels(names="26-018 26-019")`, `sheet_labels("a4", what="holder sides")`."""
    open_book()
    from silverwright.report.labels import labels_pdf
    from silverwright.workshop.labels import sheet_labels as chosen

    return labels_pdf(chosen(given), size)


def boxes() -> "tuple[BoxKnown, ...]":
    """The boxes of paper: `boxes()[0].box.sheets_left`."""
    open_book()
    from silverwright.book.lots import boxes as found
    from silverwright.book.trouble import plain_trouble

    with plain_trouble():
        return found()


def holders() -> "tuple[HolderKnown, ...]":
    """The holders, side by side: `holders()[0].sides[0].corner`."""
    open_book()
    from silverwright.book.lots import holders as found
    from silverwright.book.trouble import plain_trouble

    with plain_trouble():
        return found()


def running() -> "tuple[CountKnown, ...]":
    """What is being exposed now: `running()[0].left_s`."""
    open_book()
    from silverwright.book.counting import counts_running
    from silverwright.workshop.stamp import stamp

    return counts_running(stamp())


def shelf() -> "Shelf":
    """What stands on the shelf: `shelf().baths[0].strengths`."""
    open_book()
    from silverwright.book import shelf as standing
    from silverwright.book.trouble import plain_trouble

    with plain_trouble():
        return standing.shelf()


def bath(name: str) -> "BathKnown":
    """One bath with all that happened to it: `bath("bleach 1").ph`."""
    open_book()
    from silverwright.book.shelf import bath_known
    from silverwright.book.trouble import plain_trouble

    with plain_trouble():
        return bath_known(name)


def stock(name: str) -> "StockKnown":
    """One bottle with its tests: `stock("peroxide 35 %").strength_percent_ww`."""
    open_book()
    from silverwright.book.shelf import stock_known
    from silverwright.book.trouble import plain_trouble

    with plain_trouble():
        return stock_known(name)


def sheets(**filters: str) -> "tuple[SheetLine, ...]":
    """The sheets, the newest first: `sheets(paper="RC paper, grade 2", state="exposed")`."""
    open_book()
    from silverwright.book import queries
    from silverwright.book.trouble import plain_trouble

    with plain_trouble():
        return queries.sheets(filters)


def story(number: str) -> "Story":
    """One sheet's whole story: `story("26-018")`."""
    open_book()
    from silverwright.book import queries
    from silverwright.book.trouble import plain_trouble

    with plain_trouble():
        return queries.sheet_story(number)


def paper(name: str, process: str = "direct positive", *, fresh_baths: bool = False) -> "PaperKnown":
    """What own sheets say of a paper: `paper("RC paper, grade 2").next.paper_ei`; for the baths as they stand, or for baths mixed afresh."""
    open_book()
    from silverwright.book import queries
    from silverwright.book.trouble import plain_trouble

    with plain_trouble():
        return queries.paper_known(name, process, fresh_baths=fresh_baths)


__all__ = [
    "ask",
    "bath",
    "boxes",
    "card",
    "catalogue",
    "densities",
    "do",
    "field_page",
    "find",
    "hazard_card",
    "holders",
    "keep_file",
    "labels",
    "mixing_card",
    "open_book",
    "paper",
    "plan",
    "recipes",
    "ruler",
    "running",
    "sheet_labels",
    "sheets",
    "shelf",
    "stock",
    "story",
]
