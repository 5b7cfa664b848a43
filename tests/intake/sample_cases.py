"""Whole files for the tests of intake: the skeleton, a plain eye, a practice and its department."""

SKELETON = """\
schema = "zonule-case-1"
eye_to_do = "left"
[patient]
record_number = "demo-0417"
born = 1946-05-02
sex = "female"
allergies = ["none_known"]
[aim]
spherical_equivalent_d = -0.25
rule = "best_chance"          # best_chance | nearest | asymmetric
[left]
lens_status = "phakic"
pupil_dilated_mm = 3.5
phacodonesis = "slight"
[[left.biometry]]
method = "optical_swept_source"    # optical_partial_coherence | optical_low_coherence | ultrasound_immersion | ultrasound_contact
measured_on = 2026-11-02
measured_as = "phakic"
entry = "typed"                    # typed | carried
axial_length_mm = 23.90
axial_length_sd_mm = 0.03
anterior_chamber_depth_mm = 2.60
k_flat_d = 43.20
k_flat_axis = 178
k_steep_d = 44.00
keratometer_index = 1.3375
[right]
lens_status = "pseudophakic"
[right.operation]
done_on = 2026-10-20
placement = "sulcus_three_piece"
placement_known_by = "slit_lamp"
posterior_capsule = "tear_small_round"
lens_power_d = 20.50
aim_d = -0.25
settled_refraction_d = -1.10
settled_on = 2026-12-01
"""  # noqa: E501

PLAIN = """\
schema = "zonule-case-1"
eye_to_do = "right"
surgery_planned_on = 2026-12-08

[patient]
record_number = "demo-0001"
born = 1951-03-14
sex = "male"
allergies = ["none_known"]
nothing_abnormal = ["body"]

[aim]
spherical_equivalent_d = 0.00
rule = "best_chance"

[right]
lens_status = "phakic"
nothing_abnormal = ["story", "front", "pupil", "zonule", "back"]
pupil_dilated_mm = 7.5
lens_look = "nuclear"
locs_no = 3.2
ecd = 2450
old_refraction_sphere_d = 0.50
old_refraction_cylinder_d = -0.50
old_refraction_axis = 90

[[right.biometry]]
method = "optical_swept_source"
measured_on = 2026-11-02
measured_as = "phakic"
entry = "typed"
axial_length_mm = 23.42
axial_length_sd_mm = 0.02
anterior_chamber_depth_mm = 3.12
lens_thickness_mm = 4.55
k_flat_d = 43.25
k_flat_axis = 178
k_steep_d = 43.90
k_steep_axis = 88

[left]
lens_status = "phakic"
nothing_abnormal = ["story", "front", "pupil", "zonule", "back"]
pupil_dilated_mm = 7.3
old_refraction_spherical_equivalent_d = 0.50

[[left.biometry]]
method = "optical_swept_source"
measured_on = 2026-11-02
measured_as = "phakic"
entry = "typed"
axial_length_mm = 23.35
anterior_chamber_depth_mm = 3.10
k_flat_d = 43.30
k_steep_d = 44.05
"""

PRACTICE = """\
schema = "zonule-practice-1"
surgeon = "A. Surgeon"
grade = "consultant"
time_zone = "Europe/London"
repertoire = ["bag", "bag:ring", "sulcus_three_piece", "iris_claw:behind", "later"]
preferred_lens = "single"

[[lens]]
name = "single"
class = "one_piece_acrylic"
optic_mm = 6.0
overall_mm = 13.0
material = "hydrophobic acrylic"
formula_choice = "mean"

[lens.constants.srkt]
a_constant = 119.2709
length_method = "optical"
origin = "published"
eyes = 888

[lens.constants.haigis]
a0 = -0.5914
a1 = 0.3570
a2 = 0.1970
length_method = "optical"
origin = "published"

[lens.stock]
"+20.50" = { quantity = 2, kept = "in_room", device_identifier = "04012345123456" }
"-3.00" = { quantity = 1, kept = "to_order" }

[[lens]]
name = "three"
class = "three_piece"
optic_mm = 6.0
overall_mm = 13.5

[shares]
sulcus_three_piece = 0.6
"iris_claw:behind" = 0.1

[machine]
label = "theatre 2"
infusion_offset_cm = -8
"""

DEPARTMENT = f"""\
{PRACTICE}
[habits]
main_wound_site = "temporal"
main_wound_mm = 2.4
anaesthesia = "sub_tenons"
nucleus_routes = ["chop", "larger_wound"]

[kept]
iris_hooks = {{ kept = "in_room", quantity = 10 }}
tension_segment = {{ kept = "to_fetch", shelf = "store 2" }}
trypan_blue = {{ kept = "to_order", quantity = 0 }}

[[recipe_card]]
item = "trypan_blue"
strength = "ready-made, as labelled"
card = "card 3"
approved_by = "A. Pharmacist"
approved_on = 2026-04-01

[[recipe_card]]
item = "miotic"
strength = "from the sealed box"
card = "card 4"
approved_by = "A. Pharmacist"
approved_on = 2026-04-02

[[rule_decision]]
rule = "T-04"
decision = "switched_off"
decided_by = "A. Lead"
decided_on = 2026-05-11
reason = "To be talked over"

[[rule_decision]]
rule = "T-04"
decision = "changed"
decided_by = "A. Lead"
decided_on = 2026-05-12
reason = "Talked over"
title = "Rhexis of 5.0 mm"
do = ["Mark it first.", "Then tear."]

[[rule_decision]]
rule = "L-01"
decision = "accepted"
decided_by = "A. Lead"
decided_on = 2026-05-13
reason = "As we do it"
"""
