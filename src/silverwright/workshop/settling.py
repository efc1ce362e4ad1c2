"""After every act on a bath: its account is made anew from all that happened to it, and so is what stands in the waste bottles."""

from collections.abc import Collection
from typing import Final

from silverwright.book.happenings import Account
from silverwright.book.ledger import accounts_with, contents_in, document
from silverwright.book.models import Bath, BathEvent, Processing, ProcessingStep, WasteBottle, WasteEmptied
from silverwright.book.models.kept import Kept
from silverwright.errors import BadQuestion, Fault
from silverwright.questions.ingredients import IngredientRow, contents_of
from silverwright.records_chemistry import Contents
from silverwright.units import MILLILITRE
from silverwright.workshop.apart import refuse_apart
from silverwright.workshop.pouring import POURED_IN, gives_oxygen, poured_again
from silverwright.workshop.through import linked_again

BEGUN_UNKNOWN: Final = "what it was begun with"


def settle(bath: Bath, field: str = "") -> Account:
    """
    Make the accounts of this bath, and of those that share its liquid, anew.

    What cannot be - used before it was made, more poured off than there is - is refused here, beside this field of the form if one is named, and
    then nothing of the act is written.
    """
    try:
        accounts = accounts_with(bath)
    except BadQuestion as bad:
        raise BadQuestion([Fault(field or one.field, one.given, one.problem) for one in bad.faults]) from None
    bottles: set[int] = set()
    for pk, account in accounts.items():
        kept, fresh = document(account), Bath.objects.get(pk=pk)
        if (fresh.ledger, fresh.state) != (kept, account.state):
            fresh.ledger, fresh.state = kept, account.state
            fresh.save()
        for event in BathEvent.objects.filter(pk__in=account.wasted):
            if event.poured != account.wasted[event.pk]:
                event.poured = account.wasted[event.pk]
                event.save()
            bottles |= {event.waste_id} if event.waste_id else set()
    for bottle in WasteBottle.objects.filter(pk__in=bottles):
        settle_waste(bottle)
    return accounts[bath.pk] if bath.pk in accounts else Account(bath)


def settle_waste(bottle: WasteBottle) -> None:
    """What a waste bottle holds: what it was begun with, and what came since it was emptied."""
    emptied = WasteEmptied.objects.filter(bottle=bottle, archived_at=None).order_by("emptied_at").last()
    volume_ml, mass_g, names = 0.0, dict[str, float](), list[str]()
    if emptied is None and bottle.begun_ml:
        begun = contents_of([IngredientRow.model_validate(row) for row in bottle.begun_with], bottle.begun_ml)
        volume_ml, mass_g = begun.volume_ml, dict(begun.mass_g) or {BEGUN_UNKNOWN: begun.volume_ml}  # what nobody names may be all of it
    came = BathEvent.objects.filter(waste=bottle, archived_at=None).select_related("bath").order_by("happened_at", "pk")
    for event in came.filter(happened_at__gt=emptied.emptied_at) if emptied else came:
        volume_ml += event.poured.get("volume_ml", 0.0)
        for key, mass in event.poured.get("mass_g", {}).items():
            mass_g[key] = mass_g.get(key, 0.0) + mass
        names += [event.bath.name] if event.bath.name not in names else []
    holds = {"volume_ml": volume_ml, "mass_g": mass_g, "from_baths": names}
    if bottle.holds != holds:
        bottle.holds = holds
        bottle.save()


def follow(thing: Kept, changed: Collection[str] = ()) -> None:
    """After a correction, or when something was archived or brought back: what follows from it is made anew."""
    field = "changes" if changed else "name"
    if isinstance(thing, BathEvent):
        _follow_event(thing, changed, field)
    elif isinstance(thing, Bath):
        settle(thing, field)
        thing.refresh_from_db()
    elif isinstance(thing, WasteBottle):
        settle_waste(thing)
        _may_stay(thing, changed, field)
    elif isinstance(thing, WasteEmptied):
        settle_waste(thing.bottle)
    elif isinstance(thing, Processing | ProcessingStep):
        for step in thing.steps.all() if isinstance(thing, Processing) else [thing]:
            for bath in linked_again(step, anew="bath" in changed):
                settle(bath, field)


def _follow_event(event: BathEvent, changed: Collection[str], field: str) -> None:
    if event.what in POURED_IN and {"ingredients", "taken", "volume_ml", "temperature_celsius"} & set(changed):
        event.poured = poured_again(event)
        event.save()
    if event.what == "made" and event.bath.made_at != event.happened_at:
        event.bath.made_at = event.happened_at
        event.bath.save()
    settle(event.bath, field)
    if event.waste is not None:
        settle_waste(event.waste)
    if event.what in POURED_IN and changed:
        event.bath.refresh_from_db()
        whole = contents_in(event.bath.ledger)
        refuse_apart(field, whole, whole)
        for bottle in WasteBottle.objects.filter(pk__in=event.bath.events.filter(archived_at=None).values("waste")):
            refuse_apart(field, held_by(bottle), held_by(bottle))


def held_by(bottle: WasteBottle) -> Contents:
    """What is in a waste bottle."""
    return Contents(bottle.holds.get("volume_ml", 0.0), bottle.holds.get("mass_g", {}))


def cannot_take(bottle: WasteBottle, comes: Contents) -> list[str]:
    """Why a bottle cannot take this: a closed cap on peroxide, metal."""
    peroxide = gives_oxygen(comes)
    faults = []
    if peroxide and not bottle.vented:
        faults.append(
            "Peroxide gives off oxygen, and a closed bottle bursts. Put a vented cap on, correct the bottle to “vented: yes”, or take another bottle."
        )
    if bottle.metal and (peroxide or "silver" in comes.mass_g):
        faults.append("Metal makes peroxide give off its oxygen at once, and silver plates out on it. Take a plastic bottle.")
    return faults


def _may_stay(bottle: WasteBottle, changed: Collection[str], field: str) -> None:
    """A bottle that is told otherwise can still hold what is in it, and what it was begun with goes with the rest."""
    if not {"vented", "metal", "capacity_ml", "begun_ml", "begun_with"} & set(changed):
        return
    holds = held_by(bottle)
    faults = cannot_take(bottle, holds)
    if bottle.capacity_ml is not None and holds.volume_ml > bottle.capacity_ml:
        faults.append(f"There are {MILLILITRE.show(holds.volume_ml)} in it by the book: it takes no less.")
    if faults:
        raise BadQuestion([Fault(field, bottle.name, " ".join(faults))])
    refuse_apart(field, holds, holds)
