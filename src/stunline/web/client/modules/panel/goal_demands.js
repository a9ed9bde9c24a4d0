// @ts-check
// What the goal demands, a line each: its words, its fields, and what is wrong with it beside them.

import { html } from '../../lib/view.js';
import { sentenceOf } from '../api.js';
import { cueBall, tableNow } from '../equipment.js';
import {
	goalNow,
	removeDemand,
	setArea,
	setCircle,
	setCushions,
	setMeet,
	setMeetSide,
	setNext,
	setNextCut,
	setThrough,
	toggle,
} from '../goal/edits.js';
import { focusOn, pick, picking, startPicking, stopPicking } from '../goal/picking.js';
import { goalFaults } from '../goal/search.js';
import { ballsDrawn } from '../live.js';
import { Choice } from './aim.js';
import { TypedLength } from './length.js';
import { TypedNumber } from './number.js';

const SIDES = [
	['', 'either side'],
	['left', 'its left'],
	['right', 'its right'],
];
const NONE = [['', 'choose …']];
const CIRCLE = 'circle';
const MOST_CUSHIONS = 20; // as position files allow

export function GoalDemands() {
	const goal = goalNow.value;
	const now = picking.value?.what;
	return html`<ul class="goal-demands">
		${goal.pot && html`<${Line} of="pot" words="the pot">the ${named(goal.pot.ball)}, ${goal.pot.pocket}<//>`}
		${(goal.meet || now === 'meet') && html`<${Meet} meet=${goal.meet} />`}
		${(goal.through || now === 'through') && html`<${Through} through=${goal.through} />`}
		${goal.rest !== undefined && html`<${Rest} rest=${goal.rest} />`}
		${(goal.next || now === 'next') && html`<${Next} next=${goal.next} />`}
		${(goal.touch || now === 'touch') && html`<${Listed} of="touch" words="touches" listed=${goal.touch ?? []} />`}
		${(goal.miss || now === 'miss') && html`<${Listed} of="miss" words="misses" listed=${goal.miss ?? []} />`}
		${goal.cushions !== undefined && html`<${Cushions} span=${goal.cushions} />`}
		${'in_off' in goal && html`<${Line} of="in_off" words=${goal.in_off ? 'may go in' : 'never goes in'} />`}
	</ul>`;
}

/** What is wrong with one part of the goal. @param {string} of its key; "": the goal as a whole */
function faultsOf(of) {
	const key = of ? `goal.${of}` : 'goal';
	const isPart = (/** @type {string} */ one) => of !== '' && /^[.[]/.test(one.slice(key.length));
	return goalFaults.value.filter(
		(one) => one.key === key || (one.key.startsWith(key) && isPart(one.key)),
	);
}

/** The id of the sentence about a part, while there is one. @param {string} of */
export const toldBeside = (of) => (faultsOf(of).length ? `fault-${of || 'goal'}` : undefined);

/** The same as a sentence beside it. @param {{ of: string }} props */
export function Faults({ of }) {
	const faults = faultsOf(of);
	if (faults.length === 0) return null;
	return html`<p class="goal-fault small" role="alert" id=${toldBeside(of)}>${sentenceOf({ kind: '', reason: '', faults })}</p>`;
}

/** @param {{ of: string, words: string, children?: any }} props */
function Line({ of, words, children }) {
	const remove = () => {
		if (picking.value?.what === of) stopPicking();
		if (of in goalNow.value) removeDemand(/** @type {any} */ (of));
		focusOn('.goal-add button');
	};
	return html`<li data-demand=${of}>
		<div class="goal-line" role="group" aria-label=${words} aria-describedby=${toldBeside(of)}>
			<span class="goal-words">${words} ${children}</span>
			<button class="soft small" aria-label=${`Leave out: ${words}`} onClick=${remove}>Leave out</button>
		</div>
		<${Faults} of=${of} />
	</li>`;
}

/** "red7" as "red 7". @param {string} name */
const named = (name) =>
	String(name)
		.replace(/(\D)(\d+)$/, '$1 $2')
		.replace('-', ' ');

/** Balls that can be asked for, and the one that is. @param {string | undefined} now */
function balls(now) {
	const names = Object.keys(ballsDrawn.value).filter((name) => name !== cueBall.value);
	if (now && !names.includes(now)) names.push(now);
	return names.map((name) => [name, named(name)]);
}

/** @param {string} what @param {string} key */
const onPlan = (what, key) =>
	html`<button class="small" aria-label=${`Show ${what} on the plan`} onClick=${() => startPicking(/** @type {any} */ (key))}>on the plan</button>`;

/** @param {{ meet: any }} props */
function Meet({ meet }) {
	return html`<${Line} of="meet" words="meets">
		<${Choice} label="Ball to meet" value=${meet?.ball ?? ''} options=${[...(meet ? [] : NONE), ...balls(meet?.ball)]}
			onChoose=${(/** @type {string} */ ball) => {
				if (ball) setMeet(ball);
				stopPicking();
			}} />
		${meet && html`on <${Choice} label="Side of it" value=${meet.on ?? ''} options=${SIDES} onChoose=${setMeetSide} /> ${onPlan('the ball to meet', 'meet')}`}
	<//>`;
}

