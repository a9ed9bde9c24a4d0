// @ts-check
// A number that is typed: taken on Enter or on leaving, put back by Escape. What is being typed
// stays, whatever the server says meanwhile. What is not allowed is not taken, and why is said.

import { html, useRef, useSignal } from '../../lib/view.js';
import { outside, Refusal } from './refusal.js';

/**
 * @param {object} props
 * @param {string} props.label what is spoken
 * @param {number | null} props.value
 * @param {number} props.digits
 * @param {number} props.step of the arrow keys
 * @param {number} [props.min]
 * @param {number} [props.max]
 * @param {string} [props.unit]
 * @param {boolean} [props.isUnitShown] behind the field
 * @param {boolean} [props.held] whether what lies outside is refused here; otherwise the server
 *   refuses it in words
 * @param {(value: number) => string} [props.refuse] why a value inside the limits is not taken
 *   either, "" if it is
 * @param {(value: number) => void} props.onSet
 */
export function TypedNumber(props) {
	const { label, value, digits, step, min, max, unit, isUnitShown = true } = props;
	const { held = true, refuse, onSet } = props;
	const typing = useRef(false);
	const refusal = useSignal('');
	const shown = value === null ? '' : trimmed(value, digits);
	/** @param {Event} event */
	const take = (event) => {
		typing.current = false;
		const field = /** @type {HTMLInputElement} */ (event.target);
		const typed = field.valueAsNumber;
		const isNew = Number.isFinite(typed) && field.value !== shown;
		const limits = { label, typed, digits, min, max, unit, kept: shown };
		refusal.value = (isNew && ((held && outside(limits)) || refuse?.(typed))) || '';
		if (isNew && !refusal.value) onSet(held ? within(typed, min, max) : typed);
		else field.value = shown;
	};
	/** @param {FocusEvent} event */
	const leave = (event) => {
		if (typing.current) take(event);
	};
	/** @param {KeyboardEvent} event */
	const keys = (event) => {
		const undoes = (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'z';
		if (event.key !== 'Escape' && !(undoes && typing.current)) return;
		typing.current = false;
		putBack(event, shown);
	};
	return html`<span class="typed"
		><input type="number" aria-label=${label} value=${typing.current ? undefined : shown}
			step=${step} min=${min} max=${max} onInput=${() => (typing.current = true)}
			onChange=${take} onBlur=${leave} onKeyDown=${keys}
		/>${unit && isUnitShown && html`<span class="unit" aria-hidden="true">${unit}</span>`}${
			refusal.value &&
			html`<${Refusal} words=${refusal.value} onGone=${() => (refusal.value = '')} />`
		}</span>`;
}

/** Escape leaves the field too. @param {KeyboardEvent} event @param {string} shown */
function putBack(event, shown) {
	const field = /** @type {HTMLInputElement} */ (event.target);
	field.value = shown;
	if (event.key === 'Escape') field.blur();
	event.preventDefault();
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
