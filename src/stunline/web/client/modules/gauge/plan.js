// @ts-check
// The whole table with the shot set up on it; a tap puts the ball where it came to rest, and arrow
// keys move it from there by a millimetre.

import { effect, html, useEffect, useLayoutEffect, useRef, useSignal } from '../../lib/view.js';
import { get } from '../api.js';
import { notice, theme } from '../state.js';
import { asMillimetres, goOn, KINDS, plan, tappable, target } from './readings.js';
import { entryNow, playNow, record, type } from './record.js';

/**
 * @typedef {import('../state.js').Point} Point
 * @typedef {{ svg: string, window: [number, number, number, number], rows: string[][] }} ShotPlan
 */

const STEP = 1; // of an arrow key [mm]
const LONG_STEP = 10; // with shift [mm]
const GRAIN = 20; // heights of pictures are rounded to that, so that few are asked for [px]
const AGAIN_AFTER = 1000; // while the engine is not ready [ms]
const LEAST = 7; // radius of a ball that was put [px]
/** @type {Record<string, Point>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
/** What of an entry the picture depends on. */
const SET_UP = ['white', 'object', 'aim', 'drop'];

export function GaugePlan() {
	const frame = useRef(/** @type {HTMLDivElement | null} */ (null));
	const height = useSignal(0);
	useEffect(() => {
		if (!frame.current) return;
		const watch = new ResizeObserver(([one]) => {
			height.value = Math.round((one?.contentRect.height ?? 0) / GRAIN) * GRAIN;
		});
		watch.observe(frame.current);
		const stop = effect(() => {
			askFor(height.value);
		});
		return () => {
			watch.disconnect();
			stop();
		};
	}, []);
	const now = plan.value;
	const isTwirl = playNow.value?.tool === 'fingers';
	return html`<div class="gauge-plan" ref=${frame} data-empty=${isTwirl ? '' : undefined}>
		${now?.svg && html`<${Picture} now=${now} height=${height.value} />`}
		${now && !now.svg && !isTwirl && html`<p class="small soft">The plan is drawn once the set-up is in order.</p>`}
	</div>`;
}

let asked = '';

/** Asks for the plan of the play that is shown, once for each set-up of it. @param {number} height [px] */
async function askFor(height) {
	const [name, play] = [record.value?.name, playNow.value];
	if (!name || !play || height < 100) return;
	const entry = play.entry;
	const about = [
		name,
		play.number,
		play.name,
		height,
		theme.value,
		SET_UP.map((key) => entry[key]),
	];
	if (asked === JSON.stringify(about)) return;
	asked = JSON.stringify(about);
	const mine = asked;
	const address = `/api/records/${encodeURIComponent(name)}/plays/${play.number}/plan?theme=${theme.value}&height=${height}`;
	for (;;) {
		try {
			const found = await get(address);
			if (asked === mine) plan.value = found;
			return;
		} catch (error) {
			if (asked !== mine) return;
			if (/** @type {any} */ (error).status !== 409) {
				asked = '';
				notice.value = { words: /** @type {Error} */ (error).message };
				return;
			}
			await new Promise((next) => setTimeout(next, AGAIN_AFTER)); // the engine is not ready
		}
	}
}

/** @param {{ now: ShotPlan, height: number }} props */
function Picture({ now, height }) {
	const drawing = useRef(/** @type {HTMLDivElement | null} */ (null));
	useLayoutEffect(() => {
		const parsed = new DOMParser().parseFromString(now.svg, 'image/svg+xml');
		drawing.current?.replaceChildren(document.adoptNode(parsed.documentElement));
	}, [now.svg]);
	const [left, bottom, right, top] = now.window;
	const scale = Math.max(height, 1) / (top - bottom);
	const tap = (/** @type {MouseEvent} */ event) => {
		const box = /** @type {Element} */ (event.currentTarget).getBoundingClientRect();
		const x = left + ((event.clientX - box.left) / box.width) * (right - left);
		const y = top - ((event.clientY - box.top) / box.height) * (top - bottom);
		tapped([x, y]);
	};
	return html`<div class="gauge-picture" style=${{ aspectRatio: `${right - left} / ${top - bottom}` }}>
		<div ref=${drawing}></div>
		<svg class="gauge-marks" viewBox=${`${left} ${-top} ${right - left} ${top - bottom}`} onClick=${tap}
			role="group" aria-label="Where the balls came to rest">
			${tappable.value.map((key) => html`<${PutMark} key=${key} reading=${key} scale=${scale} />`)}
		</svg>
	</div>`;
}

