"""Reading the Shelf: every bottle, bath and waste bottle with what is in it today. Nothing here changes anything."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from math import exp
from typing import Any, Final, cast

from django.db.models import Count as Counted
from django.utils.timezone import now

from silverwright.asking.operation import EIGHTY_PERCENT_SD, Estimate
from silverwright.book import bottles
from silverwright.book.find import find_thing
from silverwright.book.ledger import contents_in
from silverwright.book.models import Bath, BathEvent, ProcessingStep, Recipe, Stock, StockTest, WasteBottle, Workroom
from silverwright.book.story import Change, changes_of
from silverwright.questions.hazard import IN_FORCE, RuleSet
from silverwright.records_chemistry import Contents

DAY_S: Final = 86400.0  # arithmetic
PERCENT: Final = 80  # our judgement (house rule): limits hold 80 of 100


@dataclass(frozen=True, slots=True)
class StrengthNow:
    """How strong one substance of a bath was mixed, and how strong it is now, both by weight."""

    substance: str
    as_mixed_percent_ww: float
    now: Estimate


@dataclass(frozen=True, slots=True)
class StockKnown:
    """A bottle: what is left in it, how strong by its label or its newest test, and how old it is."""

    stock: Stock
    contents: Contents | None
    strength_percent_ww: Estimate | None
    strength_said: str
    unclear: bool
    left_ml: float | None
    left_g: float | None
    age_days: float | None
    tested: bool
    tests: tuple[StockTest, ...] = ()
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True, slots=True)
class BathKnown:
    """A bath: what is in it now by its account, what went through it, and how old it is; its events where it stands alone."""

    bath: Bath
    age_days: float
    sheets: float
    area_m2: float
    contents: Contents
    strengths: tuple[StrengthNow, ...]
    ph: Estimate | None
    silver_g: Estimate | None
    clearing_factor: float | None
    came_in_g: Mapping[str, float]
    carried_g: Mapping[str, float]
    reacted_g: Mapping[str, float]
    disposed_g: Mapping[str, float]
    events: tuple[BathEvent, ...] = ()
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True, slots=True)
class WasteKnown:
    """A waste bottle: what is in it by what was discarded into it since it was emptied, and from which baths."""

    bottle: WasteBottle
    contents: Contents
    from_baths: tuple[str, ...]
    vented: bool


@dataclass(frozen=True, slots=True)
class Shelf:
    """Everything that stands on it."""

    stocks: tuple[StockKnown, ...]
    baths: tuple[BathKnown, ...]
    waste: tuple[WasteKnown, ...]
    recipes: tuple[Recipe, ...]
    workroom: Workroom | None


def shelf(at: datetime | None = None) -> Shelf:
    """What stands on the shelf today: bottles, baths in use, waste bottles, own recipes and the room's numbers, in five queries and one for tests."""
    day = at or now()
    stocks = Stock.objects.filter(archived_at=None).select_related("data_sheet").prefetch_related("tests")
    baths = Bath.objects.filter(archived_at=None, state="in use").select_related("recipe").order_by("made_at", "pk")
    waste = WasteBottle.objects.filter(archived_at=None)
    return Shelf(
        stocks=tuple(_stock(one, day) for one in stocks),
        baths=tuple(_bath(one, day) for one in baths),
        waste=tuple(_waste(one) for one in waste),
        recipes=own_recipes(),
        workroom=workroom(),
    )


def stock_known(name: str, at: datetime | None = None) -> StockKnown:
    """One bottle with its tests and its history; `UnknownName` without such a bottle."""
    stock = find_thing("stock", name)
    assert isinstance(stock, Stock)  # noqa: S101 (the kind says so)
    return _stock(stock, at or now(), changes_of(stock))


def bath_known(name: str, at: datetime | None = None) -> BathKnown:
    """One bath with its events and its history, discarded ones too; `UnknownName` without such a bath."""
    bath = find_thing("bath", name)
    assert isinstance(bath, Bath)  # noqa: S101 (the kind says so)
    events = bath.events.filter(archived_at=None) | BathEvent.objects.filter(other=bath, archived_at=None)
    seen = events.select_related("bath", "other", "waste", "step__processing__sheet").order_by("happened_at", "pk")
    return _bath(bath, at or now(), tuple(seen), changes_of(bath))


def waste_known(name: str) -> WasteKnown:
    """One waste bottle; `UnknownName` without such a bottle."""
    bottle = find_thing("waste-bottle", name)
    assert isinstance(bottle, WasteBottle)  # noqa: S101 (the kind says so)
    return _waste(bottle)


def own_recipes() -> tuple[Recipe, ...]:
    """The recipes of one's own, each in its newest edition."""
    newest: dict[str, Recipe] = {}
    for one in Recipe.objects.filter(archived_at=None).order_by("name", "edition"):
        newest[one.name] = one
    return tuple(newest.values())


