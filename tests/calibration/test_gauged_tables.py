"""A gauged table as a file: read back, named in a position, compared with another."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from calibration.simulated_table import record, stored_tables
from stunline.calibration.comparing import compare
from stunline.calibration.fit import Fit, fit
from stunline.calibration.posterior import estimates, scaled_posterior
from stunline.calibration.table_writing import check_base, table_text
from stunline.equipment.catalogue import load_table
from stunline.equipment.coefficient_scales import COEFFICIENTS
from stunline.equipment.gauging import Gauging
from stunline.equipment.table_file import parse_table
from stunline.errors import InputError
from stunline.shot.position_file import read_position_file
from stunline.shot.words import UNMEASURED, doubt_words


@pytest.fixture(scope="module")
def found() -> Fit:
    given = record(stored_tables()[0], ("roll-up", "cushion-square", "half-ball"))
    return fit(replace(given, title='Table "3"', date="2026-11-29"))


def gauging_of(text: str) -> Gauging:
    (cloth,) = parse_table(text, "gauged").cloths.values()
    assert cloth.gauging is not None
    return cloth.gauging


def test_values_and_covariance_come_back(found: Fit) -> None:
    text = table_text(found, "record.toml")
    table = parse_table(text, "gauged")
    assert table.title == 'Table "3"'
    assert table.pockets == load_table("snooker-12ft").pockets
    told = {one.name: one for one in estimates(found)}
    (cloth,) = table.cloths.values()
    numbers = cloth.coefficients
    for name in COEFFICIENTS:
        if name != "ball_friction":
            assert getattr(numbers, name) == pytest.approx(told[name].value, rel=1e-12)
    gauging = gauging_of(text)
    assert (gauging.date, gauging.record, gauging.measurements) == ("2026-11-29", "record.toml", 7)
    assert gauging.values == tuple(one.value for one in told.values())
    assert gauging.told == tuple(one.told for one in told.values())
    assert np.array(gauging.covariance) == pytest.approx(scaled_posterior(found)[1], rel=1e-5)
    assert "hardly told" in cloth.sources["spin_deceleration"].source
    assert cloth.sources["rolling_resistance"].source.startswith("gauged, 90 % interval")
    assert doubt_words(cloth) == "gauged 2026-11-29"
    assert doubt_words(load_table("snooker-12ft").default_cloth()) == UNMEASURED


def test_a_position_names_it_like_any_table(found: Fit, tmp_path: Path) -> None:
    (tmp_path / "gauged.toml").write_text(table_text(found, "record.toml"), encoding="utf-8")
    (tmp_path / "shot.toml").write_text(
        'table = "gauged.toml"\n[balls]\nwhite = [889, 800]\n[strike]\naim = 90.0\npace = 1.0\n',
        encoding="utf-8",
    )
    read = read_position_file(tmp_path / "shot.toml")
    wanted = next(one.value for one in estimates(found) if one.name == "rolling_resistance")
    assert read.position.coefficients.rolling_resistance == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"log", "log"', '"log", "lug"', "each scale must be"),
        ("told = [", "told = [true, ", "told must be a list, one for each of the names"),
        ("covariance = [", "covariance = [[1.0],", "must be a square of numbers"),
        ("measurements = 7", "measurements = 0", "the number of measurements is too small"),
        ("values = [", "vlues = [", "there is no such key here"),
    ],
)
def test_a_gauging_that_was_tampered_with(found: Fit, old: str, new: str, said: str) -> None:
    text = table_text(found, "record.toml")
    assert old in text
    with pytest.raises(InputError, match=said):
        parse_table(text.replace(old, new, 1), "gauged")


def test_a_covariance_is_symmetric_and_positive(found: Fit) -> None:
    head, rows = table_text(found, "record.toml").split("covariance = [")
    negative = rows.replace("\n    [", "\n    [-", 1)
    with pytest.raises(InputError, match="its diagonal above 0"):
        parse_table(f"{head}covariance = [{negative}", "gauged")


def test_a_table_of_ones_own_must_stand_beside_the_new_one(tmp_path: Path) -> None:
    check_base("own.toml", str(tmp_path / "new.toml"), str(tmp_path / "record.toml"))
    check_base("snooker-12ft", "elsewhere/new.toml", str(tmp_path / "record.toml"))
    with pytest.raises(InputError, match="must stand beside"):
        check_base("own.toml", str(tmp_path / "inside" / "new.toml"), str(tmp_path / "record.toml"))


def one(value: float, deviation: float, told: bool = True) -> Gauging:
    """A gauging of rolling resistance alone."""
    names, scales = ("rolling_resistance",), ("log",)
    return Gauging("", "", 3, names, scales, (value,), (told,), ((deviation**2,),))


def test_a_difference_is_held_to_both_doubts() -> None:
    # ln(0.012/0.010) = 0.18232 against √2·0.05: 2.578 standard deviations; 0.00993 by a table of
    # the normal distribution, two-sided.
    (change,) = compare(one(0.010, 0.05), one(0.012, 0.05)).changes
    assert change.chance == pytest.approx(0.00993, abs=2e-5)
    assert change.real
    spread = math.exp(1.64485 * math.sqrt(2.0) * 0.05)
    assert (change.low, change.high) == pytest.approx((1.2 / spread, 1.2 * spread), rel=1e-5)
    (same,) = compare(one(0.010, 0.05), one(0.011, 0.05)).changes
    assert not same.real  # 1.35 standard deviations


def test_what_was_not_told_is_no_change() -> None:
    found = compare(one(0.010, 0.05), one(0.020, 0.05, told=False))
    assert not found.changes[0].real
    assert found.chance == 1.0


def test_a_table_did_not_change_from_itself(found: Fit) -> None:
    gauging = gauging_of(table_text(found, "record.toml"))
    result = compare(gauging, gauging)
    assert result.chance == pytest.approx(1.0)
    assert not any(change.real for change in result.changes)
