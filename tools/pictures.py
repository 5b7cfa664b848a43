"""Draws the pictures of the pages: the demo cases on the demo day, as a browser shows them.

python -m tools.pictures
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from playwright.sync_api import Browser, sync_playwright

from tools.browser import ROOT, launched, served
from tools.png import smaller

PICTURES = ROOT / "docs" / "pictures"
HARD, PLAIN = "/plan/hard-second-eye", "/plan/plain-eye"


@dataclass(frozen=True)
class Picture:
    """One picture: which page, how large a window, in which light."""

    path: str
    width: int = 1440
    height: int = 900
    light: Literal["light", "dark"] = "light"
    media: Literal["screen", "print"] = "screen"
    opens: str = ""
    """A link that is pressed first."""


PICTURES_OF_PAGES = {
    "plan-day": Picture(HARD),
    "plan-night": Picture(HARD, light="dark"),
    "plan-narrow": Picture(HARD, width=390, height=844),
    "plan-print": Picture(HARD, width=794, height=1123, media="print"),
    "plain-day": Picture(PLAIN),
    "risk": Picture(f"{HARD}/risk"),
    "risk-night": Picture(f"{HARD}/risk", light="dark"),
    "risk-narrow": Picture(f"{HARD}/risk", width=390, height=844),
    "map": Picture(f"{HARD}/map"),
    "map-night": Picture(f"{HARD}/map", light="dark"),
    "machine": Picture(f"{HARD}/machine"),
    "cornea": Picture(f"{HARD}/cornea"),
    "why": Picture(HARD, opens="a[href*='placements.sulcus_three_piece.power_d']"),
    "index": Picture("/"),
}


def taken(browser: Browser, address: str, wanted: Picture) -> bytes:
    """Return one picture as PNG."""
    context = browser.new_context(
        viewport={"width": wanted.width, "height": wanted.height}, color_scheme=wanted.light
    )
    page = context.new_page()
    page.goto(f"{address}{wanted.path}", wait_until="load")
    page.emulate_media(media=wanted.media, color_scheme=wanted.light)
    if wanted.opens:
        page.locator(wanted.opens).first.click()
        page.locator("#why h1").wait_for()
    page.evaluate("document.fonts.ready.then(() => null)")
    png = page.screenshot(animations="disabled", caret="hide")
    context.close()
    return smaller(png)


def draw_all(folder: Path = PICTURES) -> tuple[Path, ...]:
    """Write every picture; return the files."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    with served() as address, sync_playwright() as playwright:
        browser = launched(playwright)
        for name, wanted in PICTURES_OF_PAGES.items():
            file = folder / f"{name}.png"
            file.write_bytes(taken(browser, address, wanted))
            written.append(file)
        browser.close()
    return tuple(written)


if __name__ == "__main__":
    for path in draw_all():
        print(path.relative_to(ROOT), f"{path.stat().st_size / 1000:.0f} kB")  # noqa: T201
