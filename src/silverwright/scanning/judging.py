"""What speaks against measuring a file, all at once, and what is worth saying of one that can be measured."""

from typing import Any, Final

from silverwright.errors import Fault, ScanRefused
from silverwright.notes import Note
from silverwright.scanning.header import MOST_PIXELS, READABLE, Header
from silverwright.sentences import SENTENCES
from silverwright.units import file_size

READ_BITS: Final = (8, 16)
MOST_AT_ONCE_BYTES: Final = 300_000_000  # our judgement: what has to be unpacked as a whole must fit into the child's memory
# So many bytes can at most come out of one: Deflate makes 258 out of two bits (source: RFC 1951), LZW fewer than 4096 out of twelve (source:
# TIFF 6.0), PackBits 128 out of two bytes (source: TIFF 6.0).
MOST_FROM_A_BYTE: Final = {"Deflate": 1032, "LZW": 4096 * 8 // 12, "PackBits": 64}
NOT_WHAT_IT_SAYS: Final = 100  # our judgement: a file that lacks so much was never whole
SIXTEEN: Final = "Save it as TIFF with 16 bits, in grey or RGB, and send that."
COLOURS: Final = {
    "CMYK": f"The file is made for a printing press (CMYK): its numbers are inks, not light. {SIXTEEN}",
    "palette": f"The file holds at most 256 colours of a palette, not tones of light. {SIXTEEN}",
    "Lab": f"The file stores lightness and hue (Lab), not light. {SIXTEEN}",
    "camera raw": "This is a camera raw file. Develop it to TIFF with 16 bits, as it is and without any look, and send that.",
    "other": f"What the numbers of this file mean is not known here. Read are grey and RGB. {SIXTEEN}",
}
TURNED: Final = {
    2: "mirrored left to right",
    3: "turned by half",
    4: "mirrored top to bottom",
    5: "mirrored, and turned a quarter",
    6: "turned a quarter clockwise",
    7: "mirrored, and turned a quarter",
    8: "turned a quarter counter-clockwise",
}
SAID: Final = {"linear": "linear light", "gamma 2.2": "gamma 2.2", "sRGB": "sRGB"}


def problems(header: Header, untagged: str) -> tuple[Fault, ...]:
    """Everything that keeps a file from being measured."""
    found = [Fault("file", "", sentence) for sentence in (*_too_much(header), *_not_light(header))]
    if not found and untagged not in SAID and header.profile() is None and not header.says_srgb:
        why = header.profile_trouble()
        begins = f"The file's profile cannot be used: {why}" if why else "The file carries no profile"
        asked = "so it does not say what its numbers mean. Say it: linear, gamma 2.2 or sRGB. It stands in the scanner's settings."
        found.append(Fault("untagged", "", f"{begins}, {asked}"))
    return tuple(found)


def refuse_if_any(header: Header, untagged: str) -> None:
    """`ScanRefused` with everything that keeps the file from being measured."""
    if found := problems(header, untagged):
        raise ScanRefused(found, header.as_json())


def _too_much(header: Header) -> list[str]:
    """What a file promises, against what is read and against what it can hold."""
    pixels, said = header.width_px * header.height_px, []
    size = f"{header.width_px} × {header.height_px} pixels"
    unpacked_bytes = pixels * header.samples * header.bits // 8
    if not pixels:
        return [f"The file promises a picture of {size}: it is damaged. Scan again, or send it again."]
    if pixels > MOST_PIXELS:
        said.append(f"The file promises {size}; read is up to one gigapixel. Scan with fewer dots per inch, or cut the picture.")
    needs_bytes = max(header.needs_bytes, unpacked_bytes // MOST_FROM_A_BYTE.get(header.packed, unpacked_bytes))
    if needs_bytes > header.size_bytes * NOT_WHAT_IT_SAYS:
        said.append(f"The file promises {size}, and with {file_size(header.size_bytes)} cannot hold them: it is not what it says.")
    elif needs_bytes > header.size_bytes:
        said.append(
            f"The file is cut off: by its own account it has at least {file_size(needs_bytes)}, what arrived has "
            f"{file_size(header.size_bytes)}. Send it again."
        )
    if header.all_at_once and unpacked_bytes > MOST_AT_ONCE_BYTES:
        said.append(f"The file is stored for slow lines (interlaced or progressive), {size} are too many for that. Save it without, best as TIFF.")
    return said


def _not_light(header: Header) -> list[str]:
    """Numbers that are not light, or not of a kind that is read."""
    said = [COLOURS[header.colour]] if header.colour in COLOURS else []
    if header.floating:
        said.append(f"The file stores floating-point numbers of {header.bits} bits; read are whole numbers of 8 or 16 bits. {SIXTEEN}")
    elif header.signed:
        said.append(f"The file stores numbers that may be negative; read are whole numbers from 0 on, of 8 or 16 bits. {SIXTEEN}")
    elif header.bits not in READ_BITS:
        said.append(f"The file stores {header.bits} bit{'s' * (header.bits > 1)} for each number; read are 8 and 16. {SIXTEEN}")
    if header.samples < header.channels:
        said.append("The file says RGB and stores fewer than three numbers for each pixel: it is damaged. Scan again, or send it again.")
    if header.pages > 1:
        said.append(f"The file holds {header.pages} pictures; which one is meant? Save that one in a file of its own.")
    if header.packed.startswith("in a way"):
        said.append(f"The file is packed {header.packed}. {READABLE}")
    return said


def notes(header: Header, untagged: str) -> list[dict[str, Any]]:
    """What is worth saying of a file that can be measured."""
    profile, found = header.profile(), []
    if header.bits < max(READ_BITS):
        found.append(note(Note.FILE_EIGHT_BITS))
    if header.lossy:
        found.append(note(Note.FILE_LOSSY))
    if profile is not None:
        found.append(note(Note.PROFILE_TAKEN if profile.curves else Note.PROFILE_TABLE, name=profile.name or "without a name"))
    elif header.says_srgb:
        found.append(note(Note.PROFILE_TAKEN, name="sRGB"))
    elif header.icc:
        found.append(note(Note.PROFILE_NOT_USED, why=header.profile_trouble(), untagged=SAID[untagged]))
    else:
        found.append(note(Note.NO_PROFILE, untagged=SAID[untagged]))
    if header.has_alpha:
        found.append(note(Note.ALPHA_IGNORED))
    if header.orientation in TURNED:
        found.append(note(Note.TURNED_BY_TAG, how=TURNED[header.orientation]))
    if header.dpi_unlikely:
        found.append(note(Note.DPI_IGNORED, dpi=header.dpi if header.dpi is not None else "an impossible number of"))
    return found


def note(which: Note, **figures: object) -> dict[str, Any]:
    """A note as the book keeps it."""
    severity, sentence = SENTENCES[which]
    return {"note": which.value, "severity": severity, "sentence": sentence.format(**figures)}
