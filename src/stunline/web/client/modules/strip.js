// @ts-check
// The pace strip: a ruler whose bands say what each pace does; the handle over it sets the pace.

import { effect, html, useEffect, useLayoutEffect, useRef } from '../lib/view.js';
import { magnified } from './class/type_size.js';
import { TypedNumber } from './panel/number.js';
import { pin } from './panel/pins.js';
import { pace, settled } from './panel/settled.js';
import { setLengths, setPace, setPocketWeight } from './panel/strike_edits.js';
import { documentNow, hidden, strip, stripIsOld, stripOf, stripWidth } from './state.js';
import { StripHandle } from './strip/handle.js';
import { markCurrent, measureBands } from './strip/ruler.js';

const STEP = 0.05; // of an arrow key in the field [m/s]

export function Strip() {
	return html`
		<div class="strip-head">
			<${PaceFields} />
			<${StripActions} />
			<p class="soft small strip-says">${saysWhat()}</p>
		</div>
		<${Ruler} />
	`;
}

function saysWhat() {
	if (hidden.value) return 'what each one does is kept back';
	if (stripIsOld.value) return 'of the last shot that could be played';
	return stripOf.value === 'height'
		? 'what each height does, everything else held'
		: 'what each pace does, everything else held';
}

function PaceFields() {
	const weight = documentNow.value?.strike?.pace === 'pocket weight';
	const canWeight = Boolean(documentNow.value?.strike?.pot);
	return html`
		<span class="soft small" aria-hidden="true">Pace</span>
		<span class="pace-field"><${TypedNumber} label="Pace, in metres a second" value=${pace.value} digits=${2}
			step=${STEP} min=${0.02} max=${15} unit="m/s" onSet=${setPace} /></span>
		<${TypedNumber} label="Pace, in lengths of the table" value=${settled.value?.strike.lengths ?? null}
			digits=${2} step=${STEP} min=${0.01} max=${12} unit="lengths" onSet=${setLengths} />
		${canWeight && html`<button class="small pocket-weight" aria-pressed=${weight} onClick=${setPocketWeight}>Pocket weight</button>`}
	`;
}

function StripActions() {
	const of = stripOf.value;
	const show = (/** @type {'pace' | 'height'} */ kind) => (stripOf.value = kind);
	return html`<span class="strip-actions">
		<button class="small" onClick=${pin} title="Keeps this strike on the plan, numbered, while others are tried">Pin</button>
		<span class="strip-of" role="group" aria-label="What the strip varies">
			<button class="small" aria-pressed=${of === 'pace'} onClick=${() => show('pace')}>By pace</button>
			<button class="small" aria-pressed=${of === 'height'} onClick=${() => show('height')}>By height</button>
		</span>
	</span>`;
}

/** The server's picture, and the handle over it. */
function Ruler() {
	const place = useRef(/** @type {HTMLDivElement | null} */ (null));
	useEffect(() => {
		const element = place.current;
		if (!element) return;
		const measure = () => (stripWidth.value = element.clientWidth / magnified.value);
		const watch = new ResizeObserver(measure);
		watch.observe(element);
		const unwatch = effect(() => void measure());
		return () => {
			watch.disconnect();
			unwatch();
		};
	}, []);
	useLayoutEffect(() => {
		const text = strip.value?.svg;
		if (!text) return;
		const picture = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement;
		picture.setAttribute('aria-hidden', 'true'); // the handle says the same
		picture.removeAttribute('role');
		place.current?.replaceChildren(document.adoptNode(picture));
		measureBands(place.current);
	}, [strip.value]);
	useLayoutEffect(
		() => markCurrent(place.current),
		[strip.value, stripIsOld.value, pace.value, settled.value],
	);
	const isMarked = strip.value?.svg.includes('id="strip-mark-');
	return html`<div class="ruler" data-marked=${isMarked ? '' : undefined} data-old=${stripIsOld.value ? '' : undefined}>
		<div class="ruler-picture" ref=${place}></div>
		<${StripHandle} />
	</div>`;
}
