"""The law, the budget, the choice and the fellow eye against our own computed cases."""

import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from zonule.formulas import fellow_eye, fellow_pairs
from zonule.formulas.optics import thin_lens
from zonule.formulas.uncertainty import budget as budgets
from zonule.formulas.uncertainty import choice, law

FILE = tomllib.loads(Path(__file__).with_name("stats.toml").read_text(encoding="utf-8"))
CASES: list[dict[str, Any]] = FILE["case"]
K_TO_CORNEA = 1.0 / 1.0125
BAND_POINTS = np.array([0.05, 0.25, 0.50, 0.75, 0.95])


def of_kind(kind: str) -> list[Any]:
    found = [c for c in CASES if c["use"] == "test" and c["kind"] == kind]
    assert found, f"no case of kind {kind}"
    return [pytest.param(c["inputs"], c["outputs"], c["tolerance"], id=c["id"]) for c in found]


def number(text: Any) -> Any:
    return [float(item) for item in text] if isinstance(text, list) else float(text)


def test_every_case_is_used_or_says_why_not() -> None:
    assert len(CASES) == len({case["id"] for case in CASES}) == 28
    tested = [case for case in CASES if case["use"] == "test"]
    unused = [case for case in CASES if case["use"] == "unused"]
    assert len(tested) + len(unused) == len(CASES)
    assert {case["kind"] for case in tested} == {"predict", "law", "fellow", "fellow_kgroups"}
    assert len(tested) == 14
    assert all(case["reason"] for case in unused)


class Predicted:
    """One predict case worked out, for the powers given."""

    def __init__(self, inputs: dict[str, Any], lens_powers_d: Any) -> None:
        self.inputs = inputs
        power = np.asarray(lens_powers_d, dtype=float)
        self.eye = {
            "corneal_power_d": inputs["corneal_power_d"] * K_TO_CORNEA,
            "length_mm": inputs["axial_length_mm"] - inputs.get("length_bias_mm", 0.0),
            "lens_position_mm": inputs["lens_position_mm"],
            "lens_power_d": power,
        }
        tilt_mean, tilt_sd = inputs.get("tilt_deg", [np.degrees(budgets.ORDINARY_TILT_RAD), 0.0])
        tilt = {"lens_power_d": power, "tilt_mean_deg": tilt_mean, "tilt_sd_deg": tilt_sd}
        self.tilt_shift_d = budgets.tilt_shift_d(**tilt)
        self.slopes = thin_lens.slopes(**self.eye)
        self.refraction_d = thin_lens.refraction(**self.eye) + self.tilt_shift_d
        total = budgets.total_slopes(
            length_d_per_mm=self.slopes.length_d_per_mm,
            cornea_d_per_d=self.slopes.cornea_d_per_d * K_TO_CORNEA,
            position_d_per_mm=self.slopes.position_d_per_mm,
            position_mm_per_length_mm=inputs.get("dposition_dlength", 0.0),
            position_mm_per_chamber_mm=inputs.get("dposition_dchamber", 0.0),
        )
        self.budget = budgets.core_budget(
            length_d_per_mm=total.length_d_per_mm,
            cornea_d_per_d=total.cornea_d_per_d,
            chamber_d_per_mm=total.chamber_d_per_mm,
            position_d_per_mm=self.slopes.position_d_per_mm,
            power_d_per_d=self.slopes.power_d_per_d,
            length_sd_mm=inputs["length_sd_mm"],
            cornea_sd_d=inputs["cornea_sd_d"],
            chamber_sd_mm=inputs.get("chamber_sd_mm", 0.0),
            length_chamber_correlation=inputs.get("length_chamber_correlation", 0.0),
            position_sd_mm=inputs["position_sd_mm"],
            position_mean_sd_mm=inputs.get("position_mean_sd_mm", 0.0),
            label_sd_d=inputs["label_sd_d"],
            refraction_sd_d=inputs["refraction_sd_d"],
            tilt_sd_d=budgets.tilt_sd_d(**tilt),
        )
        self.tail = {"tail_weight": inputs["tail_weight"], "tail_sd_d": inputs["tail_sd_d"]}

    def linear(self) -> law.Law:
        return law.two_component(
            median_d=self.refraction_d, core_sd_d=self.budget.total_sd_d, **self.tail
        )

    def through_the_optics(self) -> law.Law:
        nodes = law.standard_nodes()
        sd_mm = np.hypot(self.inputs["position_sd_mm"], self.inputs.get("position_mean_sd_mm", 0.0))
        at_nodes = {
            **self.eye,
            "lens_position_mm": self.eye["lens_position_mm"] + sd_mm * nodes.standard_scores,
            "lens_power_d": self.eye["lens_power_d"][..., None],
        }
        return law.over_positions(
            node_means_d=thin_lens.refraction(**at_nodes) + self.tilt_shift_d[..., None],
            node_weights=nodes.weights,
            core_sd_d=self.budget.sd_without_position_d,
            **self.tail,
        )


