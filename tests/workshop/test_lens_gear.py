"""What the book knows of lens and camera, and what the plan makes of it: measured speeds, a pinhole, a mirror, a box."""

import re
from typing import Any

import pytest
from django.test import Client
from tests.workshop.boatyard import LENS, PAPER, gear

from silverwright import api
from silverwright.book.find import called
from silverwright.book.metered import metered_log10
from silverwright.book.models import Camera, Exposure, Lens
from silverwright.errors import BadQuestion
from silverwright.web.pages.shelves import facts_of
from silverwright.workshop.correct import standing
from silverwright.workshop.deeds import do
from silverwright.workshop.flashes import plan_flashes
from silverwright.workshop.plan import Planned, plan

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("in_2026")]
SPEEDS = "1 1.1\n1 1.08\n1 1.12\n1/25 1/29\n1/25 1/28.5\n1/25 1/29.5"
BRIGHT = {"reading_ev": 14, "meter_k": 12.5, "paper_ei": 3, "aperture_f": "f/4", "magnification_factor": 0, "timed_by": "shutter"}


@pytest.fixture(autouse=True)
def _gear() -> None:
    gear()


def from_book(planned: Planned) -> dict[str, Any]:
    return {one.field: one.value for one in planned.from_book}


def test_measured_speeds_live_with_the_lens() -> None:
    do("correct", {"kind": "lens", "name": LENS, "changes": [{"field": "measured_speeds", "to": SPEEDS}]})
    assert len(Lens.objects.get(name=LENS).measured_speeds) == 6
    planned = plan({**BRIGHT, "lens": LENS})
    assert planned.answer.settable_s.value == pytest.approx(1 / 25)
    assert len(from_book(planned)["measured_speeds"]) == 6
    assert planned.answer.ledger[-2].what == "Aperture as marked, time by the measured shutter"


def test_measured_speeds_are_corrected_and_told() -> None:
    do("correct", {"kind": "lens", "name": LENS, "changes": [{"field": "measured_speeds", "to": "1 1.1"}]})
    done = do("correct", {"kind": "lens", "name": LENS, "changes": [{"field": "measured_speeds", "to": "1 1.2"}]})
    assert "1.1" in done.says
    assert "1.2" in done.says
    do("correct", {"kind": "lens", "name": LENS, "changes": [{"field": "pupil_factor", "to": "0.9"}]})
    assert Lens.objects.get(name=LENS).measured_speeds == [{"marked_s": 1.0, "measured_s": 1.2}]
    do("correct", {"kind": "lens", "name": LENS, "changes": [{"field": "measured_speeds", "to": ""}]})
    assert Lens.objects.get(name=LENS).measured_speeds == []


def test_what_the_shutter_gave_is_what_the_sheet_got() -> None:
    """Marked 1/25, which is 2^(-14/3) s in the series, measured 1/29: the sheet got 1/29 s."""
    do("expose", {**BRIGHT, "paper": PAPER, "lens": LENS, "given_s": "1/25"})
    do("correct", {"kind": "lens", "name": LENS, "changes": [{"field": "measured_speeds", "to": SPEEDS}]})
    do("expose", {**BRIGHT, "paper": PAPER, "lens": LENS, "given_s": "1/25"})
    before, after = (metered_log10(one) for one in Exposure.objects.order_by("pk"))
    assert before is not None
    assert after is not None
    assert before.time_s == pytest.approx(2 ** (-14 / 3))
    assert after.time_s == pytest.approx(1 / 29, rel=1e-3)


def test_a_correction_of_the_scene_keeps_the_speeds() -> None:
    do("correct", {"kind": "lens", "name": LENS, "changes": [{"field": "measured_speeds", "to": SPEEDS}]})
    do("expose", {**BRIGHT, "paper": PAPER, "lens": LENS, "given_s": "1/25"})
    (exposure,) = Exposure.objects.all()
    do("correct", {"kind": "exposure", "name": called(exposure)[1], "changes": [{"field": "reading_ev", "to": "13"}]})
    exposure.refresh_from_db()
    assert exposure.scene["reading_ev"] == 13
    assert len(exposure.scene["measured_speeds"]) == 6


def test_a_pinhole_is_a_lens_without_a_focal_length() -> None:
    do("lens", {"name": "pinhole 0.4", "camera_kind": "pinhole", "stop_mm": 0.4, "stop_sd_mm": 0.02})
    planned = plan({"lens": "pinhole 0.4", "reading_ev": 14, "paper_ei": 3, "extension_mm": 150})
    assert "f/375" in planned.answer.ledger[0].what
    do("expose", {"paper": PAPER, "lens": "pinhole 0.4", "reading_ev": 14, "paper_ei": 3, "extension_mm": 150, "given_s": 600})
    (exposure,) = Exposure.objects.all()
    assert exposure.aperture_f is None
    assert metered_log10(exposure) is not None


def test_an_aperture_typed_wins_over_the_hole_of_the_lens() -> None:
    do("lens", {"name": "box lens", "camera_kind": "box camera", "focal_mm": 150, "stop_mm": 9})
    planned = plan({"lens": "box lens", "reading_ev": 14, "paper_ei": 3, "aperture_f": "f/32"})
    assert "stop_mm" not in planned.question
    assert "f/32" in planned.answer.ledger[0].what


def test_a_lens_that_is_no_pinhole_needs_its_focal_length() -> None:
    with pytest.raises(BadQuestion) as caught:
        do("lens", {"name": "150", "measured_speeds": "1 0.001"})
    assert {fault.field for fault in caught.value.faults} == {"focal_mm", "measured_speeds"}


