// @ts-check
// How the white arrives at the contact: in a word, on a scale from screw over stun to rolling.

import { html, useRef } from '../../lib/view.js';
import { documentNow, hidden } from '../state.js';
import { TypedNumber, written } from './number.js';
import { settled } from './settled.js';
import { setArrival, setCentre, setNamedHeight } from './strike_edits.js';

// The scale's ends as a follow ratio, Rω/v at the contact: 0 is stun, 1 is rolling.
const LEAST = -1.25;
const MOST = 1.25;
const KEY_STEP = 0.05;
/** What a follow ratio is called: [ratio, name]. @type {[number, string][]} */
const NAMED = [
	[-1, 'screw'],
	[0, 'stun'],
	[1, 'rolling'],
];

export function StrikeButtons() {
	const strike = documentNow.value?.strike ?? {};
	const centre = strike.height === 0 && !strike.side;
	return html`<div class="strike-buttons" role="group" aria-label="Usual strikes">
		<button aria-pressed=${strike.arrive === 'stun'} onClick=${() => setArrival('stun')}>Stun</button>
		<button aria-pressed=${strike.arrive === 'rolling'} onClick=${() => setArrival('rolling')}>Rolling</button>
		<button aria-pressed=${strike.height === 'max follow'} onClick=${() => setNamedHeight('max follow')}>Max follow</button>
		<button aria-pressed=${strike.height === 'max screw'} onClick=${() => setNamedHeight('max screw')}>Max screw</button>
		<button aria-pressed=${centre} onClick=${setCentre}>Centre</button>
	</div>`;
}

export function Arrival() {
	const ratio = settled.value?.strike.follow_ratio ?? null;
	const kept = hidden.value ? null : ratio;
	return html`<section class="arrival">
		<div>
			<h2 class="soft small">On arrival</h2>
			<p class="large">${hidden.value ? 'hidden' : arrivalWords(ratio)}</p>
		</div>
		<${Scale} ratio=${kept} />
		<label class="ratio" title="Rω/v: the white’s spin as a share of rolling. 1 rolls, 0 is stun, below 0 is screw."><span class="soft small">spin</span><${TypedNumber}
			label="Follow ratio on arrival: 0 stun, 1 rolling, below 0 screw"
			value=${kept} digits=${2} step=${KEY_STEP} onSet=${setArrival} /></label>
	</section>`;
}

/** @param {number | null} ratio as the server's read-outs word it */
function arrivalWords(ratio) {
	const row = settled.value?.rows.find(([name]) => name === 'arrives');
	const words = row?.[1].split(/, R|, at/)[0];
	if (words) return words;
	return ratio === null ? 'meets no ball' : written(ratio, 2);
}

/** @param {{ ratio: number | null }} props */
function Scale({ ratio }) {
	const line = useRef(/** @type {SVGSVGElement | null} */ (null));
	const gesture = useRef(/** @type {string | null} */ (null));
	const move = (/** @type {PointerEvent} */ event) => {
		const box = line.current?.getBoundingClientRect();
		if (!box || gesture.current === null) return;
		const share = (event.clientX - box.left) / box.width;
		setArrival(rounded(near(share * ROOM_ACROSS - ROOM_ACROSS / 2)), gesture.current);
	};
	const press = (/** @type {PointerEvent} */ event) => {
		if (event.button !== 0) return;
		line.current?.setPointerCapture(event.pointerId);
		gesture.current = `arrival ${event.timeStamp}`;
		move(event);
	};
	const release = () => (gesture.current = null);
	const shown = ratio === null ? null : Math.min(Math.max(ratio, LEAST), MOST);
	return html`<div class="scale" role="slider" tabindex="0" aria-label="Arrival, from screw to rolling"
		aria-valuemin=${LEAST} aria-valuemax=${MOST} aria-valuenow=${(shown ?? 0).toFixed(2)}
		aria-valuetext=${ratio === null ? 'not told' : arrivalWords(ratio)}
		onKeyDown=${(/** @type {KeyboardEvent} */ event) => onKey(event, ratio)}>
		<svg ref=${line} viewBox="-1.4 -0.22 2.8 0.55" aria-hidden="true" onPointerDown=${press}
			onPointerMove=${move} onPointerUp=${release} onPointerCancel=${release}>
			<rect class="grasp" x="-1.4" y="-0.22" width="2.8" height="0.55" />
			<path class="scale-line" d=${`M${LEAST} 0H${MOST}${NAMED.map(([at]) => `M${at} -0.05V0.05`).join('')}`} />
			${shown !== null && html`<path class="scale-mark" d=${`M${shown} -0.02l0.055 -0.12h-0.11z`} />`}
			${NAMED.map(([at, name]) => html`<text x=${at} y="0.24">${name}</text>`)}
		</svg>
	</div>`;
}

const ROOM_ACROSS = 2.8; // of the picture, in follow ratios

/** Comes to stun and rolling when near. @param {number} ratio */
function near(ratio) {
	const named = NAMED.find(([at]) => Math.abs(at - ratio) < 0.03);
	return Math.min(Math.max(named ? named[0] : ratio, LEAST), MOST);
}

/** @param {number} ratio @returns {'stun' | 'rolling' | number} */
function rounded(ratio) {
	const short = Number(ratio.toFixed(2));
	return short === 0 ? 'stun' : short === 1 ? 'rolling' : short;
}

/** @param {KeyboardEvent} event @param {number | null} ratio */
function onKey(event, ratio) {
	/** @type {Record<string, number>} */
	const moves = {
		ArrowLeft: -1,
		ArrowDown: -1,
		ArrowRight: 1,
		ArrowUp: 1,
		PageDown: -4,
		PageUp: 4,
	};
	const steps = moves[event.key];
	if (!steps || event.ctrlKey || event.metaKey || event.altKey) return;
	event.preventDefault();
	event.stopPropagation();
	const wanted = Math.min(Math.max((ratio ?? 0) + steps * KEY_STEP, LEAST), MOST);
	setArrival(rounded(wanted), 'arrival by keys');
}
