"""Every page, for the tests that look at all of them."""

from collections.abc import Mapping
from typing import Final

THEMES: Final = ("day", "dark", "safelight")
SCENE: Final = "reading_ev=10&lens=210+mm+lens+in+a+leaf+shutter&extension_mm=315&aperture_f=f/22"
BESIDE: Final = (  # every question beside the exposure, with what each needs
    "open=sitter+sharpness+daylight+range+contrast+preexposure+changing+colour+openings+strip&posture=seated&nearest_mm=590&farthest_mm=690"
    "&on_day=2026-12-21&clock_hours=13:00&latitude_deg=60.4&weather=overcast&readings=12.6,+light+with+tone%0A7.4,+dark+with+detail"
    "&preexposure_percent=15&light_readings=30+9.6&openings=20&shortest_s=30&longest_s=180"
)
FLASH: Final = "by=flash&flash_meter_f=f/11&flash_meter_ei=3&paper_ei=0.8&aperture_f=f/8&extension_mm=231&recycle_s=5"
FILLED: Final[Mapping[str, str]] = {
    "today": "/",
    "camera": "/camera",
    "camera-typed": f"/camera?{SCENE}&paper_ei=1.5&bracket_sheets=3",
    "camera-by-the-dial": "/camera?by=dial&dial_time_s=1/2&dial_aperture_f=8&dial_ei=100&aperture_f=f/22&focal_mm=150",
    "camera-beside": f"/camera?{SCENE}&paper=RC+paper%2C+grade+2&{BESIDE}",
    "camera-flash": f"/camera?{FLASH}&lens=210+mm+lens+in+a+leaf+shutter",
    "record-flash": f"/camera/record?{FLASH}&flashes_given=2",
    "camera-wrong": "/camera?reading_ev=much&aperture_f=f/900&extension_mm=100&focal_mm=210",
    "expose": f"/camera/exposing?{SCENE}&paper=RC+paper%2C+grade+2&to_give_s=97",
    "record": f"/camera/record?{SCENE}&paper=RC+paper%2C+grade+2&given_s=97",
    "take-along": "/camera/fieldpage",
    "take-along-wrong": "/camera/fieldpage?paper=glass+plate&paper_ei=much",
    "field-log": "/book/log",
    "measure": "/measure",
    "measure-picture": "/measure?shows=picture&sheet=26-005",
    "findings": "/findings",
    "findings-no-curve": "/findings?paper=RC+paper%2C+variable+contrast",
    "findings-negative": "/findings?process=negative",
    "step-sheet": "/findings/step-sheet?sheet=26-008",
    "step-sheet-typed": "/findings/step-sheet?how=typed",
    "book": "/book",
    "book-found": "/book?words=mallet&state=measured",
    "book-none": "/book?words=canoe",
    "sheet": "/book/26-005",
    "sheet-with-curve": "/book/26-004",
    "sheet-waiting": "/book/26-011",
    "sheet-cut": "/book/26-009",
    "papers": "/shelf/papers",
    "paper": "/shelf/papers/RC%20paper%2C%20grade%202",
    "boxes": "/shelf/boxes",
    "cut-paper": "/shelf/cut?lot=box+C&sheets_to_cut=2",
    "labels": "/shelf/labels",
    "sheet-labels": "/book/labels?what=holder+sides",
    "holders": "/book/holders",
    "lenses": "/book/lenses",
    "scanners": "/book/scanners",
    "enter-a-scanner": "/book/do/scanner",
    "lens": "/book/lenses/210%20mm%20lens%20in%20a%20leaf%20shutter",
    "enter-a-meter": "/book/do/meter",
    "load": "/book/do/load",
    "process": "/book/do/process?sheet=26-011",
    "judge": "/book/do/judge?sheet=26-006",
    "cut": "/book/do/cut?sheet=26-011",
    "correct-a-lens": "/book/correct/lens/210%20mm%20lens%20in%20a%20leaf%20shutter",
    "correct-an-exposure": "/book/correct/exposure/26-005",
    "questions": "/ask",
    "question": "/ask/exposure.bellows?focal_mm=210&extension_mm=315",
    "question-curve": "/ask/sensitometry.curve",
    "question-wrong": "/ask/exposure.bellows?focal_mm=210&extension_mm=long",
    "no-such-sheet": "/book/26-900",
    "no-such-page": "/darkroom",
}
EMPTY: Final[Mapping[str, str]] = {
    "empty-today": "/",
    "empty-camera": "/camera",
    "empty-expose": "/camera/exposing",
    "empty-record": "/camera/record",
    "empty-take-along": "/camera/fieldpage",
    "empty-field-log": "/book/log",
    "empty-measure": "/measure",
    "empty-findings": "/findings",
    "empty-step-sheet": "/findings/step-sheet",
    "empty-book": "/book",
    "empty-papers": "/shelf/papers",
    "empty-cut-paper": "/shelf/cut",
    "empty-labels": "/shelf/labels",
    "empty-holders": "/book/holders",
    "empty-process": "/book/do/process",
    "empty-enter-a-paper": "/book/do/paper",
}
