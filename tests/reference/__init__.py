"""A second, independent way to compute a shot, for the tests to hold the engine against.

Nothing here imports the package under test. It is written from the laws themselves: the
equations of motion are integrated numerically, an impact is integrated over its normal
impulse with Coulomb friction made smooth, and contacts are found by sampling and bracketing.
No closed form of a path, of an event or of an impact is used. It is slow and plain on purpose.
SI units and radians throughout.
"""
