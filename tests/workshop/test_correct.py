"""Corrections keep what they replace, refuse to overwrite what nobody saw, and archiving deletes nothing."""

import random
from datetime import UTC, datetime
from typing import Any

import pytest
from tests.workshop.boatyard import LENS, PAPER, STILL_LIFE, exposed, gear, learnt

from silverwright import api
from silverwright.book.find import NAMED, ON_A_SHEET, find_thing
from silverwright.book.models import Exposure, Lens, Lot, Sheet, Verdict
from silverwright.book.queries import gear as things
from silverwright.book.queries import names, thing_history
from silverwright.errors import BadQuestion, Stale, of_kind
from silverwright.workshop.correct import correctable, standing
from silverwright.workshop.deeds import do

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()


def correct(kind: str, name: str, seen: int | None = None, /, **changes: object) -> Any:
    rows = [{"field": field, "to": str(to)} for field, to in changes.items()]
    return do("correct", {"kind": kind, "name": name, "changes": rows, "seen": seen})


def test_both_values_are_kept_side_by_side() -> None:
    done = correct("lens", LENS, 1, focal_mm=215)
    assert done.values == {"before": {"focal_mm": "210"}, "after": {"focal_mm": "215"}, "version": 2}
    assert [row.focal_mm for row in Lens.objects.get().history.order_by("history_id")] == [210, 215]
    newest, oldest = thing_history("lens", LENS)
    assert (newest.deed, newest.version, newest.fields) == ("correct", 2, {"focal_mm": (210.0, 215.0)})
    assert (oldest.new, oldest.fields["focal_mm"]) == (True, (None, 210.0))


def test_a_correction_is_told_in_the_words_of_the_pages() -> None:
    number = exposed(subject="rope", given_s=224)
    told = correct("exposure", number, given_s=170, remarks="the cap slipped").says.replace("\xa0", " ")
    assert told == f"Corrected exposure {number}/1. Time given: 224 s (3:44), now 170 s (2:50). Remarks: nothing, now “the cap slipped”."
    assert (
        correct("sheet", number, subject="", told_apart="007").says
        == f"Corrected sheet {number}. Subject: “rope”, now nothing. Told apart: nothing, now “007”."
    )
    with pytest.raises(BadQuestion, match="An exposure has no field “time”"):
        correct("exposure", number, time=170)


def test_a_name_that_says_its_kind_says_it_once() -> None:
    assert [of_kind("scan", "scan-002"), of_kind("sheet", "26-014")] == ["scan-002", "sheet 26-014"]


def test_a_stale_correction_shows_both_values_and_writes_nothing() -> None:
    correct("lens", LENS, 1, focal_mm=215)
    with pytest.raises(Stale) as caught:
        correct("lens", LENS, 1, focal_mm=216)
    assert (caught.value.mine, caught.value.theirs) == ({"focal_mm": "216"}, {"focal_mm": "215"})
    assert (Lens.objects.get().focal_mm, Lens.objects.get().version) == (215, 2)


def test_two_people_correct_different_fields() -> None:
    correct("lens", LENS, 1, focal_mm=215)
    correct("lens", LENS, 1, pupil_factor=0.9)
    lens = Lens.objects.get()
    assert (lens.focal_mm, lens.pupil_factor) == (215, 0.9)


def test_a_box_counted_down_since_it_was_opened_for_correction() -> None:
    version = Lot.objects.get().version
    do("load", {"holder": "holder 1", "side": "1", "lot": "box A"})
    correct("lot", "box A", version, remarks="stands on the shelf")
    with pytest.raises(Stale):
        correct("lot", "box A", version, sheets_left=20)


def test_no_correction_is_lost_in_two_hundred_interleavings() -> None:
    """Two people read and correct two fields of one lens in any order; whatever is accepted replaced exactly what its author had seen."""
    chance = random.Random(3)
    seen: dict[str, tuple[int, dict[str, str]]] = {}
    refused = 0
    for step in range(200):
        who = chance.choice(["Ada", "Ben"])
        lens = Lens.objects.get()
        if who not in seen or chance.random() < 0.3:
            seen[who] = (lens.version, standing("lens", lens))
            continue
        version, stood = seen[who]
        field = chance.choice(["focal_mm", "pupil_factor"])
        before = standing("lens", lens)[field]
        try:
            done = correct("lens", LENS, version, **{field: 200 + step if field == "focal_mm" else 0.5 + step / 100})
        except Stale as stale:
            refused += 1
            assert stale.theirs[field] == before != stood[field]
        else:
            assert done.values["before"][field] == before == stood[field]
    assert 20 < refused < 180
    assert Lens.objects.get().history.count() == Lens.objects.get().version


