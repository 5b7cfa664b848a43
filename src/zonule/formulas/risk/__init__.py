"""From published ratios to the risk of one eye: odds, relative risks, hazards, points, own results.

Each published measure is applied on its own scale: odds ratios to odds, relative risks to risks,
hazard ratios to the cumulative hazard. Arrays in, arrays out; what is not known is NaN and stays
NaN.
"""
