"""The second column: what the powers around the chosen one would leave."""

from __future__ import annotations

from zonule.plan.records import Plan, Rung
from zonule.report import sentences
from zonule.report.figures.band import Band
from zonule.report.figures.expected import Row, expected_after_surgery
from zonule.report.plan_view.records import ExpectedRow, ExpectedView, Shown
from zonule.report.words import dioptres, kept, of_100, sentence_case, signed, span


def expected_of(plan: Plan) -> ExpectedView | None:
    """Return the figure and table for the one in hand; None while it has no power."""
    rung = plan.in_hand
    if rung is None or rung.chosen is None:
        return None
    heading = f"Expected after surgery · {rung.place.label}"
    aim_d = plan.case.aim.spherical_equivalent_d
    return ExpectedView(
        heading=heading,
        figure=expected_after_surgery(
            _drawn(plan, rung),
            aim_d=aim_d,
            title=heading,
            described=f"{len(plan.ladder)} powers in stock; the figures stand in the table below.",
        ),
        rows=_rows(plan, rung),
        notes=(*_by_formula(rung), *_silent(rung), *_beyond(plan)),
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
    assert rung.chosen is not None
    return tuple(
        ExpectedRow(
            power=Shown(dioptres(row.power_d), f"expected[{at}].power_d"),
            power_d=row.power_d,
            refraction=Shown(dioptres(row.refraction_d), f"expected[{at}].refraction_d"),
            half=span(*row.bands["p50"]),
            nine_in_ten=Shown(span(*row.bands["p90"]), f"expected[{at}].bands.p90"),
            within=Shown(of_100(row.within_0_50), f"expected[{at}].within_0_50"),
            kept=kept(row.kept),
            chosen=row.power_d == rung.chosen.power_d,
        )
        for at, row in enumerate(plan.ladder)
    )


def _by_formula(rung: Rung) -> tuple[str, ...]:
    assert rung.chosen is not None
    assert rung.prediction is not None
    at = rung.prediction.index_of(rung.chosen.power_d)
    told = ", ".join(
        f"{use.label} {signed(float(rung.prediction.by_formula_d[at, column]))}"
        for column, use in enumerate(rung.prediction.optics.uses)
    )
    return (f"By formula: {told} D.",)


def _silent(rung: Rung) -> tuple[str, ...]:
    assert rung.prediction is not None
    return tuple(
        sentence_case(f"{use.label} is silent: {use.says}.")
        for use in rung.prediction.uses
        if not use.applies
    )


def _beyond(plan: Plan) -> tuple[str, ...]:
    rung = plan.in_hand
    assert rung is not None
    assert rung.chosen is not None
    chosen = rung.chosen
    told = (
        f"{dioptres(chosen.power_d)}: within ±1.00 D of aim {of_100(chosen.within_1_00)}; above 0 "
        f"{of_100(chosen.above_0)}, above +0.50 D {of_100(chosen.above_0_50)}.",
        sentences.surer_than_the_bag(plan),
    )
    return tuple(one for one in told if one)
