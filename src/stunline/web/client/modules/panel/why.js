// @ts-check
// Why the white goes where it goes: sentences and each cause's share, when they are asked for.

import { computed, html, signal } from '../../lib/view.js';
import { post, sentenceOf } from '../api.js';
import { playedOf } from '../maps/played.js';
import { documentNow } from '../state.js';

/** @typedef {{ sentences: string[], rows: string[][], straight: boolean }} Told */

const HEAD = ['cause', 'as it is', 'gives', 'alone', 'taken away', 'then next', 'off by'];

const told = signal(/** @type {Told | null} */ (null));
const refused = signal('');
const about = signal('');
const aboutNow = computed(() => JSON.stringify(playedOf(documentNow.value)));

async function ask() {
	const asked = aboutNow.value;
	try {
		const answer = await post('/api/explanations', { document: documentNow.value });
		[told.value, refused.value] = [answer, ''];
	} catch (error) {
		const fault = /** @type {any} */ (error);
		[told.value, refused.value] = [null, sentenceOf(fault.body?.error) || fault.message];
	}
	about.value = asked;
}

export function Why() {
	const isOld = about.value !== '' && about.value !== aboutNow.value;
	return html`<p class="small soft">Why the white goes where it goes after the contact: what each cause gives.</p>
		<div class="study-begin"><button onClick=${ask}>Explain</button>
			<p class="small" role="status">${isOld ? 'Of the shot as it was; ask again for this one.' : ''}</p></div>
		${refused.value && !isOld && html`<p class="small note" role="alert">${refused.value}</p>`}
		<${Told} isOld=${isOld} />`;
}

/** @param {{ isOld: boolean }} props */
function Told({ isOld }) {
	const found = told.value;
	if (!found) return null;
	return html`<div class="why-told" data-old=${isOld ? '' : undefined}>
		${found.sentences.map((words) => html`<p>${words}</p>`)}
		${
			found.rows.length > 0 &&
			html`<div class="why-shares"><table class="pack-table">
				<caption class="only-spoken">What each cause gives</caption>
				<thead><tr>${HEAD.map((words) => html`<th scope="col">${words}</th>`)}</tr></thead>
				<tbody>${found.rows.map(
					([name, ...cells]) =>
						html`<tr><th scope="row">${name}</th>${cells.map((cell) => html`<td>${cell}</td>`)}</tr>`,
				)}</tbody>
			</table></div>
			<p class="small soft">${
				found.straight
					? '+ is onwards, the object ball’s way.'
					: '+ is inside the tangent line, towards the object ball.'
			} Gives: its share; the shares add up. Alone: with no other cause. Taken away: how much goes with it.</p>`
		}
	</div>`;
}
