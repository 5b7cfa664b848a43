"""Draws the sheet for the theatre wall as pictures: as printed, and as a grey printer prints it.

python -m tools.sheet_pictures
"""

from __future__ import annotations

import struct
import zlib
from datetime import UTC, datetime
from typing import Any, Final

import numpy as np
import pypdfium2  # type: ignore[import-untyped]
from numpy.typing import NDArray

from tools.png import smaller
from tools.refresh_docs import DEMO_DAY, ROOT
from zonule.pathway.plan_an_eye import plan_files
from zonule.pathway.print_a_sheet import sheet_pdf

MADE_AT: Final = datetime(2026, 11, 25, 10, 40, tzinfo=UTC)
DOTS_PER_INCH: Final = 130
LUMINANCE: Final = np.array([0.2126, 0.7152, 0.0722])

Picture = NDArray[np.uint8]


def drawn(pdf: bytes) -> Picture:
    """Return a page as rows of red, green and blue."""
    page: Any = pypdfium2.PdfDocument(pdf)[0].render(scale=DOTS_PER_INCH / 72, rev_byteorder=True)
    found: Picture = np.array(page.to_numpy())[:, :, :3]
    return found


def grey(picture: Picture) -> Picture:
    """Return the luminance of a picture, as a grey printer sees it."""
    seen = (picture @ LUMINANCE).round().astype(np.uint8)
    return np.repeat(seen[:, :, None], 3, axis=2)


def png(picture: Picture) -> bytes:
    """Return a picture as PNG."""
    rows = picture.reshape(len(picture), -1)
    unfiltered = np.hstack([np.zeros((len(rows), 1), np.uint8), rows])
    head = struct.pack(">IIBBBBB", picture.shape[1], picture.shape[0], 8, 2, 0, 0, 0)
    body = zlib.compress(unfiltered.tobytes(), 9)
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", body) + _chunk(b"IEND")


def _chunk(name: bytes, data: bytes = b"") -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def pictures() -> dict[str, bytes]:
    """Return both pictures of the sheet of the hard second eye."""
    examples = ROOT / "examples"
    plan = plan_files(examples / "hard-second-eye.toml", examples / "practice.toml", today=DEMO_DAY)
    page = drawn(sheet_pdf(plan, made_at=MADE_AT))
    return {"sheet.png": smaller(png(page)), "sheet-grey.png": smaller(png(grey(page)))}


if __name__ == "__main__":
    folder = ROOT / "docs" / "pictures"
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in pictures().items():
        (folder / name).write_bytes(data)
