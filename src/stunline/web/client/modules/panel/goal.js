// @ts-check
// The goal's fold: whether it is in order; what stands inside is loaded when it is opened.

import { computed, html } from '../../lib/view.js';
import { answer, fault } from '../state.js';
import { dress, Fold } from './fold.js';

const isFaulty = computed(() => {
	const told = fault.value?.faults ?? /** @type {any} */ (answer.value)?.goal_faults ?? [];
	return told.some((/** @type {{ key: string }} */ { key }) => key.split('.')[0] === 'goal');
});

async function load() {
	const [{ GoalInside }] = await Promise.all([import('./goal_inside.js'), dress('goal.css')]);
	return GoalInside;
}

export const Goal = () =>
	html`<${Fold} name="goal" title="Goal" mark=${isFaulty.value ? 'not in order' : ''} load=${load} />`;
