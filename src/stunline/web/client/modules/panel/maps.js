// @ts-check
// The folds of what a strike forgives, where the white can go, what happened, and why; loaded when
// opened.

import { html } from '../../lib/view.js';
import { dress, Fold } from './fold.js';

/** @param {Promise<any>} module @param {string} name of its inside */
async function dressed(module, name) {
	const [found] = await Promise.all([module, dress('goal.css'), dress('maps.css')]);
	return found[name];
}

export const Maps = () => html`
	<${Fold} name="forgives" tells title="What it forgives" load=${() => dressed(import('./forgives.js'), 'Forgives')} />
	<${Fold} name="reach" tells title="Where it can go" load=${() => dressed(import('./reach.js'), 'WhereItCanGo')} />
	<${Fold} name="happened" tells title="What happened" load=${() => dressed(import('./happened.js'), 'WhatHappened')} />
	<${Fold} name="why" tells title="Why" load=${() => dressed(import('./why.js'), 'Why')} />
`;
