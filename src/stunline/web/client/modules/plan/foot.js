// @ts-check
// Under the plan: the place of the ball in hand as numbers, what can be done with balls, playback.

import { html } from '../../lib/view.js';
import { cueBall, nearCushion, tableNow } from '../equipment.js';
import { lengthWords } from '../lengths.js';
import { ballsDrawn } from '../live.js';
import { Choice } from '../panel/aim.js';
import { TypedLength } from '../panel/length.js';
import { keptWords } from '../panel/refusal.js';
import { Playback } from '../playback.js';
import { selection } from '../state.js';
import { Menu } from './menu.js';
import {
	addBall,
	ballsLeft,
	boundsOf,
	coveredAt,
	mirror,
	moveBall,
	placeFor,
	placeRack,
	removeBall,
	touchCushion,
	touchNearest,
	wordsOf,
} from './moves.js';

const STEP = 1; // of an arrow key in a field [mm]
const MOST_ADDED = 8; // names in the menu; of a rack's balls the first is enough

export function Foot() {
	return html`<section class="plan-foot" aria-label="Balls and playback"><${PlaceOfBall} /><${Playback} /></section>`;
}

/** The ball in hand, else the one that is struck. */
const inHand = () =>
	selection.value && selection.value in ballsDrawn.value ? selection.value : cueBall.value;

function PlaceOfBall() {
	const name = inHand();
	const ball = ballsDrawn.value[name];
	if (!ball) return null;
	const [x, y] = ball.at;
	const put = (/** @type {import('../state.js').Point} */ wanted) => {
		const place = placeFor(name, wanted, false, true);
		if (place) moveBall(name, place);
	};
	const bounds = boundsOf(name);
	const near = nearCushion.value;
	const balls = Object.keys(ballsDrawn.value).map((one) => [one, plain(one)]);
	return html`<div class="place" role="group" aria-label="Place of a ball">
		<${Choice} label="Ball" value=${name} options=${balls} onChoose=${(/** @type {string} */ one) => (selection.value = one)} />
		<label><span class="soft small">from left</span> <${TypedLength} label="From the left cushion" value=${x} step=${STEP}
			min=${bounds?.left} max=${bounds?.right} signed=${false}
			refuse=${(/** @type {number} */ one) => covered(name, [one, y], x)} onSet=${(/** @type {number} */ one) => put([one, y])} /></label>
		<label><span class="soft small">from ${near}</span> <${TypedLength} label=${`From the ${near} cushion`} value=${y} step=${STEP}
			min=${bounds?.bottom} max=${bounds?.top}
			refuse=${(/** @type {number} */ one) => covered(name, [x, one], y)} onSet=${(/** @type {number} */ one) => put([x, one])} /></label>
		<${Menu} words="Place it" label=${`Place it: ${wordsOf(name)}`} entries=${putEntries(name)} />
		<${Menu} words="Balls" entries=${ballEntries(name)} />
	</div>`;
}

/**
 * Why a typed place is not taken: another ball is there. "" when none is.
 * @param {string} name @param {import('../state.js').Point} wanted @param {number} kept what stays in the field [mm]
 */
function covered(name, wanted, kept) {
	const found = coveredAt(name, wanted);
	if (!found) return '';
	const free =
		found.free &&
		` The nearest free place is ${lengthWords(found.free[0], 1)} from left, ${lengthWords(found.free[1], 1)} from ${nearCushion.value}.`;
	return `There it would lie on ${wordsOf(found.other)}.${free ?? ''} ${keptWords(lengthWords(kept, 1))}`;
}

/** "red7" as "red 7". @param {string} name */
const plain = (name) => wordsOf(name).replace(/^the /, '');

/** @param {string} name */
function putEntries(name) {
	const taken = Object.entries(ballsDrawn.value)
		.filter(([other]) => other !== name)
		.map(([, ball]) => ball.spot);
	const spots = Object.keys(tableNow.value?.spots ?? {}).filter((spot) => !taken.includes(spot));
	return [
		{ words: 'touching the nearest ball', act: () => touchNearest(name) },
		{ words: 'touching the nearest cushion', act: () => touchCushion(name) },
		...spots.map((spot, index) => ({
			words: `on the ${spot} spot`,
			act: () => moveBall(name, spot),
			rule: index === 0,
		})),
	];
}

/** @param {string} name */
function ballEntries(name) {
	const racks = Object.entries(tableNow.value?.racks ?? {});
	return [
		...added().map((one) => ({ words: `Add ${wordsOf(one)}`, act: () => addBall(one) })),
		{
			words: `Remove ${wordsOf(name)}`,
			act: () => removeBall(name),
			disabled: name === cueBall.value,
			rule: true,
		},
		...racks.map(([rack, places]) => ({
			words: `Set up the ${rack}`,
			act: () => placeRack(rack, Object.keys(places)),
		})),
		{ words: 'Mirror left and right', act: mirror },
	];
}

/** Balls that can be added: of those of one kind, as reds, the next one only. */
function added() {
	const kinds = new Set();
	const names = [];
	for (const { name } of ballsLeft()) {
		const kind = name.replace(/(\D)\d+$/, '$1');
		if (kinds.has(kind)) continue;
		kinds.add(kind);
		names.push(name);
	}
	return names.slice(0, MOST_ADDED);
}
