"""A table file as the result of gauging: what differs from the table that was started from."""

from __future__ import annotations

import json
from pathlib import Path

from stunline.calibration.fit import Fit
from stunline.calibration.posterior import Estimate, estimates, scaled_posterior
from stunline.calibration.record_writing import toml_text
from stunline.equipment.based_on import is_table_file
from stunline.equipment.coefficient_scales import COEFFICIENTS, with_values
from stunline.equipment.model import Coefficients, SpeedDependentFriction
from stunline.errors import Fault, InputError

_UNITS = {"spin_deceleration": "rad/s²", "gravity": "m/s²"}
_FRICTION_UNITS = {"floor": "1", "span": "1", "decay": "s/m"}


def table_text(fit: Fit, source: str) -> str:
    """The file's text.

    Args:
        fit: of the record
        source: the record file's name
    """
    record = fit.record
    cloth = record.table.cloths[record.cloth]
    title = record.title or record.table.title
    told = estimates(fit)[: len(COEFFICIENTS)]
    head = [
        f"# {_one_line(record.table.title)}, gauged: written by  stunline gauge fit {source}",
        f"title = {toml_text(title)}",
        f"based_on = {toml_text(record.table_name)}",
        'leave_out = ["cloths"]   # one cloth only: the one that was gauged',
        "",
        f"[cloths.{record.cloth}]",
        f"title = {toml_text(f'{cloth.title}, gauged')}",
        f"note = {toml_text(_note(fit))}",
    ]
    numbers = _numbers(fit.predictor.coefficients(fit.shared).tolist(), cloth.coefficients, told)
    return "\n".join([*head, *numbers, "", *_gauging(fit, source)]) + "\n"


def check_base(record_table: str, output: str, source: str) -> None:
    """Refuse a place from which the table that it is based on wouldn't be found.

    Raises:
        InputError: the record's table is a file, and not beside the new one.
    """
    beside = Path(output).resolve().parent == (Path(source).parent / record_table).resolve().parent
    if not is_table_file(record_table) or beside:
        return
    fault = Fault(
        "the new table must stand beside the one that it is based on",
        given=f'"{output}"',
        allowed=f"the folder of {record_table}",
        remedy=f'"{(Path(source).parent / record_table).with_name(Path(output).name)}"',
        key="-o",
    )
    raise InputError([fault])


def _note(fit: Fit) -> str:
    when = f" on {fit.record.date}" if fit.record.date else ""
    left = f"; {len(fit.suspects)} left out as they don't fit" if fit.suspects else ""
    return f"Gauged{when} from {fit.record.readings} measurements{left}."


def _numbers(values: list[float], profile: Coefficients, told: tuple[Estimate, ...]) -> list[str]:
    numbers = with_values(profile, values)
    lines = []
    for one in told:
        if one.name != "ball_friction":
            value = getattr(numbers, one.name)
            lines.append(_number(one.name, value, _UNITS.get(one.name, "1"), _source(one)))
    same = "as the profile that the fit started from"
    lines.append(_number("gravity", numbers.gravity, _UNITS["gravity"], same))
    friction, source = numbers.ball_friction, _source(
        next(one for one in told if one.name == "ball_friction")
    )  # fmt: skip
    if not isinstance(friction, SpeedDependentFriction):
        return [*lines, _number("ball_friction", friction, "1", source)]
    law = [
        f"{key} = {{ value = {getattr(friction, key)!r}, unit = {toml_text(unit)}, "
        f"source = {toml_text(f'law of the profile, scaled; at 0.5 m/s {source}')} }}"
        for key, unit in _FRICTION_UNITS.items()
    ]
    return [*lines, "ball_friction = { " + ", ".join(law) + " }"]


def _source(one: Estimate) -> str:
    interval = f"90 % interval {one.low:.4g} to {one.high:.4g}"
    if one.told:
        return f"gauged, {interval}"
    before = f"assumed before: {one.prior_value:.4g}"
    return f"hardly told by these measurements, about as uncertain as before; {before}; {interval}"


def _gauging(fit: Fit, source: str) -> list[str]:
    """Posterior as plain data: values, and their covariance on the scales named."""
    found = estimates(fit)
    covariance = scaled_posterior(fit)[1]
    symmetric = 0.5 * (covariance + covariance.T)
    rows = [f"    [{', '.join(f'{number:.6e}' for number in row)}]," for row in symmetric.tolist()]
    scales = [prior.scale for prior in fit.predictor.priors]
    return [
        f"[cloths.{fit.record.cloth}.gauging]",
        f"date = {toml_text(fit.record.date)}",
        f"record = {toml_text(Path(source).name)}",
        f"measurements = {fit.record.readings}",
        f"names = {json.dumps([one.name for one in found])}",
        f"scales = {json.dumps(scales)}",
        f"values = [{', '.join(repr(float(one.value)) for one in found)}]",
        f"told = {json.dumps([one.told for one in found])}",
        "covariance = [  # of the values on their scales",
        *rows,
        "]",
    ]


def _number(key: str, value: float, unit: str, source: str) -> str:
    number = f"value = {float(value)!r}, unit = {toml_text(unit)}"
    return f"{key} = {{ {number}, source = {toml_text(source)} }}"


def _one_line(text: str) -> str:
    return " ".join(text.split())
