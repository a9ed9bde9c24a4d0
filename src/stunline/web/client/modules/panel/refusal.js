// @ts-check
// Why a typed number was not taken, beside its field: what was typed, what is allowed, what stays.

import { html, useEffect, useLayoutEffect, useRef } from '../../lib/view.js';

const GAP = 6; // from the field, and from the screen's edges [px]

/**
 * Stands over everything, below its field or, where there is no room, above it; gone with the next
 * key or press.
 * @param {{ words: string, onGone: () => void }} props
 */
export function Refusal({ words, onGone }) {
	const box = useRef(/** @type {HTMLSpanElement | null} */ (null));
	useLayoutEffect(() => {
		const own = box.current;
		const field = own?.parentElement?.getBoundingClientRect();
		if (!own || !field) return;
		own.showPopover?.(); // above everything, whatever cuts off what stands round the field
		const { width, height } = own.getBoundingClientRect();
		const left = Math.min(field.left, innerWidth - width - GAP);
		const below = field.bottom + GAP;
		const top = below + height + GAP > innerHeight ? field.top - height - GAP : below;
		own.style.left = `${Math.max(left, GAP)}px`;
		own.style.top = `${Math.max(top, GAP)}px`;
	}, [words]);
	useEffect(() => {
		const kinds = ['keydown', 'pointerdown', 'wheel'];
		for (const kind of kinds) addEventListener(kind, onGone, true);
		return () => {
			for (const kind of kinds) removeEventListener(kind, onGone, true);
		};
	}, []);
	return html`<span class="typed-refusal small" popover="manual" role="alert" ref=${box}>${words}</span>`;
}

/**
 * The sentence for a number outside its limits; "" for one inside, up to a rounding.
 * @param {object} wish
 * @param {string} wish.label of the field
 * @param {number} wish.typed
 * @param {number} wish.digits
 * @param {number} [wish.min]
 * @param {number} [wish.max]
 * @param {string} [wish.unit] its sign
 * @param {string} [wish.kept] what stands there on
 */
export function outside({ label, typed, digits, min, max, unit = '', kept = '' }) {
	const half = 0.5 * 10 ** -digits;
	const tooSmall = min !== undefined && typed < min - half;
	const tooLarge = max !== undefined && typed > max + half;
	if (!tooSmall && !tooLarge) return '';
	const sign = unit === '°' ? unit : unit && ` ${unit}`;
	const name = label.split(',')[0];
	const what = tooSmall ? 'is too small' : 'is too large';
	return `${name}: ${inWords(typed)}${sign} ${what}. Allowed: ${limitsInWords(digits, min, max)}${sign}. ${keptWords(kept && kept + sign)}`;
}

/** What stays, as the last sentence of a refusal. @param {string} kept */
export const keptWords = (kept) =>
	kept ? `It stays ${kept.replace('-', '−')}.` : 'Nothing was changed.';

/** @param {number} value */
const inWords = (value) => String(value).replace('-', '−');

/** Rounded inwards, so that what is named can be typed. @param {number} digits @param {number} [min] @param {number} [max] */
function limitsInWords(digits, min, max) {
	const parts = 10 ** digits;
	const least = min === undefined ? '' : inWords(Math.ceil(min * parts - 1e-9) / parts + 0);
	const most = max === undefined ? '' : inWords(Math.floor(max * parts + 1e-9) / parts + 0);
	if (least && most) return `${least} to ${most}`;
	return least ? `at least ${least}` : `at most ${most}`;
}
