// @ts-check
// One shot: how it is set up, what to do, what to write down; and what was.

import { html, useLayoutEffect, useRef } from '../../lib/view.js';
import { Entry, SetUpFields } from './entry.js';
import { fitted, isOld } from './fit.js';
import { plan } from './readings.js';
import { playAgain, playNow, record, shown, showPlay } from './record.js';

const TOOLS = { ramp: 'from the ramp', cue: 'with the cue', fingers: 'with the fingers' };

export function ShotGuide() {
	const heading = useRef(/** @type {HTMLElement | null} */ (null));
	const first = useRef(true);
	const play = playNow.value;
	const key = `${play?.number} ${play?.name}`;
	useLayoutEffect(() => {
		if (first.current) first.current = false;
		else heading.current?.focus();
	}, [key]);
	if (!play) return null;
	return html`<section class="gauge-shot" aria-label="This shot">
		<p class="small soft">Shot ${shown.value + 1} of ${record.value?.plays.length}, ${TOOLS[play.tool]} · ${play.name}</p>
		<h2 class="large" tabindex="-1" ref=${heading}>${play.title}</h2>
		<dl class="gauge-words">
			<div><dt>Set up</dt><dd>${play.set_up}<${Tape} /></dd></div>
			<div><dt>Do</dt><dd>${play.do}</dd></div>
			<div><dt>Mind</dt><dd>${play.caution}</dd></div>
			<div><dt>Tells</dt><dd>${play.tells}</dd></div>
		</dl>
		${play.tool !== 'fingers' && html`<${SetUpFields} key=${`set-up ${key}`} play=${play} />`}
		<${Entry} key=${`entry ${key}`} play=${play} />
		<${Misses} number=${play.number} />
		<${Steps} />
	</section>`;
}

/** The set-up by tape. */
function Tape() {
	const rows = plan.value?.rows ?? [];
	if (rows.length === 0) return null;
	return html`<ul class="gauge-tape">${rows.map(([what, words]) => html`<li key=${what}><span class="soft">${what}</span><span>${words}</span></li>`)}</ul>`;
}

/** What was measured less what the fit expects. @param {{ number: number }} props */
function Misses({ number }) {
	if (isOld.value) return null;
	const misses = (fitted.value?.misses ?? []).filter((one) => one.play === number);
	const suspects = (fitted.value?.suspects ?? []).filter((one) => one.play === number);
	if (misses.length === 0) return null;
	return html`<p class="small soft">Measured less expected: ${misses.map((one) => one.words).join('; ')}.</p>
		${suspects.map((one) => html`<p class="small note" role="status">Suspicious, left out: ${one.words}. Was a digit or a ball mixed up?</p>`)}`;
}

function Steps() {
	const play = playNow.value;
	const count = record.value?.plays.length ?? 1;
	const index = shown.value;
	const isLast = index === count - 1;
	const next = play?.state === 'open' ? 'Skip' : 'Next shot';
	return html`<nav class="gauge-steps" aria-label="Shots one by one">
		<button disabled=${index === 0} onClick=${() => showPlay(index - 1)}>Back</button>
		<button class="gauge-main" disabled=${isLast} onClick=${() => showPlay(index + 1)}>${next}</button>
		<button onClick=${playAgain}>Play it again</button>
	</nav>
	${isLast && play?.state === 'done' && html`<p class="small soft">That was the last shot. Shots that were skipped stand in the list.</p>`}`;
}
