"""Position files: the whole schema, one module a section, read, written and shipped.

TOML in millimetres, degrees and m/s on the outside; frozen data in SI units and radians
inside. Every fault of a file is reported at once, with its line.
"""

from stunline.shot.position_file.reading import (
    DisplayUnits,
    PositionFile,
    ReadValues,
    parse_position,
    read_position_file,
    read_values,
)

__all__ = [
    "DisplayUnits",
    "PositionFile",
    "ReadValues",
    "parse_position",
    "read_position_file",
    "read_values",
]
