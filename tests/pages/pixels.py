"""Pixels of a screenshot, as numbers."""

import io

import numpy as np
from numpy.typing import NDArray
from PIL import Image


def pixels(png: bytes) -> NDArray[np.uint8]:
    """Rows, columns, and red, green, blue."""
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB"))
