"""What stands on labels: bottles, baths and waste with what can hurt, sheets and holders with how they are told apart. Nothing is kept."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, datetime
from typing import Annotated, Any, Final, Literal
from urllib.parse import quote

from django.conf import settings
from django.utils.timezone import localtime
from pydantic import field_validator

from silverwright.asking.fields import Choice, Words
from silverwright.asking.operation import Typed, refuse
from silverwright.book.find import find_thing
from silverwright.book.models import Exposure, HolderSide, Sheet
from silverwright.book.queries import sheets, sides
from silverwright.book.shelf import BathKnown, StockKnown, StrengthNow, WasteKnown, bath_known, shelf, stock_known, waste_known
from silverwright.book.shelf_words import held
from silverwright.book.strongest import strongest_in
from silverwright.book.trouble import plain_trouble
from silverwright.errors import BadQuestion, Fault, UnknownName
from silverwright.questions.substances import named
from silverwright.report.labels import MOST_LABELS, OPEN, VENTED, WORKROOM, Label
from silverwright.units import MILLILITRE, SECOND, flashes_said
from silverwright.workshop.danger import danger_of, gives_gas

NEWEST: Final = 24  # our judgement: a page of labels
LINES_OF_STRENGTH: Final = 3  # our judgement: more does not fit, and the page of the bath has them
CLIPPED: Final = "clipped: "
NO_SHEET: Final = "No sheet is in the book yet. For what is in the holders, choose “holder sides”."
NAMES: Final = Words(help="Which of them, one name on a line; nothing means all.", example="B-05", longest=4000, lines=True)
ADDRESS: Final = Words(
    help="Where phones find this book, so that the code opens its page; nothing: the code holds the name.",
    example="http://darkroom.example:8000",
    longest=100,
)


class LabelForm(Typed):
    """What every label needs."""

    names: Annotated[str, NAMES] = ""
    address: Annotated[str, ADDRESS] = ""

    @field_validator("address")
    @classmethod
    def _an_address(cls, address: str) -> str:
        if address and not re.fullmatch(r"https?://[\w.\-\[\]:]+(/[\w.\-/]*)?", address):
            raise refuse("An address begins with “http”, such as http://darkroom.example:8000.")
        return address.rstrip("/")


class ShelfLabelsForm(LabelForm):
    """Labels for what stands on the shelf."""

    what: Annotated[
        Literal["everything", "bottles", "baths", "waste bottles"], Choice(help="For which of them.", example="baths", label="Labels for")
    ] = "everything"


class SheetLabelsForm(LabelForm):
    """Labels for sheets, or for the sides of holders with what is in them."""

    what: Annotated[
        Literal["sheets", "holder sides"],
        Choice(help="Sheets, the newest unless you name some; or holder sides that hold one.", example="holder sides", label="Labels for"),
    ] = "sheets"


def shelf_labels(given: Mapping[str, object]) -> list[Label]:
    """The labels for bottles, baths and waste bottles, by the book as it stands; raises `BadQuestion` with every fault."""
    with plain_trouble():
        form = ShelfLabelsForm.model_validate(_typed(given))
        kinds: dict[str, tuple[Callable[[str], Any], Callable[[Any, str], Label]]] = {
            "bottles": (stock_known, _stock_label),
            "baths": (bath_known, _bath_label),
            "waste bottles": (waste_known, _waste_label),
        }
        chosen = list(kinds) if form.what == "everything" else [form.what]
        if form.names:
            return _named(form, [kinds[kind] for kind in chosen])
        found = shelf()
        there = {"bottles": found.stocks, "baths": found.baths, "waste bottles": found.waste}
        labels = [kinds[kind][1](one, form.address) for kind in chosen for one in there[kind]]
        return _some(labels, "Nothing of that stands on the shelf yet.")


def sheet_labels(given: Mapping[str, object]) -> list[Label]:
    """The labels for sheets or for holder sides; raises `BadQuestion` with every fault."""
    with plain_trouble():
        form = SheetLabelsForm.model_validate(_typed(given))
        if form.what == "holder sides":
            wanted = {one.lower() for one in _lines(form.names)}
            full = [side for side in sides() if side.state in {"loaded", "exposed"}]
            chosen = [side for side in full if not wanted or wanted & {str(side.holder).lower(), f"{side.holder}/{side.side}".lower()}]
            return _some([_side_label(side, form.address) for side in chosen], "No side of these holders has anything in it.")
        if not form.names:
            newest = [line.sheet for line in sheets({})[:NEWEST]]
            return _some([_sheet_label(one, form.address) for one in newest], NO_SHEET)
        return _named(form, [(lambda number: find_thing("sheet", number), _sheet_label)], _lines(form.names.replace(",", "\n").replace(" ", "\n")))


def _typed(given: Mapping[str, object]) -> dict[str, object]:
    return {name: value for name, value in given.items() if value is not None and value != ""}


def _lines(text: str) -> list[str]:
    return [one.strip() for one in text.replace(";", "\n").split("\n") if one.strip()]


def _some(labels: list[Label], nothing: str) -> list[Label]:
    """At least one label, and not so many that nobody meant them."""
    if not labels:
        raise BadQuestion([Fault("names", "", nothing)])
    if len(labels) > MOST_LABELS:
        raise BadQuestion([Fault("names", "", f"{len(labels)} labels at once; at most {MOST_LABELS} are printed. Name some of them.")])
    return labels


def _named(
    form: LabelForm, kinds: Sequence[tuple[Callable[[str], Any], Callable[[Any, str], Label]]], names: Sequence[str] | None = None
) -> list[Label]:
    """A label for each name, every unknown name at once."""
    labels, faults = [], []
    for name in _lines(form.names) if names is None else names:
        trouble: UnknownName | None = None
        for known, label in kinds:
            try:
                labels.append(label(known(name), form.address))
                trouble = None
                break
            except UnknownName as unknown:
                trouble = trouble or unknown
        if trouble is not None:
            faults.append(str(trouble))
    if faults:
        raise BadQuestion([Fault("names", form.names[:80], " ".join(faults))])
    return _some(labels, "Name at least one.")


def code_of(kind: str, name: str, address: str) -> str:
    """What the square code holds: the page of the thing where phones find the book, else its kind and name."""
    return f"{address}/go/{kind}/{quote(name)}" if address else f"{kind} {name}"


def _invented() -> bool:
    return bool(getattr(settings, "EXAMPLE", False))


def day_said(at: date | datetime) -> str:
    """`28 November 2026`."""
    day = localtime(at) if isinstance(at, datetime) else at
    return f"{day.day} {day:%B %Y}"


def _stock_label(known: StockKnown, address: str) -> Label:
    stock, strongest = known.stock, strongest_in(known.stock)
    dates = [f"{words} {day_said(on)}" for words, on in (("Bought", stock.bought_on), ("opened", stock.opened_on)) if on]
    return Label(
        kind="Bottle",
        name=stock.name,
        code=code_of("stock", stock.name, address),
        strong=", ".join(part for part in (named(stock.substance), known.strength_said) if part),
        lines=(", ".join(dates), f"Best before {day_said(stock.best_before)}" if stock.best_before else "", stock.kept_where),
        danger=danger_of(strongest),
        cap=VENTED if stock.vented or gives_gas(strongest) else "",
        foot=WORKROOM,
        invented=_invented(),
    )


def _bath_label(known: BathKnown, address: str) -> Label:
    bath = known.bath
    acid = f", pH about {known.ph.value:.1f}" if known.ph is not None and known.ph.value is not None else ""
    strengths = [_strength(one) for one in known.strengths[:LINES_OF_STRENGTH]]
    made = f"Made {day_said(bath.made_at)}" + (f" as {bath.recipe_name}" if bath.recipe_name else "")
    return Label(
        kind=f"{bath.role.capitalize()}, {bath.kept_in}",
        name=bath.name,
        code=code_of("bath", bath.name, address),
        strong=strengths[0] if strengths else held(known.contents),
        lines=(*strengths[1:], f"{MILLILITRE.show(known.contents.volume_ml)}{acid}", made),
        danger=danger_of(known.contents),
        cap=_cap(known),
        foot=WORKROOM,
        invented=_invented(),
    )


def _cap(known: BathKnown) -> str:
    """A bottle of what makes gas has a cap that vents; any other vessel of it stays open."""
    if known.bath.kept_in == "bottle":
        return VENTED if known.bath.vented or gives_gas(known.contents) else ""
    return OPEN if gives_gas(known.contents) else ""


def _strength(strength: StrengthNow) -> str:
    """`hydrogen peroxide 8.6 %, 8.1 to 9` by weight."""
    now = strength.now
    if now.value is None:
        return named(strength.substance)
    limits = f", {now.low:.2g} to {now.high:.2g}" if now.low is not None and now.high is not None else ""
    return f"{named(strength.substance)} {now.value:.2g}\N{NO-BREAK SPACE}%\N{NO-BREAK SPACE}w/w{limits}"


def _waste_label(known: WasteKnown, address: str) -> Label:
    bottle = known.bottle
    begun = held(known.contents)
    return Label(
        kind="Waste, to be handed in",
        name=bottle.name,
        code=code_of("waste-bottle", bottle.name, address),
        strong=begun or "still empty",
        lines=(
            f"From {', '.join(known.from_baths)}" if known.from_baths else "",
            f"Takes {MILLILITRE.show(bottle.capacity_ml)}" if bottle.capacity_ml else "",
        ),
        danger=danger_of(known.contents) if begun else None,
        cap=VENTED if bottle.vented or gives_gas(known.contents) else "",
        foot=WORKROOM,
        invented=_invented(),
    )


def _sheet_label(sheet: Sheet, address: str) -> Label:
    exposures = list(sheet.exposed_as.exposures.filter(archived_at=None))
    corner = sheet.told_apart.removeprefix(CLIPPED) if sheet.told_apart.startswith(CLIPPED) else ""
    return Label(
        kind="Piece of a sheet" if sheet.letter else "Sheet",
        name=sheet.number,
        code=code_of("sheet", sheet.number, address),
        strong=sheet.subject,
        lines=(
            ", ".join(str(part) for part in (sheet.paper, sheet.lot) if part),
            _exposed(exposures),
            "Mirror image" if sheet.mirror_image else "Not a mirror image",
            f"Told apart: {sheet.told_apart}" if sheet.told_apart and not corner else "",
        ),
        corner=corner,
        invented=_invented(),
    )


def _exposed(exposures: Iterable[Exposure]) -> str:
    """`Exposed 12 January 2026, 97 s (1:37)`; several are counted."""
    found = list(exposures)
    if not found:
        return ""
    last = found[-1]
    given = flashes_said(last.flashes_given) if last.flashes_given else SECOND.show(last.given_s) if last.given_s else ""
    several = f"{len(found)} exposures" if len(found) > 1 else ""
    return ", ".join(part for part in (f"Exposed {day_said(last.exposed_at)}", several or given) if part)


def _side_label(side: HolderSide, address: str) -> Label:
    exposed = side.state == "exposed"
    since = f"Loaded {day_said(side.loaded_at)}" if side.loaded_at else ""
    return Label(
        kind="Holder side",
        name=f"{side.holder}, side {side.side}",
        code=code_of("side", f"{side.holder}/{side.side}", address),
        strong=f"Exposed: sheet {side.sheet}" if exposed else "Loaded, unexposed",
        lines=(f"{side.lot.paper}, {side.lot}" if side.lot else "", since, "" if side.corner else "No corner clipped."),
        corner=side.corner,
        invented=_invented(),
    )
