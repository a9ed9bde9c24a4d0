"""Positions, strikes and what came of them: names above, arrays below, SI units throughout."""
