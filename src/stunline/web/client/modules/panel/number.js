// @ts-check
// A number that is typed: taken on Enter or on leaving, put back by Escape. What is being typed
// stays, whatever the server says meanwhile.

import { html, useRef } from '../../lib/view.js';

/**
 * @param {object} props
 * @param {string} props.label what is spoken
 * @param {number | null} props.value
 * @param {number} props.digits
 * @param {number} props.step of the arrow keys
 * @param {number} [props.min]
 * @param {number} [props.max]
 * @param {string} [props.unit]
 * @param {boolean} [props.held] whether what lies outside is brought inside; otherwise the server
 *   refuses it in words
 * @param {(value: number) => void} props.onSet
 */
export function TypedNumber({ label, value, digits, step, min, max, unit, held = true, onSet }) {
	const typing = useRef(false);
	const shown = value === null ? '' : trimmed(value, digits);
	/** @param {Event} event */
	const take = (event) => {
		typing.current = false;
		const field = /** @type {HTMLInputElement} */ (event.target);
		const typed = field.valueAsNumber;
		if (Number.isFinite(typed) && field.value !== shown)
			onSet(held ? within(typed, min, max) : typed);
		else field.value = shown;
	};
	/** @param {FocusEvent} event */
	const leave = (event) => {
		if (typing.current) take(event);
	};
	/** @param {KeyboardEvent} event */
	const keys = (event) => {
		if (event.key !== 'Escape') return;
		typing.current = false;
		putBack(event, shown);
	};
	return html`<span class="typed"
		><input type="number" aria-label=${label} value=${typing.current ? undefined : shown}
			step=${step} min=${min} max=${max} onInput=${() => (typing.current = true)}
			onChange=${take} onBlur=${leave} onKeyDown=${keys}
		/>${unit && html`<span class="unit" aria-hidden="true">${unit}</span>`}</span>`;
}

/** @param {KeyboardEvent} event @param {string} shown */
function putBack(event, shown) {
	const field = /** @type {HTMLInputElement} */ (event.target);
	field.value = shown;
	field.blur();
	event.stopPropagation();
}

/** @param {number} value @param {number} [min] @param {number} [max] */
const within = (value, min = -Infinity, max = Infinity) => Math.min(Math.max(value, min), max);

/**
 * With those digits, without noughts at the end: 10.5, not 10.50. Minus nought is nought.
 * @param {number} value @param {number} digits
 */
export const trimmed = (value, digits) => String(Number(value.toFixed(digits)) + 0);

/** The same as words read it, with a true minus. @param {number} value @param {number} digits */
export const written = (value, digits) =>
	(value + 0)
		.toFixed(digits)
		.replace(/^-(?=0\.?0*$)/, '')
		.replace('-', '−');
