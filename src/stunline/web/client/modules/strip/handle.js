// @ts-check
// The handle over the strip: dragged, clicked, moved by keys; hovering shows that value's path.

import { html, useRef, useSignal } from '../../lib/view.js';
import { lengthWords } from '../lengths.js';
import { written } from '../panel/number.js';
import { side } from '../panel/settled.js';
import { setContact, setPace } from '../panel/strike_edits.js';
import { hidden, preview, strip, words } from '../state.js';
import { bandAt, bandRows, isRight, nextBand, shareOf, valueAt, valueNow } from './ruler.js';

/** Steps of the arrow keys, and digits that a value is set with. */
const STEPS = {
	pace: { key: 0.02, large: 0.1, digits: 3 },
	height: { key: 0.1, large: 0.5, digits: 2 },
};

const PACE_SHOWN = 2; // digits of a pace in words

const steps = () => STEPS[strip.value?.of ?? 'pace'];

/** The value with its unit: "1.70 m/s", "10.5 mm", "0.413 in". @param {number} value */
function valueWords(value) {
	if (strip.value?.of === 'height') return lengthWords(value, 1).replace('-', '−');
	return `${written(value, PACE_SHOWN)} m/s`;
}

/** @param {number} value @param {string} gesture */
function set(value, gesture) {
	if (strip.value?.of === 'height') setContact(side.value, value, gesture);
	else setPace(Number(value.toFixed(steps().digits)), gesture);
}

export function StripHandle() {
	const surface = useRef(/** @type {HTMLDivElement | null} */ (null));
	const gesture = useRef(/** @type {string | null} */ (null));
	const hovered = useSignal(/** @type {number | null} */ (null));
	const shown = strip.value;
	if (!shown) return null;

	const under = (/** @type {PointerEvent} */ event) => {
		const box = surface.current?.getBoundingClientRect();
		return box ? valueAt((event.clientX - box.left) / box.width) : valueNow();
	};
	const press = (/** @type {PointerEvent} */ event) => {
		if (event.button !== 0 || !isRight()) return;
		surface.current?.setPointerCapture(event.pointerId);
		gesture.current = `strip ${event.timeStamp}`;
		leave();
		words.value = false;
		set(under(event), gesture.current);
	};
	const move = (/** @type {PointerEvent} */ event) => {
		if (gesture.current) set(under(event), gesture.current);
		else if (event.pointerType === 'mouse' && isRight()) look(under(event));
	};
	const look = (/** @type {number} */ value) => {
		hovered.value = value;
		const kept = Number(value.toFixed(steps().digits));
		if (!hidden.value) preview.value = { [shown.of]: kept };
	};
	const leave = () => {
		hovered.value = null;
		preview.value = null;
	};
	const release = () => {
		if (gesture.current) words.value = true;
		gesture.current = null;
	};
	const rows = { '--bands-top': bandRows.value.top, '--bands-bottom': bandRows.value.bottom };
	return html`<div class="strip-surface" ref=${surface} style=${rows} onPointerDown=${press} onPointerMove=${move}
		onPointerUp=${release} onPointerCancel=${release} onPointerLeave=${leave}>
		${hovered.value !== null && html`<${Hover} value=${hovered.value} />`}
		<${Mark} />
	</div>`;
}

/** The value that is set: what the keyboard and those who hear the page have. */
function Mark() {
	const shown = strip.value;
	if (!shown) return null;
	const value = valueNow();
	const band = bandAt(value);
	const kind = shown.of === 'height' ? 'Height' : 'Pace';
	const told = `${valueWords(value)}${band && !hidden.value ? `, ${band.words}` : ''}`;
	return html`<div class="strip-mark" role="slider" tabindex="0" aria-label=${kind}
		aria-valuemin=${shown.start} aria-valuemax=${shown.end} aria-valuenow=${value.toFixed(steps().digits)}
		aria-valuetext=${told} style=${{ left: `${100 * shareOf(value)}%` }} onKeyDown=${onKey}>
		<svg viewBox="0 0 14 10" aria-hidden="true"><path d="M0 0H14L7 10Z" /></svg>
	</div>`;
}

/** @param {{ value: number }} props */
function Hover({ value }) {
	const share = shareOf(value);
	return html`<div class="strip-hover" data-end=${share > 0.9 ? '' : undefined} style=${{ left: `${100 * share}%` }}
		><span class="small">${valueWords(value)}</span></div>`;
}

/** @param {KeyboardEvent} event */
function onKey(event) {
	const shown = strip.value;
	if (!shown || event.ctrlKey || event.metaKey || event.altKey) return;
	const step = event.shiftKey ? steps().large : steps().key;
	const value = valueNow();
	/** @type {Record<string, number>} */
	const places = {
		ArrowLeft: value - step,
		ArrowDown: value - step,
		ArrowRight: value + step,
		ArrowUp: value + step,
		PageDown: nextBand(value, -1),
		PageUp: nextBand(value, 1),
		Home: shown.start,
		End: shown.end,
	};
	const place = places[event.key];
	if (place === undefined) return;
	event.preventDefault();
	event.stopPropagation();
	set(place, 'strip by keys');
}
