// @ts-check
// Guesses of a class: ringed numbers on the plan, put there by a click before the answer is shown.

import { html, signal, useRef } from '../../lib/view.js';
import { lengthWords } from '../lengths.js';
import { scale, view, viewBox } from '../plan/view.js';
import { hidden } from '../state.js';
import { magnified } from './type_size.js';

const RING = 12; // radius of a guess, of the plan's own pixels [px]
const KEY_STEP = 0.02; // of an arrow key, as a share of the plan's width

/** Places that were guessed, in the order in which they were. [mm] */
export const guesses = signal(/** @type {import('../state.js').Point[]} */ ([]));

export function Guesses() {
	const picture = useRef(/** @type {SVGSVGElement | null} */ (null));
	const seen = view.value;
	if (!seen) return null;
	const [left, bottom, right, top] = seen;
	const ring = (RING * magnified.value) / scale.value;
	const add = (/** @type {MouseEvent} */ event) => {
		const matrix = picture.current?.getScreenCTM()?.inverse();
		const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix);
		guesses.value = [...guesses.value, [Math.round(at.x), Math.round(-at.y)]];
	};
	return html`<div class="guesses" data-asking=${hidden.value ? '' : undefined}>
		<svg ref=${picture} viewBox=${viewBox(seen)} role="group"
			aria-label="Guesses on the plan" onClick=${hidden.value ? add : undefined}>
			<rect class="grasp" x=${left} y=${-top} width=${right - left} height=${top - bottom} />
			${guesses.value.map((at, index) => html`<${Guess} key=${index} index=${index} at=${at} ring=${ring} across=${right - left} />`)}
		</svg>
	</div>`;
}

/** A guess in the middle of the plan, for those who have no pointer. */
export function guessByKeys() {
	const [left, bottom, right, top] = view.value ?? [0, 0, 0, 0];
	guesses.value = [...guesses.value, [(left + right) / 2, (bottom + top) / 2]];
	const last = guesses.value.length;
	requestAnimationFrame(() => document.getElementById(`guess-${last}`)?.focus());
}

/** @param {{ index: number, at: import('../state.js').Point, ring: number, across: number }} props */
function Guess({ index, at: [x, y], ring, across }) {
	const number = index + 1;
	const onKey = (/** @type {KeyboardEvent} */ event) => moveByKey(event, index, KEY_STEP * across);
	return html`<g id=${`guess-${number}`} class="guess" tabindex="0" role="img"
		aria-label=${`Guess ${number}: ${lengthWords(x)} from the left cushion, ${lengthWords(y)} up the table`}
		onKeyDown=${onKey} transform=${`translate(${x} ${-y}) scale(${ring})`}>
		<circle r="1" /><text y="0.36">${number}</text>
	</g>`;
}

/** @param {KeyboardEvent} event @param {number} index @param {number} step [mm] */
function moveByKey(event, index, step) {
	/** @type {Record<string, [number, number]>} */
	const moves = {
		ArrowLeft: [-step, 0],
		ArrowRight: [step, 0],
		ArrowUp: [0, step],
		ArrowDown: [0, -step],
	};
	const by = moves[event.key];
	if (event.key === 'Delete') guesses.value = guesses.value.filter((_, at) => at !== index);
	else if (!by) return;
	else
		guesses.value = guesses.value.map(([x, y], at) =>
			at === index ? [x + by[0], y + by[1]] : [x, y],
		);
	event.preventDefault();
	event.stopPropagation();
}
