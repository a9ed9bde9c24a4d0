// @ts-check
// The goal, unfolded: what the coach wants of the shot, set by pointing at the plan or by the fields here.

import { html, useEffect } from '../../lib/view.js';
import { tableNow } from '../equipment.js';
import { forbidInOff, goalNow, hasGoal, setCircle, setCushions } from '../goal/edits.js';
import { focusOn, picking, pickingWords, startPicking, stopPicking } from '../goal/picking.js';
import { above } from '../plan/extras.js';
import { GoalPicks } from '../plan/goal_picks.js';
import { Ways } from '../plan/ways.js';
import { optionShown } from '../state.js';
import { Choices } from './choices.js';
import { Faults, GoalDemands } from './goal_demands.js';
import { GoalRanges } from './goal_ranges.js';

/** @typedef {import('../goal/picking.js').What} What */

/** @type {[What, string][]} */
const PICKED = [
	['meet', 'meets a ball'],
	['through', 'passes a gap'],
	['rest', 'rests in an area'],
	['next', 'leaves a next ball'],
	['touch', 'touches'],
	['miss', 'misses'],
];

above.value = [...above.value, Ways, GoalPicks];

export function GoalInside() {
	useEffect(() => {
		const leave = (/** @type {KeyboardEvent} */ event) => {
			if (event.key === 'Escape' && picking.value) stopPicking();
		};
		addEventListener('keydown', leave);
		return () => {
			removeEventListener('keydown', leave);
			stopPicking();
		};
	}, []);
	const goal = goalNow.value;
	const left = PICKED.filter(([key]) => !(key in goal) && picking.value?.what !== key);
	return html`<div onMouseLeave=${() => (optionShown.value = null)}>
		<p class="small soft">What the white is to do after its first contact. Which strikes do it, and how much
			they forgive, is searched for.</p>
		<${GoalDemands} />
		<div class="goal-add" role="group" aria-label="Add to the goal">
			<span class="soft small">${hasGoal.value ? 'and the white' : 'the white'}</span>
			${left.map(([key, words]) => html`<button key=${key} onClick=${() => begin(key)}>${words}</button>`)}
			${!('cushions' in goal) && html`<button onClick=${countCushions}>counts cushions</button>`}
			${!('in_off' in goal) && html`<button onClick=${forbidInOff}>never goes in</button>`}
		</div>
		<p class="small picking-words" role="status">${pickingWords.value}${
			pickingWords.value && html` <button class="small" onClick=${stopPicking}>Done</button>`
		}</p>
		<${Faults} of="" />
		${hasGoal.value && html`<${GoalRanges} /><${Choices} />`}
	</div>`;
}

/** A resting place stands there at once, so that it can be typed as well as clicked. @param {What} what */
function begin(what) {
	startPicking(what);
	focusOn(`[data-demand="${what}"] select`);
	const table = tableNow.value;
	if (what === 'rest' && table) setCircle([table.width / 2, table.length / 2], null);
}

function countCushions() {
	setCushions();
	focusOn('[data-demand="cushions"] input');
}
