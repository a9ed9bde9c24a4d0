// @ts-check
// The strikes that meet the goal: searched, watched, stopped; a row each, linked with its way on
// the plan; or what would help when there is none.

import { html } from '../../lib/view.js';
import { sentenceOf } from '../api.js';
import {
	found,
	isCurrent,
	isRunning,
	isStopping,
	job,
	options,
	otherFaults,
	search,
	stop,
	take,
} from '../goal/search.js';
import { hidden, optionShown } from '../state.js';
import { Thumbnail } from './thumbnail.js';

/** @typedef {import('../goal/search.js').Option} Option */

export function Choices() {
	return html`<div class="choices">
		<div class="with-action">
			${
				isRunning.value
					? html`<button onClick=${stop}>${isStopping.value ? 'Stop at once' : 'Stop'}</button>`
					: html`<button onClick=${search}>Find strikes</button>`
			}
			<${State} />
		</div>
		${otherFaults.value.length > 0 && html`<p class="goal-fault small" role="alert">${sentenceOf({ kind: '', reason: '', faults: otherFaults.value })}</p>`}
		<${Found} />
	</div>`;
}

/** How far it is, and what came of it. */
function State() {
	const now = job.value;
	if (!now) return null;
	return html`<p class="small pack-state">
		${isRunning.value && html`<progress value=${now.done} max="1" aria-label="How much is searched"></progress>`}
		<span role="status">${stateWords()}</span>
	</p>`;
}

function stateWords() {
	const now = job.value;
	if (!now) return '';
	if (isRunning.value && isStopping.value) return 'Stopping: what was found is looked into.';
	if (isRunning.value) return `${now.words}.`;
	if (!isCurrent.value) return 'Of the position as it was; search again for this one.';
	const words = found.value?.count;
	if (now.state === 'cancelled') return words ? `Stopped: ${words} until then.` : 'Stopped.';
	return words ? `${words}.` : '';
}

function Found() {
	const told = found.value;
	if (!told || !isCurrent.value || isRunning.value) return null;
	if (hidden.value)
		return html`<p class="small soft">What was found tells the answer, which is kept back.</p>`;
	if (options.value.length === 0) return html`<${Nothing} />`;
	const more =
		told.more > 0
			? ` ${told.more} smaller ${told.more > 1 ? 'ways were' : 'way was'} not looked into.`
			: '';
	return html`<ol class="option-rows">${options.value.map((one) => html`<${Row} key=${one.letter} option=${one} />`)}</ol>
		<p class="small soft">Searched: ${told.searched}. The chance is that of the player’s strokes, with its 95 %
			interval; then the same on tables that this one may be, by which they stand in order. Of near-equal ones
			the plainer stroke is first.${more}</p>`;
}

/** @param {{ option: Option }} props */
function Row({ option }) {
	const { letter, strike, words, chance, kind, fault, tables } = option;
	const look = () => (optionShown.value = letter);
	const away = () => (optionShown.value = null);
	return html`<li data-shown=${optionShown.value === letter ? '' : undefined}>
		<button class="option-row"
			onClick=${() => take(strike, `strike ${letter}`)} onMouseEnter=${look} onMouseLeave=${away} onFocus=${look} onBlur=${away}>
			<span class="option-letter"><span class="only-spoken">Take </span>${letter}</span>
			<${Thumbnail} height=${strike.height} side=${strike.side} />
			<span class="option-words"><b>${chance}</b><span>${kind}: ${words}</span>${
				tables && html`<span class="small">as the table may be ${tables}</span>`
			}${fault && html`<span class="soft small">fails first ${fault}</span>`}</span>
		</button>
	</li>`;
}

/** What would help, as sentences. */
function Nothing() {
	const told = found.value;
	if (!told) return null;
	if (!told.complete) {
		return html`<p class="sentence">Stopped before any strike that meets the goal was found.</p>`;
	}
	if (told.help.length === 0) {
		return html`<p class="sentence">No strike of these meets the goal, and no single demand or range helps when it
			alone gives way: ask for less in two of them.</p>`;
	}
	return html`<p class="sentence">No strike of these meets the goal. What would help, one at a time:</p>
		<ul class="help-rows">${told.help.map(
			({ what, words, strike }) => html`<li key=${what}><button class="help-row"
				onClick=${() => take(strike, 'the strike that would help')}><span><span class="only-spoken">Take this strike: </span>${words[0]?.toUpperCase()}${words.slice(1)}.</span></button></li>`,
		)}</ul>`;
}