/** @param {{ through: any }} props */
function Through({ through }) {
	const first = through?.between?.[0] ?? picking.value?.first ?? '';
	const second = through?.between?.[1] ?? '';
	const spots = Object.keys(tableNow.value?.spots ?? {});
	const posts = (/** @type {string} */ now) => {
		const known = balls(now || undefined);
		const names = known.map(([name]) => name);
		const free = spots.filter((spot) => !names.includes(spot));
		return [...(now ? [] : NONE), ...known, ...free.map((spot) => [spot, `${named(spot)} spot`])];
	};
	const set = (/** @type {string} */ one, /** @type {string} */ other) => {
		if (one && other) {
			setThrough(one, other);
			stopPicking();
		} else if (one) pick(one);
	};
	return html`<${Line} of="through" words="passes between">
		<${Choice} label="One side of the gap" value=${first} options=${posts(first)}
			onChoose=${(/** @type {string} */ one) => set(one, second)} />
		and <${Choice} label="Other side of the gap" value=${second} options=${posts(second)}
			onChoose=${(/** @type {string} */ one) => set(first, one)} />
		${through && onPlan('the gap', 'through')}
	<//>`;
}

/** @param {{ rest: any }} props */
function Rest({ rest }) {
	const table = /** @type {any} */ (tableNow.value);
	const areas = (table?.names.areas ?? []).map((/** @type {string} */ one) => [
		one,
		one === 'D' ? 'the D' : one,
	]);
	const circle = Array.isArray(rest?.circle) ? rest.circle : null;
	const isPolygon = rest?.polygon !== undefined;
	const shape = circle ? CIRCLE : isPolygon ? 'polygon' : rest;
	const shapes = [[CIRCLE, 'a circle'], ...areas, ...(isPolygon ? [['polygon', 'a polygon']] : [])];
	if (!shapes.some(([one]) => one === shape)) shapes.push([shape, String(shape)]);
	const choose = (/** @type {string} */ one) => {
		if (one === CIRCLE && table) setCircle([table.width / 2, table.length / 2], null);
		else if (one !== CIRCLE) setArea(one);
		stopPicking();
	};
	const [x, y, radius] = circle ?? [0, 0, 0];
	return html`<${Line} of="rest" words="rests in">
		<${Choice} label="Area to rest in" value=${shape} options=${shapes} onChoose=${choose} />
		${
			circle &&
			html`<span class="goal-together">of <${TypedLength} label="Radius of the area" value=${radius} step=${10}
				onSet=${(/** @type {number} */ mm) => setCircle([x, y], mm)} /></span>
			<span class="goal-together">at <${TypedLength} label="Its middle, from the left" value=${x} step=${10} signed=${false}
				onSet=${(/** @type {number} */ mm) => setCircle([mm, y], radius)} /> and
			<${TypedLength} label="Its middle, up the table" value=${y} step=${10}
				onSet=${(/** @type {number} */ mm) => setCircle([x, mm], radius)} /></span>
			${onPlan('the area', 'rest')}`
		}
	<//>`;
}

/** @param {{ next: any }} props */
function Next({ next }) {
	const table = /** @type {any} */ (tableNow.value);
	const any = (table?.names.any ?? []).map((/** @type {string} */ one) => [one, one]);
	const [least, most] = Array.isArray(next?.cut) ? next.cut : [0, 90];
	const isAny = any.some((/** @type {string[]} */ [one]) => one === next?.ball);
	return html`<${Line} of="next" words="leaves">
		<${Choice} label="Next ball" value=${next?.ball ?? ''}
			options=${[...(next ? [] : NONE), ...any, ...balls(isAny ? undefined : next?.ball)]}
			onChoose=${(/** @type {string} */ ball) => {
				if (ball) setNext(ball);
				stopPicking();
			}} />
		${
			next &&
			html`cut <${TypedNumber} label="Least cut of the next ball, in degrees" value=${least} digits=${0} step=${5}
				held=${false} onSet=${(/** @type {number} */ one) => setNextCut(one, most)} />
			to <${TypedNumber} label="Most cut of the next ball, in degrees" value=${most} digits=${0} step=${5} unit="°"
				held=${false} onSet=${(/** @type {number} */ one) => setNextCut(least, one)} /> ${onPlan('the next ball', 'next')}`
		}
	<//>`;
}

/** @param {{ of: 'touch' | 'miss', words: string, listed: string[] }} props */
function Listed({ of, words, listed }) {
	const left = balls(undefined).filter(([name]) => name !== undefined && !listed.includes(name));
	const add = (/** @type {string} */ ball) => {
		if (ball) toggle(of, ball);
	};
	return html`<${Line} of=${of} words=${words}>
		${listed.map((name) => html`<button key=${name} class="goal-ball" aria-label=${`${named(name)}, ${words}; take it out`} onClick=${() => toggle(of, name)}>${named(name)} ×</button>`)}
		<${Choice} key=${listed.join()} label=${`A ball that it ${words}`} value="" options=${[['', 'add …'], ...left]} onChoose=${add} />
		${picking.value?.what !== of && onPlan('the balls', of)}
	<//>`;
}

/** @param {{ span: any }} props */
function Cushions({ span }) {
	const [least, most] = Array.isArray(span) ? span : [span, span];
	const field = (
		/** @type {string} */ label,
		/** @type {number} */ value,
		/** @type {(one: number) => void} */ set,
	) =>
		html`<${TypedNumber} label=${label} value=${value} digits=${0} step=${1} min=${0} max=${MOST_CUSHIONS} held=${false} onSet=${set} />`;
	return html`<${Line} of="cushions" words="meets cushions,">
		${field('Fewest cushions', least, (one) => setCushions([one, most]))} to
		${field('Most cushions', most, (one) => setCushions([least, one]))}
	<//>`;
}
