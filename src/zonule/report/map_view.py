"""The page of the incision and hook map as frozen records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from zonule.library.reading import STATUS_WORDS, table
from zonule.plan.clock_map import ClockMap, Mark, SteepAxis
from zonule.plan.main_wound import hour_of
from zonule.plan.records import Plan
from zonule.report import map_words as said
from zonule.report.figures.clock_map import KeyLine, MapDrawing, clock_map
from zonule.report.figures.clock_marks import Drawn
from zonule.report.plan_view.header import header_of
from zonule.report.plan_view.records import HeaderView, MapCard, Phrase, Shown

View = Literal["examiner", "surgeon"]
BOTTOM: Final = 270.0
"""Where on a drawing the surgeon sits in the surgeon's view."""


@dataclass(frozen=True, slots=True)
class MapRow:
    """One thing at the limbus."""

    letters: str
    label: str
    hour: Shown
    degrees: str
    moved: str
    says: str
    status: str


@dataclass(frozen=True, slots=True)
class ClashLine:
    """Two things that come too near."""

    word: str
    says: str


@dataclass(frozen=True, slots=True)
class MapView:
    """The whole page."""

    header: HeaderView
    heading: str
    acts: bool
    view: View
    views: tuple[tuple[View, str], ...]
    """Both, and what each is called."""
    view_says: str
    figure: str
    clashes: tuple[ClashLine, ...]
    waits: str
    notes: tuple[str, ...]
    steep: Phrase
    """Empty where no steep axis is known."""
    rows: tuple[MapRow, ...]
    says: str


def turned_for(clock: ClockMap, view: View) -> float:
    """Return by how many degrees a drawing is turned, counter-clockwise.

    Examples
    --------
    >>> turned_for(ClockMap("left", "superior", ()), "surgeon") % 360.0
    180.0
    >>> turned_for(ClockMap("left", "temporal", ()), "surgeon") % 360.0
    270.0
    """
    if view == "examiner":
        return 0.0
    return BOTTOM - (90.0 - 30.0 * hour_of(clock.seat, clock.side))


def drawing_of(clock: ClockMap, view: View) -> MapDrawing:
    """Return the map as it is drawn."""
    in_clash = {key for one in clock.clashes for key in (one.first, one.second) if one.hard}
    rows = table("clock_map")["kind"]
    kinds = dict.fromkeys(one.kind for one in clock.marks)
    steep = clock.steep_axis
    return MapDrawing(
        view_says=said.view_says(clock, view),
        temporal_hour=int(hour_of("temporal", clock.side)),
        seat_hour=int(hour_of(clock.seat, clock.side)),
        seat_says=said.SEAT_SAYS,
        turned=turned_for(clock, view),
        marks=tuple(_drawn(one, in_clash) for one in clock.marks),
        key=tuple(
            KeyLine(
                kind,
                said.LETTERS[kind],
                said.KEY_SAYS.get(kind, rows[kind].get("many", rows[kind]["label"])),
            )
            for kind in kinds
        ),
        steep_axis=steep.axis if steep else None,
        steep_says=said.steep_axis_short(steep) if steep else "",
    )


def _drawn(mark: Mark, in_clash: set[str]) -> Drawn:
    return Drawn(
        kind=mark.kind,
        letters=said.letters(mark),
        degrees=mark.degrees,
        half_width=mark.half_width_degrees,
        clashes=mark.key in in_clash,
    )


def figure_of(clock: ClockMap, view: View, *, with_key: bool = True) -> str:
    """Return the drawing of a map."""
    told = "; ".join(f"{one.label} at {said.hour(one)}" for one in clock.marks)
    return clock_map(
        drawing_of(clock, view),
        title=f"Clock face. {said.view_says(clock, view)}",
        described=f"{said.heading(clock)}. {told}.",
        with_key=with_key,
    )


def _acts(clock: ClockMap) -> bool:
    return bool(clock.asks or clock.hard)


def map_card(plan: Plan) -> MapCard:
    """Return what the plan page has of the map: what it comes to, and the drawing."""
    clock = plan.parts.clock_map
    lines = (*(said.clash(one) for one in clock.hard), said.waits(clock))
    return MapCard(
        heading=f"Incisions and hooks: {said.heading(clock)}",
        acts=_acts(clock),
        figure=figure_of(clock, "surgeon"),
        lines=tuple(line for line in lines if line),
    )


def map_view(plan: Plan, view: View) -> MapView:
    """Return everything the page of the map says.

    Parameters
    ----------
    plan
        The plan.
    view
        As the examiner or as the surgeon sees the eye.
    """
    clock = plan.parts.clock_map
    return MapView(
        header=header_of(plan),
        heading=said.heading(clock),
        acts=_acts(clock),
        view=view,
        views=(("surgeon", said.VIEWS["surgeon"]), ("examiner", said.VIEWS["examiner"])),
        view_says=said.view_says(clock, view),
        figure=figure_of(clock, view),
        clashes=tuple(ClashLine(said.clash_word(one), said.clash(one)) for one in clock.clashes),
        waits=said.waits(clock),
        notes=clock.notes,
        steep=_steep(clock.steep_axis),
        rows=tuple(_row(one) for one in clock.marks),
        says=table("clock_map")["meta"]["says"],
    )


def _steep(axis: SteepAxis | None) -> Phrase:
    if axis is None:
        return ()
    short = Shown(said.steep_axis_short(axis), "clock_map.steep_axis")
    return (short, Shown(f": {said.steep_axis(axis)}"))


def _row(mark: Mark) -> MapRow:
    return MapRow(
        letters=said.letters(mark),
        label=mark.label,
        hour=Shown(said.hour(mark), f"clock_map.{mark.key}"),
        degrees=f"{round(mark.degrees, 1):g}°",
        moved=said.moved(mark),
        says=mark.says,
        status=STATUS_WORDS[mark.status],
    )