def workroom() -> Workroom | None:
    """The room's own numbers, where somebody wrote them down."""
    return Workroom.objects.filter(archived_at=None).order_by("pk").first()


def poison_centre() -> str:
    """The number of the poison centre, as somebody wrote it down; nothing without it."""
    room = workroom()
    return room.poison_centre if room else ""


def rules() -> RuleSet:
    """By which rules the room wants its hazards told."""
    return rules_of(workroom())


def rules_of(room: Workroom | None) -> RuleSet:
    """The rules that a room chose; those in force where nobody did."""
    return cast("RuleSet", room.rules) if room and room.rules else IN_FORCE


def unmatched_texts() -> tuple[tuple[str, int], ...]:
    """Names of baths that were written down in the trays and belong to no bath of the book, each with how many steps."""
    loose = ProcessingStep.objects.filter(in_bath=None, archived_at=None).exclude(bath="")
    return tuple(loose.values_list("bath").annotate(many=Counted("pk")).order_by("bath").values_list("bath", "many"))


def _stock(stock: Stock, at: datetime, changes: tuple[Change, ...] = ()) -> StockKnown:
    tests = tuple(one for one in stock.tests.all() if one.archived_at is None)
    begun = stock.opened_on or stock.bought_on
    return StockKnown(
        stock=stock,
        contents=bottles.left_in(stock, at),
        strength_percent_ww=bottles.strength_percent_ww(stock, at),
        strength_said=bottles.said(stock),
        unclear=bottles.unclear(stock),
        left_ml=stock.left_ml,
        left_g=stock.left_g,
        age_days=None if begun is None else max(0.0, (at - datetime(begun.year, begun.month, begun.day, tzinfo=UTC)).total_seconds() / DAY_S),
        tested=bool(tests),
        tests=tests,
        changes=changes,
    )


def _bath(bath: Bath, at: datetime, events: tuple[BathEvent, ...] = (), changes: tuple[Change, ...] = ()) -> BathKnown:
    kept: Mapping[str, Any] = bath.ledger
    mixed = kept.get("as_mixed_percent_ww", {})
    acid = kept.get("ph")
    return BathKnown(
        bath=bath,
        age_days=max(0.0, (at - bath.made_at).total_seconds() / DAY_S),
        sheets=kept.get("sheets", 0.0),
        area_m2=kept.get("area_m2", 0.0),
        contents=contents_in(kept),
        strengths=tuple(
            StrengthNow(key, mixed.get(key, 0.0), _after_standing(_estimate(ends), kept.get("loss", {}).get(key), at))
            for key, ends in kept.get("percent_ww", {}).items()
            if key != "silver"
        ),
        ph=None if acid is None else _around(acid["value"], acid["sd"]),
        silver_g=_estimate(kept["silver_g"]) if kept.get("silver_g") else None,
        clearing_factor=kept.get("clearing_factor"),
        came_in_g=kept.get("came_in_g", {}),
        carried_g=kept.get("carried_g", {}),
        reacted_g=kept.get("reacted_g", {}),
        disposed_g=kept.get("disposed_g", {}),
        events=events,
        changes=changes,
    )


def _waste(bottle: WasteBottle) -> WasteKnown:
    holds: Mapping[str, Any] = bottle.holds
    return WasteKnown(
        bottle=bottle,
        contents=Contents(holds.get("volume_ml", 0.0), holds.get("mass_g", {})),
        from_baths=tuple(holds.get("from_baths", ())),
        vented=bottle.vented,
    )


def _estimate(ends: Mapping[str, float]) -> Estimate:
    return Estimate(value=ends["value"], low=ends["low"], high=ends["high"], percent=PERCENT)


def _after_standing(strength: Estimate, loss: Mapping[str, Any] | None, at: datetime) -> Estimate:
    """What is left of it today, where two tests have shown how fast it goes beside what the sheets carry out."""
    if loss is None or strength.value is None or strength.low is None or strength.high is None:
        return strength
    days = max(0.0, (at - datetime.fromisoformat(loss["at"])).total_seconds() / DAY_S)
    off = EIGHTY_PERCENT_SD * loss["sd_ln_per_days"]
    slow, fast = max(0.0, loss["ln_per_days"] - off), loss["ln_per_days"] + off
    value = strength.value * exp(-loss["ln_per_days"] * days)
    return Estimate(value=value, low=strength.low * exp(-fast * days), high=strength.high * exp(-slow * days), percent=PERCENT)


def _around(value: float, sd: float) -> Estimate:
    return Estimate(value=value, low=value - EIGHTY_PERCENT_SD * sd, high=value + EIGHTY_PERCENT_SD * sd, percent=PERCENT)
