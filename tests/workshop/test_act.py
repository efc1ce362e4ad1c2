"""An act happens once for each key, whole or not at all, and says everything that is wrong with it at once."""

from dataclasses import replace

import pytest
from django.utils.timezone import now
from tests.workshop.boatyard import LENS, PAPER, gear

from silverwright.asking.operation import Typed
from silverwright.book.models import Act, Exposure, Lens, Sheet
from silverwright.errors import BadQuestion, Contradiction, UnknownName
from silverwright.workshop.act import Doing, Done, carry_out
from silverwright.workshop.deeds import DEEDS, do, find_deed

pytestmark = pytest.mark.django_db
A_LENS = {"name": LENS, "focal_mm": 210}


def faults_of(name: str, given: dict[str, object]) -> dict[str, str]:
    with pytest.raises(BadQuestion) as caught:
        do(name, given)
    return {fault.field: fault.problem for fault in caught.value.faults}


def test_an_act_keeps_who_when_and_what() -> None:
    before = now()
    done = do("lens", A_LENS, key="k", who="Ada")
    act = Act.objects.get()
    assert (act.deed, act.key, act.who) == ("lens", "k", "Ada")
    assert before <= act.at <= now()
    assert act.given == {"name": LENS, "focal_mm": 210.0}
    assert Done.model_validate(act.result) == done
    assert (done.deed, done.kind, done.name) == ("lens", "lens", LENS)


def test_history_names_the_act() -> None:
    do("lens", A_LENS, who="Ada")
    (row,) = Lens.objects.get().history.all()
    assert row.history_user == Act.objects.get()


def test_the_same_key_and_content_is_one_event() -> None:
    gear()
    given = {"paper": PAPER, "lens": LENS, "reading_ev": 10, "aperture_f": "f/22", "given_s": 97}
    first = do("expose", given, key="lost on the way")
    again = do("expose", {**given, "reading_ev": "10", "aperture_f": 22.0, "given_s": "1:37"}, key="lost on the way")
    assert again == first
    assert Sheet.objects.count() == Exposure.objects.count() == 1
    assert Act.objects.filter(deed="expose").count() == 1


def test_the_same_key_answers_even_when_a_thing_was_archived_since() -> None:
    gear()
    first = do("load", {"holder": "holder 1", "side": "1", "lot": "box A"}, key="k")
    do("archive", {"kind": "lot", "name": "box A"})
    assert do("load", {"holder": "holder 1", "side": "1", "lot": "box A"}, key="k") == first


def test_the_same_key_with_another_content_is_refused() -> None:
    do("lens", A_LENS, key="k")
    with pytest.raises(Contradiction):
        do("lens", {"name": LENS, "focal_mm": 211}, key="k")
    with pytest.raises(Contradiction):
        do("camera", {"name": LENS}, key="k")
    assert Act.objects.count() == 1


def test_without_a_key_two_acts_are_two() -> None:
    gear()
    for _ in range(2):
        do("expose", {"paper": PAPER})
    assert list(Sheet.objects.order_by("running").values_list("running", flat=True)) == [1, 2]


def test_every_fault_at_once_with_names_that_are_near() -> None:
    gear()
    faults = faults_of(
        "expose", {"paper": "RC papr, grade 2", "lens": "21 mm lens in a leaf shutter", "reading_ev": 99, "given_s": "soon", "side": "3", "wings": 2}
    )
    assert faults.keys() == {"paper", "lens", "reading_ev", "given_s", "side", "wings", "aperture_f"}
    assert f"Did you mean {PAPER}" in faults["paper"]
    assert LENS in faults["lens"]


def test_empty_fields_are_not_given() -> None:
    do("lens", {**A_LENS, "pupil_factor": "", "remarks": "", "aperture_scale": None})
    assert Lens.objects.get().pupil_factor is None


def test_an_archived_thing_is_refused() -> None:
    gear()
    do("archive", {"kind": "lens", "name": LENS})
    assert "archived" in faults_of("expose", {"paper": PAPER, "lens": LENS})["lens"]


def test_an_act_that_fails_midway_leaves_nothing() -> None:
    lens = find_deed("lens")

    def breaks(doing: Doing[Typed]) -> Done:
        lens.perform(doing)
        raise RuntimeError

    with pytest.raises(RuntimeError):
        carry_out(replace(lens, perform=breaks), A_LENS, key="k")
    assert not Act.objects.exists()
    assert not Lens.objects.exists()
    assert not Lens.history.exists()


@pytest.mark.parametrize("key", ["x" * 201, "a\nb", "\ud800"])
def test_a_key_that_cannot_be_kept(key: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        do("lens", A_LENS, key=key)
    assert caught.value.faults[0].field == "key"


@pytest.mark.parametrize("name", ["\ud800", "a\x07b", "", "   ", "\x00", "x" * 81])
def test_names_that_cannot_stand_on_a_label(name: str) -> None:
    assert "name" in faults_of("camera", {"name": name})


@pytest.mark.parametrize("name", ["\ud800", "\x00", "x" * 5000, "'; drop table book_lens; --"])
def test_names_that_nothing_can_have(name: str) -> None:
    gear()
    assert faults_of("load", {"holder": name, "side": "1", "lot": "box A"}).keys() == {"holder"}


@pytest.mark.parametrize("remarks", ["\ud800", "a\x00b", "x" * 4001])
def test_remarks_that_cannot_be_written_down(remarks: str) -> None:
    assert faults_of("camera", {"name": "a", "remarks": remarks}).keys() == {"remarks"}


def test_steps_that_cannot_be_written_down() -> None:
    gear()
    assert faults_of("process", {"sheet": "26-001", "steps": [{"step": "rinse", "bath": "\ud800"}]}).keys() == {"sheet", "steps"}


@pytest.mark.parametrize("when", [5, "5", "1e9", True, "soon", "0001-01-01", "9999-12-31 23:59", [], {}])
def test_moments_that_are_none(when: object) -> None:
    gear()
    assert faults_of("expose", {"paper": PAPER, "when": when}).keys() == {"when"}


def test_an_unknown_act_says_what_is_near() -> None:
    with pytest.raises(UnknownName) as caught:
        do("expos", {})
    assert caught.value.near[0] == "expose"


def test_deeds_have_names_sentences_and_examples() -> None:
    assert len({deed.name for deed in DEEDS}) == len(DEEDS)
    assert all(deed.says.endswith(".") and deed.examples for deed in DEEDS)