def test_a_box_camera_knows_its_mirror_and_its_depth() -> None:
    do("camera", {"name": "market box", "turned": "mirror or prism", "mirror_stops": 0.3, "mirror_sd_stops": 0.05, "extension_mm": 158})
    planned = plan({"camera": "market box", "reading_ev": 14, "paper_ei": 3, "stop_mm": 9, "camera_kind": "box camera"})
    assert from_book(planned) == {"turned": "mirror or prism", "mirror_stops": 0.3, "mirror_sd_stops": 0.05, "extension_mm": 158}
    assert [line.amount for line in planned.answer.ledger if line.what.startswith("Mirror")] == [0.3]
    turned_out = plan({"camera": "market box", "reading_ev": 14, "paper_ei": 3, "stop_mm": 9, "camera_kind": "box camera", "turned": "no"})
    assert not [line for line in turned_out.answer.ledger if line.what.startswith("Mirror")]


def test_what_the_mirror_took_is_taken_off_what_the_sheet_got() -> None:
    """The same time through a mirror that takes a stop: half the light on the paper."""
    Camera.objects.filter(name="box camera").update(mirror_stops=1.0)
    same = {**BRIGHT, "timed_by": "hand", "paper": PAPER, "lens": LENS, "given_s": 4}
    do("expose", {**same, "camera": "4x5 view camera"})
    do("expose", {**same, "camera": "box camera"})
    plain, mirrored = (metered_log10(one) for one in Exposure.objects.order_by("pk"))
    assert plain is not None
    assert mirrored is not None
    assert plain.exposure_log10 - mirrored.exposure_log10 == pytest.approx(0.30103, abs=1e-4)


def test_python_enters_a_lens_with_its_speeds() -> None:
    api.do("lens", name="old leaf shutter", focal_mm=135, measured_speeds=[{"marked_s": 1, "measured_s": 1.1}], blue_shift_percent=-0.2)
    lens = Lens.objects.get(name="old leaf shutter")
    assert (lens.measured_speeds, lens.blue_shift_percent) == ([{"marked_s": 1.0, "measured_s": 1.1}], -0.2)


def test_speeds_stand_as_a_hand_writes_them() -> None:
    do("correct", {"kind": "lens", "name": LENS, "changes": [{"field": "measured_speeds", "to": "1 1.08\n1/25 1/29\n1/250 0.00634"}]})
    assert standing("lens", Lens.objects.get(name=LENS))["measured_speeds"] == "1 1.08\n1/25 1/29\n1/250 0.00634"
    assert ("Measured speeds", "1 gives 1.08; 1/25 gives 1/29; 1/250 gives 0.00634") in facts_of("lens", Lens.objects.get(name=LENS))


def test_a_correction_on_the_page_changes_what_was_changed(client: Client) -> None:
    do("correct", {"kind": "lens", "name": LENS, "changes": [{"field": "measured_speeds", "to": SPEEDS}]})
    page = f"/book/correct/lens/{LENS}"
    sent = {**standing("lens", Lens.objects.get(name=LENS)), "pupil_factor": "0.9", "key": "one"}
    sent["measured_speeds"] = sent["measured_speeds"].replace("\n", "\r\n")
    told = client.get(page).content.decode()
    hidden = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', told))
    client.post(page, {**hidden, **sent}, headers={"Origin": "http://testserver"})
    assert Lens.objects.get(name=LENS).pupil_factor == 0.9
    newest = Lens.objects.get(name=LENS).history.first()
    assert newest is not None
    assert len(newest.measured_speeds) == 6
    assert newest.history_user.deed == "correct"
    assert set(newest.history_user.result["values"]["after"]) == {"pupil_factor"}


def test_the_camera_page_says_what_lens_and_camera_bring(client: Client) -> None:
    do("lens", {"name": "pinhole 0.4", "camera_kind": "pinhole", "stop_mm": 0.4})
    do("camera", {"name": "market box", "turned": "mirror or prism", "mirror_stops": 0.3, "extension_mm": 158})
    told = client.get("/camera", {"lens": "pinhole 0.4", "camera": "market box", "reading_ev": "14", "paper_ei": "3"}).content.decode()
    assert "a hole of 0.4\xa0mm" in told
    assert "158\xa0mm deep, its mirror takes 0.3 stop" in told
    assert "pupils taken as equal" not in told


def test_measured_apertures_live_with_the_lens() -> None:
    do("correct", {"kind": "lens", "name": LENS, "changes": [{"field": "measured_apertures", "to": "f/22 8.6"}]})
    planned = plan({"lens": LENS, "reading_ev": 10, "paper_ei": 3, "aperture_f": "f/22", "magnification_factor": 0})
    assert "truly f/24.4" in planned.answer.ledger[0].what
    assert ("Measured apertures", "f/22: 8.6\xa0mm") in facts_of("lens", Lens.objects.get(name=LENS))
    assert standing("lens", Lens.objects.get(name=LENS))["measured_apertures"] == "22 8.6"


def test_a_flash_by_a_measured_lens() -> None:
    """Everything that the book knows of lens and camera goes along with a flash, too."""
    do(
        "correct",
        {"kind": "lens", "name": LENS, "changes": [{"field": "measured_speeds", "to": SPEEDS}, {"field": "measured_apertures", "to": "f/8 24"}]},
    )
    do("camera", {"name": "market box", "turned": "mirror or prism", "mirror_stops": 0.3, "extension_mm": 231})
    planned = plan_flashes({"lens": LENS, "camera": "market box", "paper_ei": 3, "aperture_f": "f/8", "flash_meter_f": "f/4", "flash_meter_ei": 25})
    lines = [line.what for line in planned.answer.ledger]
    assert any(line.startswith("Mirror or prism, as measured") for line in lines)
    assert any("Extension 231" in line for line in lines)
