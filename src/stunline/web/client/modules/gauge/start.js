// @ts-check
// A record is started, or one of the library is gone on with.

import { html, useEffect, useSignal } from '../../lib/view.js';
import { tables } from '../equipment.js';
import { gaugeAt } from '../gauge.js';
import { Choice } from '../panel/aim.js';
import { documentNow, notice } from '../state.js';
import { listRecords, startRecord } from './record.js';

const SIZES = [
	['quick', 'Quick check: three shots, five minutes'],
	['full', 'The full dozen, half an hour'],
];
const RAMPS = [
	['flat', 'A flat chute'],
	['groove', 'A groove between two rails'],
];

export function Start() {
	return html`<div class="gauge-start">
		<section>
			<h2>What it takes</h2>
			<p>A tape, a phone or watch, chalk, and a ramp that the ball rolls down. Each shot says how it is set up
			and what to write down; from that the table’s coefficients are found, with honest doubt.</p>
		</section>
		<${NewRecord} />
		<${OldRecords} />
	</div>`;
}

function NewRecord() {
	const table = useSignal(documentNow.value?.table ?? 'snooker-12ft');
	const cloth = useSignal(documentNow.value?.cloth ?? '');
	const size = useSignal('quick');
	const ramp = useSignal('flat');
	const gap = useSignal('');
	const title = useSignal('');
	const wrong = useSignal('');
	const known = tables.value.find((one) => one.name === table.value) ?? tables.value[0];
	const cloths = known?.cloths ?? [];
	const clothNow = cloths.some((one) => one.name === cloth.value) ? cloth.value : cloths[0]?.name;
	const start = async (/** @type {Event} */ event) => {
		event.preventDefault();
		const width = ramp.value === 'flat' ? 0 : Number(gap.value.replace(',', '.'));
		if (ramp.value !== 'flat' && !(width > 0)) {
			wrong.value =
				'The gap of the groove in mm is needed: the clear width between its rails, 30 say.';
			return;
		}
		const wish = { table: known?.name ?? table.value, cloth: clothNow ?? '', title: title.value };
		wrong.value = '';
		await startRecord({ ...wish, full: size.value === 'full', gap: width }).catch((error) => {
			wrong.value = error.message;
		});
	};
	return html`<form onSubmit=${start}>
		<h2>A new record</h2>
		<div class="details-fields">
			<label><span>called</span><input value=${title.value} placeholder="Table 3, after ironing" aria-label="What the record is called"
				onInput=${set(title)} /></label>
			<label><span>table</span><${Choice} label="Table that is gauged" value=${known?.name ?? ''}
				options=${tables.value.map((one) => [one.name, one.title])} onChoose=${(/** @type {string} */ one) => (table.value = one)} /></label>
			<label><span>cloth</span><${Choice} label="Cloth that comes nearest" value=${clothNow ?? ''}
				options=${cloths.map((one) => [one.name, one.title])} onChoose=${(/** @type {string} */ one) => (cloth.value = one)} /></label>
			<label><span>shots</span><${Choice} label="Which shots" value=${size.value} options=${SIZES}
				onChoose=${(/** @type {string} */ one) => (size.value = one)} /></label>
			<label><span>ramp</span><${Choice} label="What the ramp is like" value=${ramp.value} options=${RAMPS}
				onChoose=${(/** @type {string} */ one) => (ramp.value = one)} /></label>
			${
				ramp.value === 'groove' &&
				html`<label><span>gap</span><span class="gauge-gap"><input inputmode="decimal" value=${gap.value}
				aria-label="Clear width between the rails, in millimetres" onInput=${set(gap)} /> mm clear between the rails</span></label>`
			}
		</div>
		${
			isOwn(known?.name) &&
			html`<p class="small soft">This is a table file of your own. A record begins from its numbers, each of them as
				much in doubt as on any table: that is right for gauging the same table again. For another table choose
				the size that it is.</p>`
		}
		${wrong.value && html`<p class="small note" role="alert">${wrong.value}</p>`}
		<button class="gauge-main" type="submit">Start</button>
	</form>`;
}

/** Whether a table stands in a file of the library. @param {string} [name] */
const isOwn = (name) => name?.endsWith('.toml') ?? false;

/** @param {import('../../lib/view.js').Signal<string>} one */
const set = (one) => (/** @type {Event} */ event) => {
	one.value = /** @type {HTMLInputElement} */ (event.target).value;
};

function OldRecords() {
	const found = useSignal(/** @type {Awaited<ReturnType<typeof listRecords>> | null} */ (null));
	useEffect(() => {
		listRecords().then(
			(all) => (found.value = all),
			(error) => (notice.value = { words: error.message }),
		);
	}, []);
	const { records, cautions } = found.value ?? { records: [], cautions: [] };
	const Cautions = () => html`<section>
		<h2>When you measure and film</h2>
		${cautions.map((words) => html`<p class="small" key=${words}>${words}</p>`)}
	</section>`;
	if (records.length === 0) return cautions.length > 0 ? html`<${Cautions} />` : null;
	return html`<section>
		<h2>Go on with a record</h2>
		<ul class="gauge-records">${records.map(
			(one) => html`<li key=${one.name}><button onClick=${() => goOn(one.name)}>
				<span>${called(one, records)}</span><span class="small soft">${one.date && `begun ${one.date} · `}${one.table} · ${one.done} of ${one.plays} written down · file ${one.name}</span>
			</button></li>`,
		)}</ul>
	</section><${Cautions} />`;
}

/**
 * A record's title; with its file's name where another one is called the same.
 * @param {{ title: string, name: string }} one @param {{ title: string, name: string }[]} all
 */
function called({ title, name }, all) {
	if (!title) return name;
	const isShared = all.some((other) => other.title === title && other.name !== name);
	return isShared ? `${title} (${name})` : title;
}

/** @param {string} name */
function goOn(name) {
	history.replaceState(null, '', `#gauge=${encodeURIComponent(name)}/1`);
	gaugeAt.value = `${encodeURIComponent(name)}/1`;
}
