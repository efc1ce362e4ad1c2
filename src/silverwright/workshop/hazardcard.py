"""What stands on the hazard card: every bottle, bath and waste bottle of the book, the number of the poison centre, the rules of the room."""

from collections.abc import Iterator

from django.conf import settings
from django.utils.timezone import localdate

from silverwright.book.shelf import Shelf, rules_of, shelf
from silverwright.book.shelf_words import bath_holds, day_said, waste_holds
from silverwright.book.strongest import strongest_in
from silverwright.book.trouble import plain_trouble
from silverwright.questions.substances import named
from silverwright.report.hazardcard import HazardCard, Standing


def hazard_card() -> HazardCard:
    """The card of the room as it stands today."""
    with plain_trouble():
        room = (found := shelf()).workroom
        return HazardCard(
            standing=tuple(_standing(found)),
            poison_centre=room.poison_centre if room else "",
            rules=rules_of(room),
            day=day_said(localdate()),
            invented=bool(getattr(settings, "EXAMPLE", False)),
        )


def _standing(found: Shelf) -> Iterator[Standing]:
    for known in found.stocks:
        said = ", ".join(part for part in (named(known.stock.substance), known.strength_said) if part)
        yield Standing(known.stock.name, said, strongest_in(known.stock))
    for bath in found.baths:
        yield Standing(bath.bath.name, bath_holds(bath), bath.contents)
    for waste in found.waste:
        yield Standing(waste.bottle.name, waste_holds(waste), waste.contents)