/** A tap puts what is asked for there. @param {Point} at */
function tapped(at) {
	const table = record.value?.table;
	const key = target.value;
	if (!table || !key) return;
	const [x, y] = [within(at[0], table.width), within(at[1], table.length)];
	if (key === 'white_cushion') type(key, touchNear([x, y], table));
	else type(key, [String(x), String(y)]);
	goOn();
}

/** A whole millimetre on the table. @param {number} value @param {number} most */
const within = (value, most) => Math.round(Math.min(Math.max(value, 0), most));

/** The cushion nearest to a place, and how far along it. @param {Point} at @param {import('./record.js').GaugedTable} table */
function touchNear([x, y], { width, length, cushions }) {
	const away = [y, width - x, length - y, x];
	const nearest = away.indexOf(Math.min(...away));
	return { cushion: cushions[nearest] ?? '', at: String(nearest % 2 === 0 ? x : y) };
}

/** What was typed or tapped, where it is a place. @param {{ reading: string, scale: number }} props */
function PutMark({ reading, scale }) {
	const table = record.value?.table;
	const at = table ? placeOf(entryNow.value[reading], table) : null;
	if (!table || !at) return null;
	const keys = (/** @type {KeyboardEvent} */ event) => {
		const way = ARROWS[event.key];
		if (!way) return;
		event.preventDefault();
		const step = event.shiftKey ? LONG_STEP : STEP;
		nudge(reading, at, way[0] * step, way[1] * step);
	};
	const words = `${KINDS[reading]?.words}, ${Math.round(at[0])} mm from the ${table.cushions[3]}, ${Math.round(at[1])} mm from the ${table.cushions[0]} cushion; arrow keys move it`;
	const radius = Math.max(table.radius, LEAST / scale);
	return html`<g class="gauge-put" data-reading=${reading} data-target=${target.value === reading ? '' : undefined}
		transform=${`translate(${at[0]} ${-at[1]})`} tabindex="0" role="button" aria-label=${words} onKeyDown=${keys}
		onClick=${(/** @type {Event} */ event) => event.stopPropagation()} onFocus=${() => (target.value = reading)}>
		<circle r=${radius} /><path d=${`M${-radius * 1.6} 0H${radius * 1.6}M0 ${-radius * 1.6}V${radius * 1.6}`} />
	</g>`;
}

/**
 * @param {string} key @param {Point} at @param {number} right @param {number} up [mm]
 */
function nudge(key, at, right, up) {
	const table = record.value?.table;
	if (!table) return;
	const [x, y] = [within(at[0] + right, table.width), within(at[1] + up, table.length)];
	if (key !== 'white_cushion') {
		type(key, [String(x), String(y)]);
		return;
	}
	const { cushion } = entryNow.value[key];
	const isEnd = table.cushions.indexOf(cushion) % 2 === 0;
	type(key, { cushion, at: String(isEnd ? x : y) });
}

/**
 * A place or touch as a point of the table, where its texts are lengths.
 * @param {any} typed @param {import('./record.js').GaugedTable} table @returns {Point | null}
 */
function placeOf(typed, { width, length, cushions }) {
	if (Array.isArray(typed)) {
		const [x, y] = [asMillimetres(typed[0] ?? ''), asMillimetres(typed[1] ?? '')];
		return x === null || y === null ? null : [x, y];
	}
	const along = asMillimetres(typed?.at ?? '');
	const number = cushions.indexOf(typed?.cushion ?? '');
	if (along === null || number < 0) return null;
	const places = /** @type {Point[]} */ ([
		[along, 0],
		[width, along],
		[along, length],
		[0, along],
	]);
	return places[number] ?? null;
}
