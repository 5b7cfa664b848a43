"""The page of cornea and energy as frozen records: texts, tables and two pictures."""

from __future__ import annotations

from dataclasses import dataclass

from zonule.library.reading import STATUS_WORDS, reference
from zonule.plan.cornea_parts import Band, Cornea
from zonule.plan.energy_parts import Energy
from zonule.plan.records import Plan
from zonule.report import cornea_words as said
from zonule.report.figures import endothelium as cells
from zonule.report.figures import energy as drawing
from zonule.report.plan_view.header import header_of
from zonule.report.plan_view.records import HeaderView, Pair, Shown
from zonule.report.words import sentence_case


@dataclass(frozen=True, slots=True)
class ThresholdRow:
    """One threshold of the count."""

    name: str
    outlook: str
    years: Shown | None


@dataclass(frozen=True, slots=True)
class CourseRow:
    """The count some years after surgery."""

    years: str
    middle: str
    half: str
    nine_in_ten: str


@dataclass(frozen=True, slots=True)
class SeriesRow:
    """A mean loss of another series."""

    name: str
    loss: str
    when: str
    remains: str
    source: str


@dataclass(frozen=True, slots=True)
class LineRow:
    """What the next own eye of a density needs."""

    colour: str
    middle: str
    half: str
    nine_in_ten: str
    this_eye: bool


@dataclass(frozen=True, slots=True)
class PrintedRow:
    """A printed mean, as context."""

    lens: str
    technique: str
    eyes: str
    energy: str
    source: str


@dataclass(frozen=True, slots=True)
class CornealCells:
    """The part of the page about the endothelium."""

    heading: str
    figure: str
    narrow_figure: str
    pairs: tuple[Pair, ...]
    notes: tuple[Shown, ...]
    thresholds: tuple[ThresholdRow, ...]
    with_years: bool
    course: tuple[CourseRow, ...]
    series: tuple[SeriesRow, ...]
    series_heading: str
    series_say: str


@dataclass(frozen=True, slots=True)
class EnergyPart:
    """The part of the page about energy."""

    heading: str
    figure: str
    narrow_figure: str
    pairs: tuple[Pair, ...]
    notes: tuple[str, ...]
    rows: tuple[LineRow, ...]
    set_aside: tuple[str, ...]
    printed: tuple[PrintedRow, ...]
    printed_say: str
    effects: tuple[str, ...]
    effects_say: str


@dataclass(frozen=True, slots=True)
class CorneaView:
    """The whole page."""

    header: HeaderView
    cells: CornealCells
    energy: EnergyPart
    caution: str


def cornea_view(plan: Plan) -> CorneaView:
    """Return everything the page of cornea and energy says."""
    return CorneaView(
        header=header_of(plan),
        cells=_cells(plan.parts.cornea),
        energy=_energy(plan.parts.energy),
        caution=said.CAUTION,
    )


def card_lines(plan: Plan) -> tuple[Pair, ...]:
    """Return the two lines that the plan page shows."""
    cornea, energy = plan.parts.cornea, plan.parts.energy
    after = "cornea.after" if cornea.after is not None else ""
    limit = "energy.limit" if energy.log is not None else ""
    return (
        Pair(Shown("Cornea", after), f"{said.cornea_line(cornea)}."),
        Pair(Shown("Energy", limit), f"{said.energy_line(energy)}."),
    )


def card_heading(plan: Plan) -> str:
    """Return the heading of those two lines: what is expected, as a finding."""
    cornea, energy = plan.parts.cornea, plan.parts.energy
    cells = said.now(cornea)
    if cornea.after is not None:
        cells = f"{said.count(cornea.after.count.middle)} expected"
    stop = "no energy limit"
    if energy.limit is not None and energy.measure is not None:
        stop = f"energy limit {said.figure(energy.limit)}"
    return f"Cornea: {cells}, {stop}"


def _cells(told: Cornea) -> CornealCells:
    return CornealCells(
        heading=f"Cornea: {said.cornea_line(told)}",
        figure=_count_figure(told, cells.WIDE),
        narrow_figure=_count_figure(told, cells.NARROW),
        pairs=_cell_pairs(told),
        notes=_cell_notes(told),
        thresholds=tuple(
            ThresholdRow(
                said.threshold(one),
                said.OUTLOOK[one.outlook],
                Shown(said.years_to(one), f"cornea.years.{one.key}") if one.years else None,
            )
            for one in told.thresholds
        ),
        with_years=any(one.years for one in told.thresholds),
        course=tuple(
            CourseRow(_when(one.years), said.count(one.count.middle), *_ends(one.count))
            for one in told.course
        ),
        series=tuple(
            SeriesRow(
                one.label,
                said.loss(one.share),
                "" if one.weeks is None else f"{one.weeks} weeks",
                "" if one.count_per_mm2 is None else said.count(one.count_per_mm2),
                f"{reference(one.source).text} [{STATUS_WORDS[one.status]}]",
            )
            for one in told.series
        ),
        series_heading=said.series_line(told),
        series_say=said.SERIES_SAY,
    )