def test_what_was_done_can_be_corrected_and_what_was_planned_not() -> None:
    number = exposed(given_s=97)
    plan = Exposure.objects.get().planned
    correct("exposure", number, 1, given_s="1:50", reading_ev=10.5, light_class="overcast sky", extension_mm="30 cm")
    exposure = Exposure.objects.get()
    assert (exposure.given_s, exposure.scene["reading_ev"], exposure.light_class, exposure.scene["extension_mm"]) == (110, 10.5, "overcast sky", 300)
    assert exposure.planned == plan
    with pytest.raises(BadQuestion, match="no field “planned”"):
        correct("exposure", number, planned="x")


def test_nothing_empties_a_field() -> None:
    correct("lens", LENS, pupil_factor="", remarks="")
    assert Lens.objects.get().pupil_factor is None
    with pytest.raises(BadQuestion) as caught:
        correct("lens", LENS, focal_mm="")
    assert [(fault.field, fault.problem[:7]) for fault in caught.value.faults] == [("focal_mm", "Needed.")]


def test_every_wrong_value_at_once() -> None:
    number = exposed()
    with pytest.raises(BadQuestion) as caught:
        correct("exposure", number, given_s="soon", lens="another lens", light_class="moon", reading_ev=99)
    assert {fault.field for fault in caught.value.faults} >= {"given_s", "lens", "light_class"}
    assert Exposure.objects.get().version == 1


def test_rules_between_fields_hold_for_what_stands_there() -> None:
    number = exposed()
    do("judge", {"sheet": number, "looks": "too dark", "off_stops": 1})
    with pytest.raises(BadQuestion) as caught:
        correct("verdict", number, looks="right")
    assert [fault.field for fault in caught.value.faults] == ["off_stops"]
    correct("verdict", number, looks="right", off_stops="")
    assert Verdict.objects.get().looks == "right"


def test_a_name_that_is_taken() -> None:
    with pytest.raises(BadQuestion, match="already a light called"):
        correct("light", "work lamp", name="North Window")
    correct("light", "work lamp", name="Work lamp")


def test_pieces_are_corrected_with_their_sheet() -> None:
    number = exposed()
    do("cut", {"sheet": number})
    correct("sheet", number, turned="mirror or prism", subject="oakum")
    assert set(Sheet.objects.values_list("turned", flat=True)) == {"mirror or prism"}
    assert Sheet.objects.get(letter="a").subject == "caulking mallet"


def test_a_version_that_never_was() -> None:
    with pytest.raises(BadQuestion, match="no such version"):
        correct("lens", LENS, 7, focal_mm=215)