def check_law(found: law.Law, printed: dict[str, Any], aim_d: float, near: Any) -> None:
    """Compare bands and chances."""
    bands = law.quantile(found, probability=BAND_POINTS)
    assert bands == pytest.approx(number(printed["bands_05_25_50_75_95"]), abs=near["bands_d"])
    shares = {
        "within_0_5": law.within(found, centre_d=aim_d, half_width_d=0.5),
        "within_1_0": law.within(found, centre_d=aim_d, half_width_d=1.0),
        "above_0": law.above(found, threshold_d=0.0),
        "above_0_5": law.above(found, threshold_d=0.5),
    }
    for name, share in shares.items():
        assert share == pytest.approx(number(printed[name]), abs=near["probability"]), name


@pytest.mark.parametrize(("inputs", "outputs", "tolerance"), of_kind("predict"))
def test_slopes_and_parts(inputs: Any, outputs: Any, tolerance: Any) -> None:
    shown = Predicted(inputs, number(outputs["shown_power_d"]))
    slopes = {
        "length": shown.slopes.length_d_per_mm,
        "cornea": shown.slopes.cornea_d_per_d * K_TO_CORNEA,
        "position": shown.slopes.position_d_per_mm,
        "power": shown.slopes.power_d_per_d,
    }
    for name, slope in slopes.items():
        assert slope == pytest.approx(number(outputs["slopes"][name]), abs=0.0005), name
    parts = budgets.spreads_d(shown.budget)
    for name, text in outputs["parts_sd_d"].items():
        near = pytest.approx(number(text), rel=tolerance["sd_rel"], abs=0.00005)
        assert parts[name] == near, name


@pytest.mark.parametrize(("inputs", "outputs", "tolerance"), of_kind("predict"))
def test_linear_law(inputs: Any, outputs: Any, tolerance: Any) -> None:
    shown = Predicted(inputs, number(outputs["shown_power_d"]))
    printed = outputs["linear"]
    assert shown.refraction_d == pytest.approx(
        number(printed["refraction_d"]), abs=tolerance["refraction_d"]
    )
    assert shown.budget.total_sd_d == pytest.approx(
        number(printed["core_sd_d"]), rel=tolerance["sd_rel"]
    )
    near = {"bands_d": tolerance["linear_bands_d"], "probability": tolerance["linear_probability"]}
    check_law(shown.linear(), printed, inputs["aim_d"], near)


@pytest.mark.parametrize(("inputs", "outputs", "tolerance"), of_kind("predict"))
def test_position_through_the_optics(inputs: Any, outputs: Any, tolerance: Any) -> None:
    found = Predicted(inputs, number(outputs["shown_power_d"])).through_the_optics()
    printed = outputs["full"]
    near = {"bands_d": tolerance["full_bands_d"], "probability": tolerance["full_probability"]}
    assert law.mean(found) == pytest.approx(number(printed["mean_d"]), abs=near["bands_d"])
    check_law(found, printed, inputs["aim_d"], near)


@pytest.mark.parametrize(("inputs", "outputs", "tolerance"), of_kind("predict"))
def test_expected_loss_and_choice(inputs: Any, outputs: Any, tolerance: Any) -> None:
    powers = inputs["lens_powers_d"]
    all_powers = Predicted(inputs, powers).linear()
    asked = {"aim_d": inputs["aim_d"], "hyperopia_weight": inputs["hyperopia_weight"]}
    losses = law.expected_loss(all_powers, **asked)
    assert losses == pytest.approx(
        number(outputs["expected_loss_by_power_d"]), abs=tolerance["loss_d"]
    )
    chosen = choice.choose(all_powers, lens_power_d=powers, rule="asymmetric", **asked)
    assert powers[int(chosen)] == number(outputs["chosen_power_d"])


