"""What a file of an image says of itself, read before a single pixel is."""

from dataclasses import dataclass
from typing import Any, Final, Literal

from silverwright.errors import Fault, ScanRefused
from silverwright.scanning.profile import Profile, ProfileUnusable, read_profile

Kind = Literal["TIFF", "PNG", "JPEG"]
Colour = Literal["grey", "RGB", "palette", "CMYK", "Lab", "camera raw", "other"]

MOST_PIXELS: Final = 10**9  # our judgement: a gigapixel; a sheet of 20x24 inches at 1200 dpi has 0.7
TURNED_ASIDE: Final = (5, 6, 7, 8)  # source: TIFF 6.0, Orientation: rows stand up and down
TURNS: Final = 8  # source: TIFF 6.0, Orientation: so many ways to lay a picture
READABLE: Final = "A scan is read from TIFF (8 or 16 bits; as it is, or packed by LZW or Deflate), PNG or JPEG."


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """
    What a file says of itself.

    Width and height as the pixels are stored; `orientation` is the tag that says how to turn them (1 to 8, as TIFF 6.0 counts). `samples`
    are the numbers stored for each pixel, `channels` those that are light. `pages` are whole pictures, `page` is where the first stands.
    """

    kind: Kind
    size_bytes: int
    width_px: int
    height_px: int
    colour: Colour
    bits: int
    samples: int
    channels: int
    page: int = 0
    pages: int = 1
    dpi: int | None = None
    dpi_unlikely: bool = False
    orientation: int = 1
    palette: bool = False
    floating: bool = False
    signed: bool = False
    white_is_zero: bool = False
    packed: str = ""
    lossy: bool = False
    all_at_once: bool = False  # nothing can be read of it before everything has been
    needs_bytes: int = 0  # what must at least stand in the file
    icc: bytes = b""
    says_srgb: bool = False

    @property
    def seen_px(self) -> tuple[int, int]:
        """Width and height as the picture is seen."""
        return (self.height_px, self.width_px) if self.orientation in TURNED_ASIDE else (self.width_px, self.height_px)

    @property
    def has_alpha(self) -> bool:
        """Whether more is stored for each pixel than its light."""
        return self.samples > self.channels

    def profile(self) -> Profile | None:
        """The embedded profile, where it can be used."""
        try:
            found = read_profile(self.icc) if self.icc else None
        except ProfileUnusable:
            return None
        return found if found and found.channels == self.channels else None

    def profile_trouble(self) -> str:
        """Why an embedded profile cannot be used; nothing where it can, and where there is none."""
        try:
            found = read_profile(self.icc) if self.icc else None
        except ProfileUnusable as unusable:
            return str(unusable)
        if found and found.channels != self.channels:
            return f"it is for {found.channels} channel{'s' * (found.channels > 1)}, and the picture has {self.channels}"
        return ""

    def as_json(self) -> dict[str, Any]:
        """What the book keeps of it; width and height as the picture is seen."""
        profile = self.profile()
        width_px, height_px = self.seen_px
        return {
            "kind": self.kind,
            "width_px": width_px,
            "height_px": height_px,
            "bits": self.bits,
            "colour": self.colour,
            "channels": self.channels,
            "samples": self.samples,
            "dpi": None if self.dpi_unlikely else self.dpi,
            "orientation": self.orientation,
            "pages": self.pages,
            "has_profile": profile is not None or self.says_srgb,
            "profile_name": profile.name if profile else "sRGB" * self.says_srgb,
            "has_alpha": self.has_alpha,
            "palette": self.palette,
            "floating": self.floating,
            "packed": self.packed,
        }


def refused(sentence: str) -> ScanRefused:
    """A file that cannot be read at all."""
    return ScanRefused([Fault("file", "", sentence)])


def stored_place(orientation: int, x: float, y: float) -> tuple[float, float]:
    """
    Where a place of the picture as it is seen lies in the picture as it is stored; all in shares of width and height.

    TIFF 6.0, Orientation: where the first row and the first column belong.
    """
    across, down = 1 - x, 1 - y
    places = ((x, y), (across, y), (across, down), (x, down), (y, x), (y, across), (down, across), (down, x))
    return places[orientation - 1]
