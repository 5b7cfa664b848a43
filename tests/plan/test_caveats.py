"""What must be known beside the numbers of a place travels with them as data."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plan.cases import (
    NAMES,
    THREE_PIECE,
    case,
    example,
    lens_named,
    planned,
    rung,
    with_biometry,
    with_eye,
    with_findings,
    with_lenses,
)
from zonule.findings.answers import Unknown
from zonule.library.placements import places
from zonule.library.reading import STATUSES, reference
from zonule.plan.records import Plan, Rung


def _names(one: Rung) -> set[str]:
    return {caveat.name for caveat in one.caveats}


def _saying(one: Rung, name: str) -> list[str]:
    return [caveat.says for caveat in one.caveats if caveat.name == name]


@pytest.mark.parametrize("name", NAMES)
def test_every_caveat_has_a_sentence_a_known_source_and_a_status(name: str) -> None:
    for one in example(name).rungs:
        for caveat in one.caveats:
            assert caveat.says
            assert reference(caveat.source).text
            assert caveat.status in STATUSES
            assert caveat.stops in ("signature", "nothing")


@pytest.mark.parametrize("name", NAMES)
def test_an_assumed_spread_or_place_is_said_wherever_it_is_used(name: str) -> None:
    for one in example(name).rungs:
        if one.chosen is None:
            continue
        assert ("spread_assumed" in _names(one)) is (one.place.spread_status == "assumption")
        moved = {"assumption": "move_assumed", "memory": "move_unverified"}
        found = _names(one) & set(moved.values())
        wanted = moved.get(one.place.move_status)
        assert found == ({wanted} if wanted else set())


def test_most_backups_rest_on_an_assumed_spread() -> None:
    assumed = [key for key, one in places().items() if one.spread_status == "assumption"]
    assert len(assumed) >= 6


def _starting_value() -> Plan:
    lens = lens_named(THREE_PIECE)
    constants = {
        name: replace(one, origin="starting_value") for name, one in lens.constants.items()
    }
    return planned(case("plain-eye"), with_lenses(replace(lens, constants=constants)))


def test_a_starting_value_blocks_signing_but_shows_the_power() -> None:
    bag = rung(_starting_value(), "bag")
    assert bag.chosen is not None
    (caveat,) = [one for one in bag.caveats if one.name == "starting_value"]
    assert caveat.stops == "signature"
    assert caveat.says.endswith("a starting value, not a constant of this lens; not to be signed")


def test_one_formula_alone_is_said() -> None:
    lens = lens_named(THREE_PIECE)
    alone = replace(lens, constants={"srkt": lens.constants["srkt"]})
    bag = rung(planned(case("plain-eye"), with_lenses(alone)), "bag")
    assert _saying(bag, "one_formula") == ["one formula alone: nothing to compare it with"]
    assert "one_formula" not in _names(rung(example("plain-eye"), "bag"))


def test_formulas_that_part_company_are_named() -> None:
    bag = rung(example("long-eye-after-vitrectomy"), "bag")
    (says,) = _saying(bag, "formulas_disagree")
    assert "SRK/T stands apart" in says
    assert "formulas_disagree" not in _names(rung(example("plain-eye"), "bag"))


def test_a_store_that_ends_too_early_is_said_with_both_powers() -> None:
    lens = lens_named(THREE_PIECE)
    short = replace(lens, stock=tuple(one for one in lens.stock if one.power_d <= 21.0))
    bag = rung(planned(case("plain-eye"), with_lenses(short)), "bag")
    assert bag.chosen is not None
    assert bag.chosen.power_d == 21.0
    assert bag.exact_power_d is not None
    assert 0.55 < bag.exact_power_d - 21.0 < 1.0
    assert _saying(bag, "store_not_near") == [
        f"this place needs about {bag.exact_power_d:+.2f} D and the nearest in the store is "
        "+21.00 D: order"
    ]
    assert "store_not_near" not in _names(rung(example("plain-eye"), "bag"))


LONG = (
    "long eye: formulas without a long-eye adjustment, such as these, tend to leave it more "
    "hyperopic than they say; compare with an adjusted formula before aiming"
)


@pytest.mark.parametrize(("length_mm", "says"), [(26.0, []), (26.01, [LONG]), (30.0, [LONG])])
def test_a_long_eye_is_said_to_end_hyperopic(length_mm: float, says: list[str]) -> None:
    whole = with_biometry(case("long-eye-after-vitrectomy"), axial_length_mm=length_mm)
    fellow = replace(whole.fellow_eye, biometry=(), answers={})
    bare = replace(
        whole.operative_eye,
        answers={
            key: value
            for key, value in whole.operative_eye.answers.items()
            if key != "old_refraction_spherical_equivalent_d"
        },
    )
    plan = planned(with_eye(with_eye(whole, fellow), bare))
    assert _saying(rung(plan, "bag"), "long_eye") == says


@pytest.mark.parametrize("unknown", list(Unknown))
def test_a_finding_not_known_is_said_beside_the_places_it_may_close(unknown: Unknown) -> None:
    plan = planned(with_findings(case("plain-eye"), dialysis_clock_hours=unknown))
    for key in ("bag", "bag:posterior_tear", "sulcus_capture", "sulcus_three_piece"):
        assert "zonular dialysis not known" in _saying(rung(plan, key), "finding_says")


def test_the_one_piece_in_the_store_is_said_to_be_kept_from_the_sulcus() -> None:
    refused = _saying(rung(example("plain-eye"), "sulcus_three_piece"), "lens_refused")
    assert len(refused) == 1
    assert refused[0].startswith("one-piece acrylic never loose in the sulcus")


def _speaks_of_a_ring(plan: Plan) -> bool:
    says = [caveat.says for caveat in rung(plan, "bag").caveats]
    return any("tension ring" in one and "+0.0 to +0.2 D" in one for one in says)


@pytest.mark.parametrize(
    ("finding", "value"), [("phacodonesis", "slight"), ("pxf", True), ("dialysis_clock_hours", 2)]
)
def test_a_ring_is_spoken_of_where_the_zonule_is_weak(finding: str, value: object) -> None:
    assert not _speaks_of_a_ring(example("plain-eye"))
    weak = planned(with_findings(case("plain-eye"), **{finding: value}))
    assert _speaks_of_a_ring(weak)
    bag, plain = rung(weak, "bag").chosen, rung(example("plain-eye"), "bag").chosen
    assert bag is not None
    assert plain is not None
    assert bag.power_d == plain.power_d
