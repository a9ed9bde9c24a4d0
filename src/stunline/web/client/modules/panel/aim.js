// @ts-check
// What is aimed at, in a line that reads like a sentence: pot the black into the top right.

import { html } from '../../lib/view.js';
import { cueBall, tableNow } from '../equipment.js';
import { ballsDrawn } from '../live.js';
import { documentNow } from '../state.js';
import { TypedNumber } from './number.js';
import { aim } from './settled.js';
import { aimedBy, setAimBy } from './strike_edits.js';

const THICKNESSES = ['full', 'three-quarter', 'half', 'quarter', 'fine'];
const SIDES = ['left', 'right'];
const WAYS = [
	['pot', 'Pot'],
	['contact', 'Contact'],
	['aim', 'Aim'],
];

export function AimLine() {
	const strike = documentNow.value?.strike ?? {};
	const by = aimedBy();
	return html`<div class="aim-line" role="group" aria-label="What is aimed at">
		<${Choice} label="Aim by" value=${by} options=${WAYS} onChoose=${aimOtherwise} />
		${by === 'pot' && html`<${PotChoice} pot=${strike.pot} />`}
		${by === 'contact' && html`<${ContactChoice} contact=${strike.contact} />`}
		${
			by === 'aim' &&
			html`<${TypedNumber} label="Aim, in degrees anticlockwise from left to right"
			value=${aim.value} digits=${3} step=${0.05} unit="°"
			onSet=${(/** @type {number} */ degrees) => setAimBy({ aim: degrees })} />`
		}
	</div>`;
}

/** @param {{ pot: { ball: string, pocket: string } }} props */
function PotChoice({ pot }) {
	const pockets = tableNow.value?.pockets.map((one) => one.name) ?? [pot.pocket];
	const set = (/** @type {object} */ change) => setAimBy({ pot: { ...pot, ...change } });
	return html`the <${Choice} label="Object ball" value=${pot.ball} options=${objectBalls(pot.ball)}
		onChoose=${(/** @type {string} */ ball) => set({ ball })} />
	<span>into</span> <${Choice} label="Pocket" value=${pot.pocket} options=${plain(pockets)}
		onChoose=${(/** @type {string} */ pocket) => set({ pocket })} />`;
}

/** @param {{ contact: { ball: string, thickness: string | number, on?: string } }} props */
function ContactChoice({ contact }) {
	const set = (/** @type {object} */ change) => setAimBy({ contact: { ...contact, ...change } });
	const named = THICKNESSES.includes(String(contact.thickness));
	return html`<${Choice} label="Object ball" value=${contact.ball} options=${objectBalls(contact.ball)}
		onChoose=${(/** @type {string} */ ball) => set({ ball })} />
	<${Choice} label="Thickness" value=${named ? contact.thickness : 'number'}
		options=${[...plain(THICKNESSES), ['number', 'as a number']]}
		onChoose=${(/** @type {string} */ one) => set({ thickness: one === 'number' ? 0.5 : one })} />
	${
		!named &&
		html`<${TypedNumber} label="Thickness, 1 is full" value=${contact.thickness} digits=${2}
		step=${0.05} min=${0} max=${1} onSet=${(/** @type {number} */ one) => set({ thickness: one })} />`
	}
	<span>on its</span> <${Choice} label="Side of the object ball" value=${contact.on ?? 'left'} options=${plain(SIDES)}
		onChoose=${(/** @type {string} */ on) => set({ on })} />`;
}

/**
 * @param {{ label: string, value: string, options: string[][], onChoose: (value: string) => void }} props
 */
export function Choice({ label, value, options, onChoose }) {
	const choose = (/** @type {Event} */ event) =>
		onChoose(/** @type {HTMLSelectElement} */ (event.target).value);
	return html`<select aria-label=${label} value=${value} onChange=${choose}
		>${options.map(([key, words]) => html`<option key=${key} value=${key} selected=${key === value}>${words}</option>`)}</select>`;
}

/** @param {string[]} names */
const plain = (names) => names.map((name) => [name, name]);

/** Balls on the table but the one that is struck, with their names in words. @param {string} now */
function objectBalls(now) {
	const names = Object.keys(ballsDrawn.value).filter((name) => name !== cueBall.value);
	if (!names.includes(now)) names.push(now);
	return names.map((name) => [name, name.replace(/(\D)(\d+)$/, '$1 $2')]);
}

/** @param {string} way */
function aimOtherwise(way) {
	const strike = documentNow.value?.strike ?? {};
	const names = Object.keys(ballsDrawn.value).filter((name) => name !== cueBall.value);
	const ball = strike.pot?.ball ?? strike.contact?.ball ?? names[0];
	if (way === 'aim' || !ball) setAimBy({ aim: Number(aim.value.toFixed(3)) });
	else if (way === 'contact') setAimBy({ contact: { ball, thickness: 'half', on: 'left' } });
	else setAimBy({ pot: { ball, pocket: tableNow.value?.pockets[0]?.name ?? 'top right' } });
}
