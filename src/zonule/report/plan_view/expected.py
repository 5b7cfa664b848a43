"""The second column: what the powers around the chosen one would leave."""

from __future__ import annotations

from zonule.plan.records import Expected, Plan, Rung
from zonule.report import sentences
from zonule.report.figures.band import Band
from zonule.report.figures.expected import NARROW, Row, expected_after_surgery
from zonule.report.plan_view.phrases import phrase
from zonule.report.plan_view.records import ExpectedRow, ExpectedView, Phrase, Shown
from zonule.report.words import dioptres, kept, of_100, sentence_case, signed, span

SAID_BELOW = ("formulas_disagree", "long_eye")


def expected_of(plan: Plan) -> ExpectedView | None:
    """Return the figure and table for the one in hand; None while it has no power."""
    rung = plan.in_hand
    if rung is None or rung.chosen is None:
        return None
    rows, aim_d = _drawn(plan, rung), plan.case.aim.spherical_equivalent_d
    heading = f"Expected after surgery · {rung.place.label}"
    described = (
        f"Chosen {dioptres(rung.chosen.power_d)}: expected {dioptres(rung.chosen.refraction_d)}, "
        f"within ±0.50 D of aim {of_100(rung.chosen.within_0_50)}. Every power is in the table."
    )
    return ExpectedView(
        heading=heading,
        figure=expected_after_surgery(rows, aim_d=aim_d, title=heading, described=described),
        narrow_figure=expected_after_surgery(
            rows, aim_d=aim_d, title=heading, described=described, layout=NARROW
        ),
        rows=_rows(plan, rung),
        notes=_notes(rung),
        read_back=" ".join(sentences.read_back(plan)),
        table_open=plan.wish.power_d is not None,
    )


def _drawn(plan: Plan, rung: Rung) -> list[Row]:
    assert rung.chosen is not None
    assert rung.prediction is not None
    at = rung.prediction.index_of(rung.chosen.power_d)
    formulas = tuple(float(value) for value in rung.prediction.by_formula_d[at])
    return [
        Row(
            power=signed(row.power_d),
            band=Band(
                row.refraction_d,
                row.bands["p50"],
                row.bands["p90"],
                rung.place.spread_status == "assumption",
            ),
            share=row.within_0_50,
            share_says=of_100(row.within_0_50),
            chosen=row.power_d == rung.chosen.power_d,
            formulas_d=formulas,
        )
        for row in plan.ladder
    ]


def _rows(plan: Plan, rung: Rung) -> tuple[ExpectedRow, ...]:
    return tuple(_row(rung, row, f"expected[{at}]") for at, row in enumerate(plan.ladder))


def _row(rung: Rung, row: Expected, root: str) -> ExpectedRow:
    assert rung.chosen is not None
    return ExpectedRow(
        power=Shown(dioptres(row.power_d), f"{root}.power_d"),
        power_d=row.power_d,
        refraction=Shown(signed(row.refraction_d), f"{root}.refraction_d"),
        half=Shown(span(*row.bands["p50"]), f"{root}.bands.p50"),
        nine_in_ten=Shown(span(*row.bands["p90"]), f"{root}.bands.p90"),
        within=Shown(of_100(row.within_0_50), f"{root}.within_0_50"),
        within_one=Shown(of_100(row.within_1_00), f"{root}.within_1_00"),
        above_0=Shown(of_100(row.above_0), f"{root}.hyperopic.above_0"),
        above_half=Shown(of_100(row.above_0_50), f"{root}.hyperopic.above_0_50"),
        kept=kept(row.kept),
        chosen=row.power_d == rung.chosen.power_d,
    )


def _notes(rung: Rung) -> tuple[Phrase, ...]:
    """Return what stands below the table: formulas, what speaks loudest, what is silent."""
    assert rung.prediction is not None
    caveats = [sentence_case(c.says) + "." for c in rung.caveats if c.name in SAID_BELOW]
    silent = [
        sentence_case(f"{use.label} is silent: {use.says}.")
        for use in rung.prediction.uses
        if not use.applies
    ]
    starting = [sentences.STARTING_VALUE for c in rung.caveats if c.name == "starting_value"]
    return (_by_formula(rung), *((Shown(one),) for one in (*caveats, *silent, *starting)))


def _by_formula(rung: Rung) -> Phrase:
    """Return what each formula predicts for the chosen power, and how that becomes the expected."""
    assert rung.chosen is not None
    assert rung.prediction is not None
    at, root = rung.prediction.index_of(rung.chosen.power_d), f"placements.{rung.place.key}"
    values = [float(value) for value in rung.prediction.by_formula_d[at]]
    uses = rung.prediction.optics.uses
    told = ", ".join(
        f"{use.label} {signed(value)}" for use, value in zip(uses, values, strict=True)
    )
    sentence = f"By formula, for {dioptres(rung.chosen.power_d)}: {told} D, equal weights."
    numbers = [(dioptres(rung.chosen.power_d), f"{root}.power_d")]
    numbers += [
        (signed(value), f"{root}.by_formula.{use.name}")
        for use, value in zip(uses, values, strict=True)
    ]
    return phrase(sentence, *numbers)
