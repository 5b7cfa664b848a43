"""Where a number of the plan comes from: one explanation for each path.

A path names a number as the JSON does: ``placements.sulcus_three_piece.power_d``,
``placements.bag.bands.p90``, ``placements.bag.by_formula.srkt``, ``first_eye.error_d``,
``eye.axial_length_mm``. A command and a page open the same text.
"""
