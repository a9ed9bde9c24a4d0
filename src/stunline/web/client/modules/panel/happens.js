// @ts-check
// What happens: the sentence first, then the numbers that a coach asks for, then the events.

import { effect, html, useEffect, useSignal } from '../../lib/view.js';
import { sentenceOf } from '../api.js';
import { unbroken } from '../lengths.js';
import { answer, doubtShown, eventShown, fault, hidden, preview } from '../state.js';
import { settled } from './settled.js';

const SPOKEN_AFTER = 900; // a sentence that stands so long is spoken [ms]
const SAME_MOMENT = 1e-3; // [s]
/** Read-outs that stand there at once, by how their names begin; the others follow on demand. */
const FIRST = [/ after contact$/, /^turned by/, /^goes in if/, /^leaves$/, /^total bend$/];
const MOST_FIRST = 6;

export function Happens() {
	return html`<section class="happens">
		<div class="with-action">
			<h2 class="soft small">What happens</h2>
			<button class="small" aria-pressed=${hidden.value} onClick=${() => (hidden.value = !hidden.value)}
				>${hidden.value ? 'Show the answer' : 'Hide the answer'}</button>
		</div>
		<${Spoken} />
		${fault.value ? html`<${Refusal} />` : hidden.value ? html`<p class="sentence soft">The answer is kept back. Ask first, then show it.</p>` : html`<${Told} />`}
	</section>`;
}

/** Why the strike can't be played: a sentence, and what to do. */
function Refusal() {
	return html`<p class="sentence fault" role="alert">${sentenceOf(fault.value)}</p>`;
}

function Told() {
	const shot = answer.value;
	if (!shot) return html`<p class="sentence soft">The shot is being prepared.</p>`;
	const first = firstRows(shot.rows);
	const others = shot.rows.filter((row) => !first.includes(row));
	return html`
		<p class="sentence" data-preview=${preview.value ? '' : undefined}>${unbroken(shot.sentence)}</p>
		${shot.notes.map((note) => html`<p class="note small">${note}</p>`)}
		<dl class="numbers">${first.map(Row)}<${Pot} /></dl>
		<${Doubt} />
		<details>
			<summary>All numbers</summary>
			<dl class="numbers">${others.map(Row)}</dl>
		</details>
		<details>
			<summary>Events, moment by moment</summary>
			<${Events} />
		</details>
	`;
}

/** Whose doubt the ribbon and the brackets show, what else may happen, and the switch of both. */
function Doubt() {
	const now = settled.value?.doubt ?? null;
	const last = useSignal(now);
	useEffect(() => {
		if (now) last.value = now;
	}, [now]);
	// While something moves it is not reckoned; the last one keeps the place, so that nothing jumps.
	const told = now ?? last.value;
	const flip = () => (doubtShown.value = !doubtShown.value);
	return html`<div class="how-sure">
		<label><input type="checkbox" checked=${doubtShown.value} onChange=${flip} /> how far off it may be on this table</label>
		${doubtShown.value && told ? told.sentences.map((said) => html`<p class="soft small" data-old=${now ? undefined : ''}>${said}</p>`) : null}
	</div>`;
}

/** @param {[string, string]} row */
const Row = ([name, value]) => html`<div key=${name}><dt>${name}</dt><dd>${value}</dd></div>`;

/** @param {[string, string][]} rows */
function firstRows(rows) {
	return rows.filter(([name]) => FIRST.some((one) => one.test(name))).slice(0, MOST_FIRST);
}

/** A pot asked for that is not made is said among the numbers too. */
function Pot() {
	const pot = answer.value?.pot;
	if (!pot || pot.made) return null;
	return html`<div><dt>${pot.ball} to ${pot.pocket}</dt><dd>not made</dd></div>`;
}

function Events() {
	const shot = answer.value;
	const told = (shot?.events ?? []).filter((event, index, all) => {
		const before = all[index - 1];
		return !before || before.words !== event.words || event.time - before.time > SAME_MOMENT;
	});
	const show = (/** @type {import('../state.js').EventTold | null} */ event) =>
		(eventShown.value = event);
	return html`<ol class="events" onMouseLeave=${() => show(null)}>${told.map(
		(event) => html`<li><button onMouseEnter=${() => show(event)} onFocus=${() => show(event)}
			onBlur=${() => show(null)} onClick=${() => show(event)}
			><span class="soft">${event.time.toFixed(2)} s</span> ${event.words}</button></li>`,
	)}</ol>`;
}

/** The sentence for those who hear the page: once things have come to rest, never in between. */
function Spoken() {
	const spoken = useSignal('');
	useEffect(() => {
		let timer = 0;
		const stop = effect(() => {
			const words = hidden.value ? 'The answer is hidden.' : (settled.value?.sentence ?? '');
			clearTimeout(timer);
			timer = setTimeout(() => (spoken.value = words), SPOKEN_AFTER);
		});
		return () => {
			clearTimeout(timer);
			stop();
		};
	}, []);
	return html`<p class="only-spoken" role="status" aria-live="polite">${spoken.value}</p>`;
}
