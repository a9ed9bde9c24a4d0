// @ts-check
// The numbers of table and cloth: as the profile has them, or the position's own. What is typed is
// checked by the server as a file is.

import { html } from '../../lib/view.js';
import { clothNow } from '../equipment.js';
import { change, documentNow } from '../state.js';
import { Choice } from './aim.js';
import { TypedNumber } from './number.js';

const DIGITS = 5; // of a coefficient: as fine as any is known, and finer

/** @typedef {import('../equipment.js').CoefficientKnown} CoefficientKnown */

/** The position's own values. @returns {Record<string, unknown>} */
const own = () => documentNow.value?.coefficients ?? {};

export function ClothInside() {
	const cloth = clothNow.value;
	if (!cloth) return null;
	const count = Object.keys(own()).length;
	return html`<p class="small soft cloth-title">${cloth.title}. ${cloth.note}</p>
		<div class="coefficients">${cloth.numbers.map(
			(one) => html`<${NumberRow} key=${one.key} known=${one} />`,
		)}${cloth.switches.map((one) => html`<${SwitchRow} key=${one.key} known=${one} />`)}</div>
		${count > 0 && html`<button class="small" onClick=${setNoneOwn}>All as the cloth has them</button>`}`;
}

/** @param {{ known: CoefficientKnown }} props */
function NumberRow({ known }) {
	const value = own()[known.key] ?? (known.law || known.value);
	const isLaw = value === known.law;
	return html`<div class="coefficient">
		<span>${known.words}</span>
		<span class="coefficient-value">${known.law && html`<${LawChoice} known=${known} isLaw=${isLaw} />`}
		${
			!isLaw &&
			html`<${TypedNumber} label=${labelOf(known)} value=${typeof value === 'number' ? value : null}
			digits=${DIGITS} step=${known.step} min=${known.least} max=${known.most} held=${false}
			unit=${known.unit || undefined} onSet=${(/** @type {number} */ typed) => setOwn(known, typed)} />`
		}</span>
		<${Standing} known=${known} />
	</div>`;
}

/** @param {CoefficientKnown} known */
const labelOf = (known) =>
	`${known.words[0]?.toUpperCase()}${known.words.slice(1)}, ${known.allowed}`;

/** Whether a law takes the number's place. @param {{ known: CoefficientKnown, isLaw: boolean }} props */
function LawChoice({ known, isLaw }) {
	const options = [
		['law', known.law_words],
		['number', 'constant'],
	];
	const choose = (/** @type {string} */ kind) =>
		setOwn(known, kind === 'law' ? (known.law ?? known.value) : known.value);
	return html`<${Choice} label=${`How the ${known.words} is given`} value=${isLaw ? 'law' : 'number'}
		options=${options} onChoose=${choose} />`;
}

/** How the number is known: by whom, or that it is the position's own. @param {{ known: CoefficientKnown }} props */
function Standing({ known }) {
	if (!(known.key in own())) {
		return html`<span class="small soft standing" title=${known.source}>${known.known_by}</span>`;
	}
	const words = `${known.words} as the cloth has it, ${known.law ?? known.value}`;
	const back = known.law ? 'as the cloth' : `back to ${known.value}`;
	return html`<span class="small standing">own, <button class="small" aria-label=${words}
		onClick=${() => setProfile(known)}>${back}</button></span>`;
}

/** @param {{ known: { key: string, words: string, value: boolean } }} props */
function SwitchRow({ known }) {
	const value = own()[known.key] ?? known.value;
	const turn = (/** @type {Event} */ event) =>
		setOwn(known, /** @type {HTMLInputElement} */ (event.target).checked);
	return html`<label class="coefficient">
		<span>${known.words}</span>
		<span class="coefficient-value"><input type="checkbox" checked=${value} onChange=${turn} /></span>
		<span class="small standing">${known.key in own() ? 'own' : ''}</span>
	</label>`;
}

/**
 * The position's own value; one that is the profile's is not written down.
 * @param {{ key: string, words: string, value: unknown, law?: string | null }} known @param {unknown} value
 */
function setOwn(known, value) {
	if (value === (known.law || known.value)) return setProfile(known);
	change(`set the ${known.words}`, (position) => {
		position.coefficients = { ...position.coefficients, [known.key]: value };
	});
}

/** As the cloth has it. @param {{ key: string, words: string }} known */
function setProfile({ key, words }) {
	change(`leave the ${words} to the cloth`, (position) => {
		const { [key]: _, ...others } = position.coefficients ?? {};
		if (Object.keys(others).length > 0) position.coefficients = others;
		else delete position.coefficients;
	});
}

function setNoneOwn() {
	change('leave all coefficients to the cloth', (position) => {
		delete position.coefficients;
	});
}
