// @ts-check
// Lengths as the position shows them: in millimetres, or in inches where its file says so. The
// page itself reckons in millimetres throughout.

import { computed } from '../lib/view.js';
import { trimmed } from './panel/number.js';
import { documentNow } from './state.js';

const MM_PER_INCH = 25.4; // exact, by definition

/** @typedef {{ sign: string, word: string, mm: number, further: number, grain: number }} LengthUnit
 *   `mm` in one of it, digits `further` than of millimetres, and what typed lengths are rounded
 *   to: fine enough that a length stands there as it was typed [mm] */

/** @type {LengthUnit} */
const MILLIMETRES = { sign: 'mm', word: 'millimetres', mm: 1, further: 0, grain: 0.1 };
/** @type {LengthUnit} */
const INCHES = { sign: 'in', word: 'inches', mm: MM_PER_INCH, further: 2, grain: 0.01 };

/** What lengths are typed and read in. */
export const lengthUnit = computed(() =>
	documentNow.value?.units === 'in' ? INCHES : MILLIMETRES,
);

/** The words with every number and its unit on one line. @param {string} words */
export const unbroken = (words) => words.replace(/(\d) (?=(?:mm|in|m\/s)\b)/g, '$1\u00a0');

/** "150 mm", "5.91 in". @param {number} mm @param {number} [digits] of millimetres */
export function lengthWords(mm, digits = 0) {
	const unit = lengthUnit.value;
	return `${trimmed(mm / unit.mm, digits + unit.further)} ${unit.sign}`;
}
