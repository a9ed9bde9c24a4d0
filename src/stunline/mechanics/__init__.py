"""Compiled kernels: float64 arrays in, float64 arrays out, one law a file.

Nothing here knows a ball's name, a unit other than SI, or a word. Kernels never
raise, print or log: they return codes, which the layer above turns into words.
"""
