"""Labels: exactly as large as a label, readable by a phone, and with every word on them."""

import io
from itertools import product
from typing import Any

import numpy as np
import pypdf
import pytest
import zxingcpp
from PIL import Image

from silverwright.processing.corners import code_name, corner_codes
from silverwright.report.labels import VENTED, WORKROOM, Danger, Label, LabelSize, code_svg, labels_pdf, labels_png

POINTS_PER_MM = 72 / 25.4
BATH = Label(
    kind="Bath, bleach",
    name="B-05",
    code="bath B-05",
    strong="hydrogen peroxide 9 % w/w, 8.1 to 9.3",
    lines=("citric acid 5 % w/w, pH about 1.9", "Made 28 November 2026, 1 L"),
    danger=Danger(signal="Danger", says="Serious eye damage (H318).", unknown="No hazard data on file for gelatine hardener: read its data sheet."),
    cap=VENTED,
    foot=WORKROOM,
    invented=True,
)
SHEET = Label(kind="Sheet", name="26-018", code="http://darkroom.example:8000/go/sheet/26-018", strong="caulking mallet", corner="upper left")


def pages(pdf: bytes) -> list[Any]:
    return list(pypdf.PdfReader(io.BytesIO(pdf)).pages)


def text(pdf: bytes) -> str:
    return " ".join("\n".join(page.extract_text() for page in pages(pdf)).split())


def read(png: bytes) -> list[str]:
    image = Image.open(io.BytesIO(png)).convert("L")
    return [found.text for found in zxingcpp.read_barcodes(np.asarray(image))]


@pytest.mark.parametrize(
    ("size", "wide_mm", "high_mm", "each"), [("62x29", 62.0, 29.0, 1), ("a4", 210.0, 297.0, 24), ("us-letter", 215.9, 279.4, 24)]
)
def test_pages_are_exactly_so_large(size: LabelSize, wide_mm: float, high_mm: float, each: int) -> None:
    found = pages(labels_pdf([BATH] * (each + 1), size))
    assert len(found) == 2
    for page in found:
        box = page.mediabox
        assert (float(box.width) / POINTS_PER_MM, float(box.height) / POINTS_PER_MM) == pytest.approx((wide_mm, high_mm), abs=0.05)


def test_every_word_is_on_it() -> None:
    said = text(labels_pdf([BATH]))
    for words in (
        "B-05",
        "hydrogen peroxide 9 % w/w, 8.1 to 9.3",
        "pH about 1.9",
        "28 November 2026",
        "Danger",
        "H318",
        VENTED,
        WORKROOM,
        "invented",
    ):
        assert words in said, words
    assert "gelatine hardener" in said
    assert said.index("Danger") < said.index("9 % w/w"), "what can hurt stands before the amount"


def test_a_phone_reads_each_code() -> None:
    for label in (BATH, SHEET):
        assert read(labels_png([label])[0]) == [label.code]


def test_a_page_of_24_is_read_whole() -> None:
    """Each of 24 codes is found by itself, so that no label looks over its neighbour's edge."""
    labels = [Label(kind="Sheet", name=f"26-{number:03}", code=f"sheet 26-{number:03}") for number in range(1, 25)]
    (page,) = labels_png(labels, "a4")
    image = np.asarray(Image.open(io.BytesIO(page)).convert("L"))
    dots = image.shape[1] / 210
    left, upper = (210 - 3 * 62) / 2, (297 - 8 * 29) / 2
    for place, (row, column) in enumerate(product(range(8), range(3))):
        x, y = (left + column * 62) * dots, (upper + row * 29) * dots
        one = image[round(y) : round(y + 29 * dots), round(x) : round(x + 62 * dots)]
        assert [found.text for found in zxingcpp.read_barcodes(one)] == [labels[place].code]


def test_codes_have_their_quiet_zone() -> None:
    """Four modules of white on every side: the drawing is 29 modules wide for a code of 21."""
    assert 'viewBox="0 0 29 29"' in code_svg("bath B-05")


def test_long_words_are_made_smaller_not_cut_off() -> None:
    long = Label(
        kind="Bottle", name="A" * 40 + " " + "b" * 39, code="stock", strong="35 %, label unclear", lines=("Opened 2 January 2026 " * 8 + "the end",)
    )
    assert "the end" in text(labels_pdf([long]))
    assert len(pages(labels_pdf([long]))) == 1


def test_what_was_typed_is_never_markup() -> None:
    odd = Label(kind="Bath", name="#pagebreak() $x$ *bold* <label> \\u{1}", code="bath #1", lines=("// no comment", "[content]"))
    said = text(labels_pdf([odd]))
    assert "#pagebreak() $x$ *bold* <label>" in said
    assert "// no comment" in said
    assert len(pages(labels_pdf([odd]))) == 1


def test_every_corner_code_is_drawn_and_named() -> None:
    labels = [Label(kind="Holder side", name="holder 1/1", code="side holder 1/1", corner=code_name(code)) for code in corner_codes()]
    drawn = labels_png(labels)
    assert len(set(drawn)) == len(labels)
    for label, page in zip(labels, pages(labels_pdf(labels)), strict=True):
        assert f"clip {label.corner}" in " ".join(page.extract_text().split())


def test_black_only() -> None:
    """A label printer has no grey: what is neither black nor white is the edge of a letter."""
    image = np.asarray(Image.open(io.BytesIO(labels_png([BATH])[0])).convert("RGB")).astype(int)
    assert (np.ptp(image, axis=2) == 0).all()
    assert ((image[..., 0] < 40) | (image[..., 0] > 215)).mean() > 0.93