@pytest.mark.parametrize(("inputs", "outputs", "tolerance"), of_kind("law"))
def test_law_of_a_population(inputs: Any, outputs: Any, tolerance: Any) -> None:
    sds = np.array(inputs["sds_d"])
    found = law.Law(weights=np.array(inputs["weights"]), means_d=np.zeros(2), sds_d=sds)
    assert law.within(found, centre_d=0.0, half_width_d=0.5) == pytest.approx(
        number(outputs["within_0_5"]), abs=tolerance["p"]
    )
    assert law.within(found, centre_d=0.0, half_width_d=1.0) == pytest.approx(
        number(outputs["within_1_0"]), abs=tolerance["p"]
    )
    assert 2.0 * law.above(found, threshold_d=2.0) == pytest.approx(
        number(outputs["beyond_2_0"]), abs=tolerance["p"]
    )
    assert law.expected_loss(found, aim_d=0.0, hyperopia_weight=1.0) == pytest.approx(
        number(outputs["mae_d"]), abs=tolerance["d"]
    )


def eye(side: dict[str, Any]) -> fellow_eye.Eye:
    slopes, noise = side["slopes"], side["noise"]
    return fellow_eye.Eye(
        length_d_per_mm=slopes["length"],
        cornea_d_per_d=slopes["cornea"],
        position_d_per_mm=slopes["position"],
        power_d_per_d=slopes["power"],
        length_sd_mm=noise["length"],
        cornea_sd_d=noise["cornea"],
        refraction_sd_d=noise["refraction"],
        label_sd_d=noise["label"],
        position_sd_mm=noise["own"],
        position_mean_sd_mm=noise["mean"],
        anatomy_share=noise["anatomy"],
    )


def carried(inputs: dict[str, Any]) -> fellow_eye.CarryOver:
    shared, first, second = inputs["shared"], inputs["first"], inputs["second"]
    return fellow_eye.carry_over(
        first=eye(first),
        second=eye(second),
        shared=fellow_eye.Shared(
            length_sd_mm=shared["length"],
            cornea_sd_d=shared["cornea"],
            refraction_sd_d=shared["refraction"],
            position_sd_mm=shared["position"],
        ),
        first_error_d=inputs["first_error_d"],
        tail_weight=inputs["tail_weight"],
        tail_sd_d=inputs["tail_sd_d"],
        same_placement=first["placement"] == second["placement"],
        same_length_method=inputs["same_length_method"],
        measured_deviation_mm=inputs.get("measured_deviation_mm", np.nan),
        measured_sd_mm=inputs.get("measured_sd_mm", np.nan),
    )


FELLOW_FIELDS = {
    "variance_first": ("variance_first_d2", "variance"),
    "variance_second": ("variance_second_d2", "variance"),
    "covariance": ("covariance_d2", "variance"),
    "share": ("share", "share"),
    "share_pe": ("share", "share"),
    "share_position_mm": ("share_of_position_d_per_mm", "share"),
    "core_probability": ("core_probability", "share"),
    "mean": ("mean_d", "d"),
    "sd": ("sd_d", "d"),
    "sd_before": ("sd_before_d", "d"),
    "residual": ("residual_d", "d"),
    "gain": ("gain", "gain"),
}


@pytest.mark.parametrize(("inputs", "outputs", "tolerance"), of_kind("fellow"))
def test_fellow_eye(inputs: Any, outputs: Any, tolerance: Any) -> None:
    found = carried(inputs)
    for name, text in outputs.items():
        field, kind = FELLOW_FIELDS[name]
        near = pytest.approx(number(text), abs=tolerance[kind])
        assert getattr(found, field) == near, name


@pytest.mark.parametrize(("inputs", "outputs", "tolerance"), of_kind("fellow_kgroups"))
def test_share_by_cornea_group(inputs: Any, outputs: Any, tolerance: Any) -> None:
    edges = [-np.inf, *inputs["cuts"], np.inf]
    groups = dict(zip(("low", "mid", "high"), pairwise(edges), strict=True))
    groups["all"] = (-np.inf, np.inf)
    for name, (low_d, high_d) in groups.items():
        mean_square = fellow_pairs.mean_square_between(
            low_d=low_d, high_d=high_d, mean_d=inputs["k_mean"], sd_d=inputs["k_sd"]
        )
        share = fellow_pairs.share_in_cornea_group(
            covariance_d2=inputs["covariance_other"],
            variance_d2=inputs["variance_other"],
            bias_d_per_d=inputs["slope_d_per_d"],
            mean_square_d2=mean_square,
        )
        assert share == pytest.approx(number(outputs[name]), abs=tolerance["share"]), name
        if name in ("low", "mid"):
            assert mean_square == pytest.approx(number(outputs[f"mean_square_{name}"]), abs=0.00005)
