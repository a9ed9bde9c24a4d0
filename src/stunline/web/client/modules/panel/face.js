// @ts-check
// The white's face, seen along the cue: where the tip meets it, in millimetres.

import { html, useRef } from '../../lib/view.js';
import { lengthUnit, lengthWords } from '../lengths.js';
import { documentNow } from '../state.js';
import { TypedLength } from './length.js';
import { TypedNumber } from './number.js';
import { keptWords } from './refusal.js';
import { elevation, height, side } from './settled.js';
import { cueBallRadius, limits, setContact, setElevation } from './strike_edits.js';

const GRID = 5; // between the grid's lines [mm]
const TIP = 9.5; // width of a tip, for the picture alone [mm]
const ROOM = 1.5; // around the ball [mm]
const CROSS = 2.2; // half the contact's cross [mm]
const KEY_STEP = 0.5; // of an arrow key [mm]
const LARGE_STEP = 2; // of an arrow key with shift [mm]
const STEEPEST = 90; // [°]

/** The face with its typed numbers beside it. */
export function Face() {
	return html`<div class="face-and-numbers">
		<${FacePicture} />
		<div class="face-numbers">
			<p class="large contact-words">${aboveWords(height.value)}</p>
			<p class="soft small">centre, at the contact point;<br />cue axis ${axisWords()}</p>
			<div class="fields">
				<label><span>height</span><${TypedLength} label="Height above centre"
					value=${height.value} step=${KEY_STEP} refuse=${(/** @type {number} */ mm) => slips(side.value, mm, height.value)}
					onSet=${(/** @type {number} */ mm) => setContact(side.value, mm)} /></label>
				<label><span>side</span><${TypedLength} label="Side, right of centre"
					value=${side.value} step=${KEY_STEP} refuse=${(/** @type {number} */ mm) => slips(mm, height.value, side.value)}
					onSet=${(/** @type {number} */ mm) => setContact(mm, height.value)} /></label>
				<label><span>cue raised</span><${TypedNumber} label="Elevation of the cue, in degrees"
					value=${elevation.value} digits=${1} step=${1} min=${0} max=${STEEPEST - 1} unit="°"
					onSet=${setElevation} /></label>
			</div>
			<p class="soft small">miscue past ${lengthWords(limits().miscue, 1)}</p>
		</div>
	</div>`;
}

/**
 * Why a typed contact point is not taken: the tip would slip off there.
 * @param {number} across @param {number} up @param {number} kept what stays in the field [mm]
 */
function slips(across, up, kept) {
	const away = Math.hypot(across, up);
	const most = limits().miscue;
	if (away <= most + 0.5 * lengthUnit.value.grain) return '';
	const least = lengthWords(Math.floor(10 * most) / 10, 1);
	return `The tip would slip off, ${lengthWords(away, 1)} from the centre. Allowed: up to ${least}, height and side together. ${keptWords(lengthWords(kept, 1))}`;
}

/** "10.5 mm above", "3 mm below", "centre height". @param {number} mm */
const aboveWords = (mm) =>
	Math.abs(mm) < 0.05
		? 'centre height'
		: `${lengthWords(Math.abs(mm), 1)} ${mm > 0 ? 'above' : 'below'}`;

/** @param {number} mm */
const sideWords = (mm) =>
	Math.abs(mm) < 0.05 ? 'no side' : `${lengthWords(Math.abs(mm), 1)} ${mm > 0 ? 'right' : 'left'}`;

/** How much further out the cue's axis is than the contact: 1 + tip radius / ball radius. */
const stretch = () => 1 + limits().tip_radius / cueBallRadius();

function axisWords() {
	const up = height.value * stretch();
	const across = side.value * stretch();
	const words = [lengthWords(Math.abs(up), 1)];
	if (Math.abs(across) >= 0.05) words.push(sideWords(across));
	return words.join(', ');
}

