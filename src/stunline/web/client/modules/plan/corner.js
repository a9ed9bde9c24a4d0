// @ts-check
// In a free corner of the plan: the whole table, small; a scale; nearer and further.

import { effect, html, signal, useEffect, useLayoutEffect, useRef } from '../../lib/view.js';
import { tableNow } from '../equipment.js';
import { lengthUnit } from '../lengths.js';
import { key, layers } from '../live.js';
import { documentNow, held, planSize, words } from '../state.js';
import { freePlace } from './free_place.js';
import { potInto } from './moves.js';
import { centreOn, frameAction, placeUnder, scale, view, zoomGently } from './view.js';

const ZOOM = 1.4; // of one press
const LENGTHS = [0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000]; // of the scale bar [mm or in]
const LONGEST = 120; // of the scale bar [px]
const SETTLED_AFTER = 120; // the corner is looked for when nothing has moved for so long [ms]

/** Where it stands, from the plan's left and top. [px] */
const place = signal(/** @type {{ left: number, top: number } | null} */ (null));

export function Corner() {
	const element = useRef(/** @type {HTMLDivElement | null} */ (null));
	useEffect(() => {
		let timer = 0;
		const stop = effect(() => {
			void layers.value;
			void planSize.value;
			clearTimeout(timer);
			if (!words.value || held.value !== null) return;
			timer = setTimeout(() => {
				if (element.current) place.value = freePlace(element.current, place.peek());
			}, SETTLED_AFTER);
		});
		return () => {
			clearTimeout(timer);
			stop();
		};
	}, []);
	const at = place.value;
	const style = at
		? { left: `${at.left}px`, top: `${at.top}px` }
		: { left: '10px', bottom: '10px' };
	return html`<div class="plan-corner" ref=${element} style=${style}>
		<${Key} />
		<div class="corner-side">
			<div class="zoom" role="group" aria-label="How near">
				<button aria-label="Nearer" onClick=${() => zoomGently(ZOOM)}>+</button>
				<button aria-label="Further" onClick=${() => zoomGently(1 / ZOOM)}>−</button>
				<button class="small" onClick=${frameAction} title="Fits the whole shot into the plan">Whole shot</button>
			</div>
			<${ScaleBar} />
		</div>
	</div>`;
}

function ScaleBar() {
	if (!view.value) return null;
	const unit = lengthUnit.value;
	const pixels = unit.mm * scale.value;
	const length = LENGTHS.findLast((one) => one * pixels <= LONGEST) ?? 1;
	const width = length * pixels;
	return html`<svg class="scale-bar" width=${width + 2} height="9" role="img" aria-label=${`${length} ${unit.sign} on the plan`}>
		<path d=${`M1 0V9M${1 + width} 0V9M1 4.5H${1 + width}M${1 + width / 2} 2V7`} />
	</svg><span class="small soft scale-words" aria-hidden="true">${length} ${unit.sign}</span>`;
}

/** The whole table: a press goes there, a press at a pocket pots into it. */
function Key() {
	const picture = useRef(/** @type {HTMLDivElement | null} */ (null));
	useLayoutEffect(() => {
		if (!key.value) return;
		const parsed = new DOMParser().parseFromString(key.value, 'image/svg+xml').documentElement;
		picture.current?.replaceChildren(document.adoptNode(parsed));
	}, [key.value]);
	const go = (/** @type {MouseEvent} */ event) => {
		const svg = picture.current?.querySelector('svg');
		if (svg) centreOn(placeUnder(svg, event.clientX, event.clientY));
	};
	const box = /viewBox="([^"]+)"/.exec(key.value)?.[1] ?? '0 0 1 1';
	return html`<div class="key" onClick=${go}>
		<div ref=${picture}></div>
		<svg class="key-pockets" viewBox=${box} aria-hidden="true">${(
			tableNow.value?.pockets ?? []
		).map(
			({ name, at }) =>
				html`<g class="key-pocket" data-asked=${isAsked(name) ? '' : undefined} onClick=${(
					/** @type {Event} */ event,
				) => {
					event.stopPropagation();
					potInto(name);
				}}><title>pot into the ${name} pocket</title><circle class="grasp" cx=${at[0]} cy=${-at[1]} r="330" /><circle class="dot" cx=${at[0]} cy=${-at[1]} r="75" /></g>`,
		)}</svg>
	</div>`;
}

/** @param {string} pocket */
const isAsked = (pocket) => documentNow.value?.strike?.pot?.pocket === pocket;
