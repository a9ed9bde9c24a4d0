// @ts-check
// How far a study is, with the button that begins or stops it, and what it refused.

import { html } from '../../lib/view.js';
import { sentenceOf } from '../api.js';

/** @typedef {Omit<ReturnType<typeof import('./study.js').makeStudy>, 'told'>} Study */

/**
 * @param {object} props
 * @param {Study} props.study
 * @param {string} props.begin what the button says
 * @param {string} props.label of the bar
 */
export function Progress({ study, begin, label }) {
	const { isRunning, isStopping, job, faults, isCurrent, run, stop } = study;
	const wrong = isCurrent.value ? faults.value : [];
	return html`<div class="study-begin">
			${
				isRunning.value
					? html`<button onClick=${stop}>${isStopping.value ? 'Stop at once' : 'Stop'}</button>`
					: html`<button onClick=${run}>${begin}</button>`
			}
			${
				job.value &&
				html`<p class="small pack-state">
					${isRunning.value && html`<progress value=${job.value.done} max="1" aria-label=${label}></progress>`}
					<span role="status">${words(study)}</span></p>`
			}
		</div>
		${wrong.length > 0 && html`<p class="small note" role="alert">${sentenceOf({ kind: '', reason: '', faults: wrong })}</p>`}`;
}

/** @param {Study} study */
function words({ isRunning, isStopping, isCurrent, job }) {
	const now = job.value;
	if (!now || now.state === 'failed') return '';
	if (isRunning.value && isStopping.value) return 'Stopping.';
	if (isRunning.value) return `${now.words}.`;
	if (!isCurrent.value) return 'Of the position as it was; begin again for this one.';
	return now.state === 'cancelled' ? `Stopped: ${now.words}.` : '';
}