@pytest.mark.parametrize(("given", "field"), [({"kind": "lens", "name": "none"}, "name"), ({"kind": "wing", "name": LENS}, "kind")])
def test_a_thing_that_is_not_there(given: dict[str, str], field: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        do("correct", {**given, "changes": "focal_mm; 215"})
    assert [fault.field for fault in caught.value.faults] == [field]


def test_what_can_be_corrected_is_listed() -> None:
    with pytest.raises(BadQuestion, match="focal_mm, pupil_factor"):
        correct("lens", LENS, focal=215)
    assert {"given_s", "reading_ev", "extension_mm"} <= set(correctable("exposure"))


@pytest.fixture
def everything() -> str:
    """One of each kind of thing; the number of its sheet."""
    number, _ = learnt()
    do("judge", {"sheet": number, "looks": "too dark"})
    do("process", {"sheet": number, "steps": "rinse; 60"})
    do("scene-patches", {"sheet": number, "places": "9.5 1.12 planks"})
    return number


@pytest.mark.parametrize("kind", [*NAMED, "sheet", *ON_A_SHEET])
def test_what_stands_there_can_be_typed_again(kind: str, everything: str) -> None:
    """For every kind: what a form shows of it is accepted when it comes back, and changes nothing."""
    name = str(things()[kind][0]) if kind in NAMED else everything
    thing = find_thing(kind, name)
    stands = standing(kind, thing)
    assert stands
    before = thing.__class__.objects.filter(pk=thing.pk).values().get()  # type: ignore[attr-defined]
    correct(kind, name, 1, **stands)
    after = thing.__class__.objects.filter(pk=thing.pk).values().get()  # type: ignore[attr-defined]
    assert after.pop("version") == before.pop("version") + 1
    assert after == before


@pytest.mark.parametrize("kind", [*NAMED, "sheet", *ON_A_SHEET])
def test_archive_and_bring_back(kind: str, everything: str) -> None:
    name = str(things()[kind][0]) if kind in NAMED else everything
    began = datetime(2026, 1, 12, tzinfo=UTC)
    name = do("archive", {"kind": kind, "name": name}).name
    thing = find_thing(kind, name)
    assert thing.archived_at is not None
    assert thing.archived_at >= began
    with pytest.raises(BadQuestion, match="archived already"):
        do("archive", {"kind": kind, "name": name})
    if kind in NAMED or kind == "sheet":
        assert name not in names(kind)
    do("bring-back", {"kind": kind, "name": name})
    assert find_thing(kind, name).archived_at is None
    with pytest.raises(BadQuestion, match="not archived"):
        do("bring-back", {"kind": kind, "name": name})


def test_the_newest_that_is_not_archived_is_meant() -> None:
    number = exposed()
    for looks in ("too dark", "too light"):
        do("judge", {"sheet": number, "looks": looks})
    do("archive", {"kind": "verdict", "name": number})
    assert [(one.looks, one.archived_at is None) for one in Verdict.objects.order_by("pk")] == [("too dark", True), ("too light", False)]
    correct("verdict", number, remarks="in the sun")
    assert Verdict.objects.get(looks="too dark").remarks == "in the sun"
    do("bring-back", {"kind": "verdict", "name": f"{number}/2"})
    assert not Verdict.objects.exclude(archived_at=None).exists()


def test_the_exposure_of_a_piece_is_that_of_its_sheet() -> None:
    do("cut", {"sheet": exposed()})
    correct("exposure", "26-001b", given_s=100)
    assert Exposure.objects.get().given_s == 100


def test_a_holder_with_paper_in_it_is_not_archived() -> None:
    do("load", {"holder": "holder 1", "side": "1", "lot": "box A"})
    with pytest.raises(BadQuestion, match="still paper"):
        do("archive", {"kind": "holder", "name": "holder 1"})


def test_nothing_is_ever_deleted() -> None:
    with pytest.raises(TypeError, match="archive it"):
        Lens.objects.get().delete()


def test_archived_sheets_are_listed_only_when_asked_for() -> None:
    number = exposed()
    do("archive", {"kind": "sheet", "name": number})
    assert api.sheets() == ()
    assert [line.sheet.number for line in api.sheets(archived="yes")] == [number]
    assert exposed() == "26-002", "its number is not given away"


def test_the_story_tells_every_change_of_a_sheet_and_what_belongs_to_it(everything: str) -> None:
    correct("exposure", everything, given_s=100)
    changes = api.story(everything).changes
    assert (changes[0].kind, changes[0].name, changes[0].fields["given_s"]) == ("exposure", f"{everything}/1", (68.0, 100.0))
    assert {change.kind for change in changes} == {"sheet", *ON_A_SHEET}
    assert {change.deed for change in changes} == {"expose", "step-sheet", "judge", "process", "scene-patches", "correct"}


@pytest.mark.parametrize(
    ("filters", "found"),
    [
        ({}, ["26-003", "26-002", "26-001"]),
        ({"paper": PAPER.upper()}, ["26-003", "26-002", "26-001"]),
        ({"paper": "another"}, []),
        ({"process": "negative"}, ["26-003"]),
        ({"light_class": "direct sun"}, ["26-002"]),
        ({"words": "oakum"}, ["26-002"]),
        ({"year": "2026"}, ["26-003", "26-002", "26-001"]),
        ({"year": "25"}, []),
        ({"year": "soon"}, []),
        ({"state": "processed"}, ["26-001"]),
        ({"state": "exposed", "process": ""}, ["26-003", "26-002"]),
        ({"colour": "red"}, ["26-003", "26-002", "26-001"]),
    ],
)
def test_filters(filters: dict[str, str], found: list[str]) -> None:
    first = exposed()
    exposed(subject="oakum", light_class="direct sun")
    do("expose", {"paper": PAPER, **STILL_LIFE, "process": "negative"})
    do("process", {"sheet": first})
    assert [line.sheet.number for line in api.sheets(**filters)] == found
