"""Makes the PNG of a page small: its commonest colours as a palette, packed as tightly as zlib can.

A page has few colours of its own; the many shades at the edges of letters go to the nearest.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

SIGNATURE = b"\x89PNG\r\n\x1a\n"
CHANNELS = {2: 3, 6: 4}
"""By colour type: true colour without and with transparency."""
MOST_COLOURS = 256

Pixels = NDArray[np.uint8]


def smaller(png: bytes) -> bytes:
    """Return a PNG of eight bits a channel with at most 256 colours, without transparency."""
    pixels = _pixels(png)
    palette, index = _palette(pixels)
    return _written(palette, index)


def _chunks(png: bytes) -> Iterator[tuple[bytes, bytes]]:
    assert png.startswith(SIGNATURE), "no PNG"
    at = len(SIGNATURE)
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        yield png[at + 4 : at + 8], png[at + 8 : at + 8 + length]
        at += length + 12


def _pixels(png: bytes) -> Pixels:
    """Return the pixels: rows, columns, red green blue."""
    chunks = list(_chunks(png))
    width, height, depth, kind, _, _, interlaced = struct.unpack(">IIBBBBB", dict(chunks)[b"IHDR"])
    assert depth == 8, "only eight bits a channel"
    assert kind in CHANNELS, "only true colour"
    assert not interlaced
    data = zlib.decompress(b"".join(data for name, data in chunks if name == b"IDAT"))
    channels = CHANNELS[kind]
    rows = np.frombuffer(data, np.uint8).reshape(height, width * channels + 1)
    found = np.zeros((height, width * channels), np.uint8)
    above = np.zeros(width * channels, np.uint8)
    for number, row in enumerate(rows):
        above = found[number] = _unfiltered(int(row[0]), row[1:], above, channels)
    return found.reshape(height, width, channels)[:, :, :3]


def _unfiltered(how: int, row: Pixels, above: Pixels, channels: int) -> Pixels:
    """Return one row as it was before the filter; filters 0 to 4 of the PNG specification."""
    if how == 0:
        return row
    if how == 2:
        return row + above
    if how == 1:
        columns = row.reshape(-1, channels)
        return np.cumsum(columns, axis=0, dtype=np.uint8).reshape(-1)
    found = bytearray(row.tobytes())
    up = above.tobytes()
    for at in range(len(found)):
        before = found[at - channels] if at >= channels else 0
        corner = up[at - channels] if at >= channels else 0
        guess = (before + up[at]) // 2 if how == 3 else _paeth(before, up[at], corner)
        found[at] = (found[at] + guess) & 255
    return np.frombuffer(bytes(found), np.uint8)


def _paeth(before: int, above: int, corner: int) -> int:
    start = before + above - corner
    far = abs(start - before), abs(start - above), abs(start - corner)
    return (before, above, corner)[far.index(min(far))]


def _palette(pixels: Pixels) -> tuple[Pixels, Pixels]:
    """Return the commonest colours, and for each pixel the number of the nearest."""
    height, width, _ = pixels.shape
    colours, index, counts = np.unique(
        pixels.reshape(-1, 3), axis=0, return_inverse=True, return_counts=True
    )
    kept = np.sort(np.argsort(-counts, kind="stable")[:MOST_COLOURS])
    palette = colours[kept]
    apart = colours[:, None, :].astype(np.int32) - palette[None, :, :].astype(np.int32)
    nearest = np.argmin((apart**2).sum(axis=2), axis=1).astype(np.uint8)
    return palette, nearest[index.reshape(-1)].reshape(height, width)


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def _written(palette: Pixels, index: Pixels) -> bytes:
    height, width = index.shape
    rows = np.hstack([np.zeros((height, 1), np.uint8), index])
    return b"".join(
        (
            SIGNATURE,
            _chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 3, 0, 0, 0)),
            _chunk(b"PLTE", palette.tobytes()),
            _chunk(b"IDAT", zlib.compress(rows.tobytes(), 9)),
            _chunk(b"IEND", b""),
        )
    )
