// @ts-check
// A length that is typed, in the unit of the position's file.

import { html } from '../../lib/view.js';
import { lengthUnit } from '../lengths.js';
import { TypedNumber } from './number.js';

const INCH_STEPS = 1 / 20; // of an inch, for a step of a millimetre

/**
 * @param {object} props
 * @param {string} props.label what is spoken, before the unit
 * @param {number | null} props.value [mm]
 * @param {number} props.step of the arrow keys [mm]
 * @param {boolean} [props.signed] whether the unit's sign stands behind it
 * @param {number} [props.min] [mm]
 * @param {number} [props.max] [mm]
 * @param {(mm: number) => string} [props.refuse] why a length is not taken, "" if it is
 * @param {(mm: number) => void} props.onSet
 */
export function TypedLength({ label, value, step, signed = true, min, max, refuse, onSet }) {
	const unit = lengthUnit.value;
	const inUnit = (/** @type {number | undefined} */ mm) => (mm === undefined ? mm : mm / unit.mm);
	return html`<${TypedNumber} label=${`${label}, in ${unit.word}`}
		value=${value === null ? null : value / unit.mm} digits=${1 + unit.further}
		step=${unit.mm === 1 ? step : step * INCH_STEPS} unit=${unit.sign} isUnitShown=${signed}
		min=${inUnit(min)} max=${inUnit(max)} refuse=${refuse && ((/** @type {number} */ typed) => refuse(typed * unit.mm))}
		onSet=${(/** @type {number} */ typed) => onSet(typed * unit.mm)} />`;
}
