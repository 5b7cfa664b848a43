"""Findings, formulas and practice meet: powers and refractions with spread, source and caveats."""
