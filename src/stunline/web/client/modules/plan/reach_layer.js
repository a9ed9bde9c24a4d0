// @ts-check
// Where the white can go, on the plan: the server's regions, a click that points at a place, and
// the place whose strike is told.

import { html, useEffect, useLayoutEffect, useRef } from '../../lib/view.js';
import { canPoint, layer, place, pointAt, takePlace } from '../maps/reached.js';
import { held, hidden } from '../state.js';
import { parsed } from './layers.js';
import { placeUnder, scale } from './view.js';

const MOVED = 4; // a press that goes further moves the plan [px]
const END = 11; // radius of what is pressed at the place [px]

export function ReachLayer() {
	const group = useRef(/** @type {SVGGElement | null} */ (null));
	useLayoutEffect(() => {
		group.current?.replaceChildren(...(layer.value ? [parsed(layer.value)] : []));
	}, [layer.value, hidden.value]);
	useEffect(() => {
		const picture = document.querySelector('.plan-picture');
		return picture instanceof SVGSVGElement ? watchClicks(picture) : undefined;
	}, []);
	if (hidden.value) return null;
	return html`<g class="reach-layer" ref=${group} aria-hidden="true"></g>`;
}

/** What is pressed where the told strike leaves the white. */
export function PlaceMark() {
	const now = place.value;
	if (!now || hidden.value) return null;
	const [x, y] = now.at;
	const take = () => takePlace(now);
	const keys = (/** @type {KeyboardEvent} */ event) => {
		if (event.key !== 'Enter' && event.key !== ' ') return;
		event.preventDefault();
		event.stopPropagation();
		take();
	};
	const press = (/** @type {PointerEvent} */ event) => event.stopPropagation();
	return html`<circle class="way-end reach-place" cx=${x} cy=${-y} r=${END / scale.value} role="button" tabindex="0"
		aria-label="Take the strike to this place" onPointerDown=${press} onClick=${take} onKeyDown=${keys} />`;
}

/** A click on the ground points at a place; a drag still moves the plan. @param {SVGSVGElement} picture */
function watchClicks(picture) {
	/** @type {[number, number] | null} */
	let began = null;
	const down = (/** @type {PointerEvent} */ event) => {
		const isGround = held.value === null && !isHandle(event.target);
		began = isGround && event.button === 0 ? [event.clientX, event.clientY] : null;
	};
	const up = (/** @type {PointerEvent} */ event) => {
		const from = began;
		began = null;
		if (!from || !canPoint.value || hidden.value) return;
		if (Math.hypot(event.clientX - from[0], event.clientY - from[1]) > MOVED) return;
		pointAt(placeUnder(picture, event.clientX, event.clientY));
	};
	picture.addEventListener('pointerdown', down);
	picture.addEventListener('pointerup', up);
	return () => {
		picture.removeEventListener('pointerdown', down);
		picture.removeEventListener('pointerup', up);
	};
}

/** @param {EventTarget | null} target */
const isHandle = (target) =>
	target instanceof Element && target.closest('[role="button"], .way-grasp, .goal-picks') !== null;