def _when(years: float) -> str:
    return "after surgery" if years == 0.0 else f"{years:g} years later"


def _ends(band: Band) -> tuple[str, str]:
    return said.span(band.half), said.span(band.nine_in_ten)


def _cell_pairs(told: Cornea) -> tuple[Pair, ...]:
    pairs: list[Pair] = []
    if told.after is not None:
        pairs += [
            Pair(Shown("After surgery", "cornea.after"), f"{said.how_after(told.after)}."),
            Pair(Shown("One standard deviation"), f"{said.one_sd(told.after)}."),
            Pair(Shown("A large loss"), said.large_loss(told.after)),
        ]
    return (*pairs, Pair(Shown("After a rupture", "cornea.rupture"), told.rupture_says))


def _cell_notes(told: Cornea) -> tuple[Shown, ...]:
    beside = (Shown(said.beside(told), "cornea.after"),) if told.beside is not None else ()
    return (Shown(said.usual(told), "cornea.usual"), *beside)


def _count_figure(told: Cornea, layout: cells.Layout) -> str:
    if told.count_per_mm2 is None or not told.course:
        return ""
    return cells.count_over_years(
        now=told.count_per_mm2,
        points=[
            cells.Point(one.years, one.count.middle, one.count.half, one.count.nine_in_ten)
            for one in told.course
        ],
        thresholds=[
            cells.Line(f"{one.label} {one.below_per_mm2:,.0f}", one.below_per_mm2)
            for one in told.thresholds
        ],
        title="Endothelial cell count over the years",
        described=f"{sentence_case(said.cornea_line(told))}. Every year drawn is in the table.",
        layout=layout,
    )


def _energy(told: Energy) -> EnergyPart:
    log = told.log
    return EnergyPart(
        heading=f"Energy: {said.energy_line(told)}",
        figure=_energy_figure(told, drawing.WIDE),
        narrow_figure=_energy_figure(told, drawing.NARROW),
        pairs=_energy_pairs(told),
        notes=_energy_notes(told),
        rows=_line_rows(told),
        set_aside=()
        if log is None
        else tuple(f"Line {one.line}: {one.because}." for one in log.set_aside),
        printed=tuple(
            PrintedRow(
                one.lens,
                one.technique,
                "" if one.eyes is None else f"{one.eyes}",
                said.printed(one),
                f"{reference(one.source).text} [{STATUS_WORDS[one.status]}]",
            )
            for one in told.printed
        ),
        printed_say=said.PRINTED_SAY,
        effects=said.effects(),
        effects_say=said.EFFECTS_SAY,
    )


def _energy_pairs(told: Energy) -> tuple[Pair, ...]:
    pairs: list[Pair] = []
    if told.measure is not None:
        pairs += [
            Pair(Shown("Measure", "energy.measure"), said.measure(told.measure)),
            Pair(Shown("Machine, mode and tip"), f"{said.made_on(told.measure)}."),
        ]
    if told.log is not None:
        pairs.append(Pair(Shown("Own log", "energy.limit"), f"{said.own_log(told.log)}."))
    if told.limit is not None:
        pairs.append(Pair(Shown("The limit", "energy.limit"), said.how_limit(told)))
    return tuple(pairs)


def _energy_notes(told: Energy) -> tuple[str, ...]:
    firm = said.not_firm(told.log) if told.log is not None else ""
    how_to = "" if told.log is not None and told.log.firm else said.HOW_TO_LOG
    return tuple(one for one in (firm, how_to) if one)


def _line_rows(told: Energy) -> tuple[LineRow, ...]:
    if told.log is None:
        return ()
    rows = [(one.nuclear_colour, one.energy, False) for one in told.log.line]
    if told.expected is not None and told.nuclear_colour is not None:
        rows.append((told.nuclear_colour, told.expected, True))
    return tuple(
        LineRow(
            f"{colour:.2g}" if this_eye else f"{colour:.2f}".rstrip("0").rstrip("."),
            said.figure(band.middle),
            said.figures(band.half),
            said.figures(band.nine_in_ten),
            this_eye,
        )
        for colour, band, this_eye in sorted(rows, key=lambda row: (row[0], row[2]))
    )


def _energy_figure(told: Energy, layout: drawing.Layout) -> str:
    if told.log is None or not told.log.cases or told.measure is None:
        return ""
    return drawing.energy_by_density(
        drawing.Drawn(
            unit=f"{told.measure.label}, {told.measure.unit}",
            own=tuple((one.nuclear_colour, one.energy) for one in told.log.cases),
            line=tuple(_at(one.nuclear_colour, one.energy) for one in told.log.line),
            this_eye=None
            if told.expected is None or told.nuclear_colour is None
            else _at(told.nuclear_colour, told.expected),
            limit=told.limit,
            limit_says="" if told.limit is None else f"stop and ask: {said.figure(told.limit)}",
        ),
        title="Own energy by density",
        described=f"{sentence_case(said.energy_line(told))}. The line is in the table.",
        layout=layout,
    )


def _at(colour: float, band: Band) -> drawing.At:
    return drawing.At(colour, band.middle, band.half, band.nine_in_ten)