/** The picture is one control: dragged, and moved by the arrow keys. */
function FacePicture() {
	const picture = useRef(/** @type {SVGSVGElement | null} */ (null));
	const drag = useRef(/** @type {{ dx: number, dy: number, gesture: string } | null} */ (null));
	const radius = cueBallRadius();
	const place = (/** @type {PointerEvent} */ event) => {
		const matrix = picture.current?.getScreenCTM()?.inverse();
		const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix);
		return { x: at.x, y: -at.y };
	};
	const move = (/** @type {PointerEvent} */ event) => {
		if (!drag.current) return;
		const at = place(event);
		setContact(at.x + drag.current.dx, at.y + drag.current.dy, drag.current.gesture);
	};
	const press = (/** @type {PointerEvent} */ event) => {
		if (event.button !== 0) return;
		picture.current?.setPointerCapture(event.pointerId);
		const at = place(event);
		const [dx, dy] = [side.value - at.x, height.value - at.y];
		// Grasped near the contact it keeps its distance from the finger; elsewhere it jumps there.
		const near = Math.hypot(dx, dy) < TIP;
		drag.current = { dx: near ? dx : 0, dy: near ? dy : 0, gesture: `contact ${event.timeStamp}` };
		if (!near) move(event);
	};
	const release = () => (drag.current = null);
	const [x, y] = [side.value, -height.value];
	const edge = radius + ROOM;
	return html`<div class="face" role="slider" tabindex="0" aria-orientation="vertical"
		aria-label="Contact point on the white" aria-valuenow=${height.value.toFixed(1)}
		aria-valuemin=${(-limits().miscue).toFixed(1)} aria-valuemax=${limits().miscue.toFixed(1)}
		aria-valuetext=${`${aboveWords(height.value)}, ${sideWords(side.value)}`}
		onKeyDown=${onKey}>
		<svg ref=${picture} viewBox=${`${-edge} ${-edge} ${2 * edge} ${2 * edge}`} aria-hidden="true"
			onPointerDown=${press} onPointerMove=${move} onPointerUp=${release} onPointerCancel=${release}>
			<circle class="face-ball" r=${radius} />
			<path class="face-grid" d=${gridPath(radius)} />
			<path class="face-centre" d=${`M${-radius} 0H${radius}M0 ${-radius}V${radius}`} />
			<circle class="face-safe" r=${limits().safe} />
			<circle class="face-miscue" r=${limits().miscue} />
			<circle class="face-tip" cx=${x * stretch()} cy=${y * stretch()} r=${TIP / 2} />
			<circle class="face-axis" cx=${x * stretch()} cy=${y * stretch()} r="0.6" />
			<path class="face-contact" d=${`M${x - CROSS} ${y}h${2 * CROSS}M${x} ${y - CROSS}v${2 * CROSS}`} />
		</svg>
	</div>`;
}

/** @param {number} radius [mm] */
function gridPath(radius) {
	const parts = [];
	for (let at = GRID; at < radius; at += GRID) {
		const half = Math.sqrt(radius * radius - at * at).toFixed(2);
		for (const line of [at, -at]) parts.push(`M${line} -${half}V${half}M-${half} ${line}H${half}`);
	}
	return parts.join('');
}

/** @param {KeyboardEvent} event */
function onKey(event) {
	const step = event.shiftKey ? LARGE_STEP : KEY_STEP;
	/** @type {Record<string, [number, number]>} */
	const moves = {
		ArrowUp: [0, step],
		ArrowDown: [0, -step],
		ArrowLeft: [-step, 0],
		ArrowRight: [step, 0],
		PageUp: [0, LARGE_STEP],
		PageDown: [0, -LARGE_STEP],
		Home: [0, -2 * limits().miscue],
		End: [0, 2 * limits().miscue],
	};
	const by = moves[event.key];
	if (!by || !documentNow.value || event.ctrlKey || event.metaKey || event.altKey) return;
	event.preventDefault();
	event.stopPropagation();
	setContact(side.value + by[0], height.value + by[1], 'contact by keys');
}
