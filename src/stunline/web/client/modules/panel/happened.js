// @ts-check
// What happened: where the white really went, tapped or typed, and the stroke that was played.

import { html, useEffect } from '../../lib/view.js';
import { cueBall, nearCushion, tableNow } from '../equipment.js';
import {
	forgetPlace,
	happenedNow,
	isShown,
	study,
	tapping,
	tellFate,
	tellMet,
	tellPlace,
} from '../maps/happened.js';
import { Progress } from '../maps/progress.js';
import { above, below, under } from '../plan/extras.js';
import { HappenedLayer, HappenedMarks, HappenedTap } from '../plan/happened_layer.js';
import { wordsOf } from '../plan/moves.js';
import { answer, documentNow } from '../state.js';
import { Face, Table } from './forgives.js';
import { TypedLength } from './length.js';

/** @typedef {import('../maps/happened.js').Place} Place */

under.value = [...under.value, HappenedLayer];
below.value = [...below.value, HappenedMarks];
above.value = [...above.value, HappenedTap];

export function WhatHappened() {
	useEffect(() => {
		isShown.value = true;
		return () => {
			isShown.value = false;
			tapping.value = null;
		};
	}, []);
	return html`<p class="small soft">The strike above is what was meant. Say where the white really went, and the stroke
			that was played is told back.</p>
		<${PlaceTold} of="white_rest" words="The white ended" />
		<${PlaceTold} of="white_passed" words="It passed" />
		<${Met} />
		<${Fate} />
		<${Progress} study=${study} begin="Tell the stroke" label="How much is played" />
		<${Told} />`;
}

/** @param {{ of: Place, words: string }} props */
function PlaceTold({ of, words }) {
	const now = happenedNow.value[of];
	const [across, up] = Array.isArray(now) ? now : [null, null];
	const isTapping = tapping.value === of;
	const tap = () => (tapping.value = isTapping ? null : of);
	const keys = (/** @type {KeyboardEvent} */ event) => {
		if (event.key === 'Escape') tapping.value = null;
	};
	return html`<div class="happened-place" role="group" aria-label=${words}>
		<span class="happened-words">${words}</span>
		<button aria-pressed=${isTapping} onClick=${tap} onKeyDown=${keys}>${isTapping ? 'Tap the plan' : 'Tap it'}</button>
		<span class="soft small">left</span>
		<${TypedLength} label=${`${words}, from the left`} value=${across} step=${5} signed=${false} min=${0} max=${tableNow.value?.width}
			onSet=${(/** @type {number} */ mm) => tellPlace(of, [mm, up ?? 0])} />
		<span class="soft small">${nearCushion.value}</span>
		<${TypedLength} label=${`${words}, from the ${nearCushion.value} cushion`} value=${up} step=${5} signed=${false} min=${0} max=${tableNow.value?.length}
			onSet=${(/** @type {number} */ mm) => tellPlace(of, [across ?? 0, mm])} />
		${now && html`<button aria-label=${`Forget: ${words.toLowerCase()}`} onClick=${() => forgetPlace(of)}>×</button>`}
	</div>`;
}

function Met() {
	const met = happenedNow.value.white_met;
	const balls = Object.keys(answer.value?.balls ?? {}).filter((name) => name !== cueBall.value);
	if (balls.length < 2 || Array.isArray(met)) return null;
	const set = (/** @type {Event} */ event) =>
		tellMet(/** @type {HTMLSelectElement} */ (event.target).value);
	return html`<label class="happened-place"><span class="happened-words">It met</span>
		<select value=${met ?? ''} onChange=${set}>
			<option value="">not said</option>
			${balls.map((name) => html`<option value=${name}>${wordsOf(name)}</option>`)}
		</select></label>`;
}

/** What became of the ball that was to be potted. */
function Fate() {
	const ball = documentNow.value?.strike?.pot?.ball;
	if (typeof ball !== 'string') return null;
	const { potted, not_potted: missed } = happenedNow.value;
	const now = potted ? 'potted' : missed ? 'not_potted' : '';
	const set = (/** @type {Event} */ event) =>
		tellFate(ball, /** @type {HTMLSelectElement} */ (event.target).value);
	return html`<label class="happened-place"><span class="happened-words">The pot</span>
		<select value=${now} onChange=${set}>
			<option value="">not said</option>
			<option value="potted">was made</option>
			<option value="not_potted">was missed</option>
		</select></label>`;
}

function Told() {
	const told = study.told.value;
	if (!told) return null;
	return html`<div class="forgives-told" data-old=${study.isCurrent.value ? undefined : ''}>
		${told.told_back.map((words, row) => html`<p class=${row ? 'small' : 'sentence'}>${words}</p>`)}
		${told.rows.length > 0 && html`<${Table} caption="Off what was meant" head=${['number', 'likely', '90 %', 'before']} rows=${told.rows} />`}
		<${Face} svg=${told.map} />
		<p class="small soft">Seen: ${told.seen}. ${told.basis}</p>
	</div>`;
}
