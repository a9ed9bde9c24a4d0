"""This table's coefficients from what a coach can measure, with honest doubt."""
