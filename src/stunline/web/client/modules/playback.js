// @ts-check
// Playback: the shot again in its own time, from the very polynomials that it was computed with.

import { computed, effect, html, signal, useEffect } from '../lib/view.js';
import { ballsDrawn } from './live.js';
import { settled } from './panel/settled.js';
import { placeAt } from './playback/motion.js';
import { held, hidden } from './state.js';

const SPEEDS = [
	[1, '1', 'real time'],
	[0.5, '½', 'half speed'],
	[0.25, '¼', 'quarter speed'],
];
const STILL_FOR = 900; // where motion is reduced each event stands so long [ms]

/** The moment that is shown; null: none, the balls stand where they stood. [s] */
export const playTime = signal(/** @type {number | null} */ (null));
export const playing = signal(false);
const speed = signal(1);

/** @typedef {{ at: import('./state.js').Point, motion: string } | null} Shown null: it is in a pocket */

/** Where every ball that moves at all is at that moment, and whether it slides or rolls. */
export const ballsPlayed = computed(() => {
	const time = playTime.value;
	const shot = settled.value;
	/** @type {Record<string, Shown>} */
	const places = {};
	if (time === null || !shot || hidden.value) return places;
	for (const [name, phases] of Object.entries(shot.phases)) {
		if (phases.length > 0) places[name] = placeAt(phases, time);
	}
	return places;
});

let frame = 0;
let timer = 0;

/** From where it stands, or from the strike when it has come to the end. */
export function play() {
	const shot = settled.value;
	if (!shot || hidden.value || shot.duration <= 0) return;
	if (playTime.value === null || playTime.value >= shot.duration) playTime.value = 0;
	playing.value = true;
	if (matchMedia('(prefers-reduced-motion: reduce)').matches) stepEvents();
	else run(performance.now());
}

export function pause() {
	cancelAnimationFrame(frame);
	clearTimeout(timer);
	playing.value = false;
}

/** The balls stand where they stood before the strike. */
export function rewind() {
	pause();
	playTime.value = null;
}

/** @param {number} before */
function run(before) {
	frame = requestAnimationFrame((now) => {
		const duration = settled.value?.duration ?? 0;
		const time = (playTime.value ?? 0) + (speed.value * Math.max(now - before, 0)) / 1000;
		playTime.value = Math.min(time, duration);
		if (time < duration) run(now);
		else pause();
	});
}

/** Where motion is reduced: a still picture of each event instead. */
function stepEvents() {
	timer = setTimeout(() => {
		const now = playTime.value ?? 0;
		const next = settled.value?.events.find((event) => event.time > now + 1e-6);
		if (!next) {
			pause();
			return;
		}
		playTime.value = next.time;
		stepEvents();
	}, STILL_FOR);
}

// Another shot, a hidden answer or a ball in the hand: nothing is played on.
effect(() => {
	void settled.value;
	if (hidden.value || held.value !== null || settled.value) rewind();
});

/** Play or pause; in class view also what shows the answer first. */
export function PlayButton() {
	const label = playing.value ? 'Pause' : 'Play';
	return html`<button class="play" disabled=${hidden.value || !settled.value} onClick=${() => (playing.value ? pause() : play())}>
		<svg viewBox="0 0 12 12" aria-hidden="true"><path d=${playing.value ? 'M2 1v10M9 1v10' : 'M2 1L11 6L2 11Z'} /></svg>${label}
	</button>`;
}

export function Playback() {
	useEffect(() => pause, []);
	const duration = settled.value?.duration ?? 0;
	const time = playTime.value ?? 0;
	const scrub = (/** @type {Event} */ event) => {
		pause();
		playTime.value = Number(/** @type {HTMLInputElement} */ (event.target).value);
	};
	return html`<div class="playback" role="group" aria-label="Playback">
		<${PlayButton} />
		<span class="scrubber">
			<${EventTicks} duration=${duration} />
			<input type="range" min="0" max=${duration} step="0.01" value=${time} disabled=${hidden.value}
				aria-label="Moment of the shot" aria-valuetext=${`${time.toFixed(2)} s: ${motionWords()}`} onInput=${scrub} />
		</span>
		<output class="small play-time">${time.toFixed(2)} s</output>
		<span class="speeds" role="group" aria-label="Speed">${SPEEDS.map(
			([
				value,
				sign,
				words,
			]) => html`<button class="small" aria-label=${`${sign}: ${words}`} title=${words}
				aria-pressed=${speed.value === value} onClick=${() => (speed.value = Number(value))}>${sign}</button>`,
		)}</span>
	</div>`;
}

/** @param {{ duration: number }} props */
function EventTicks({ duration }) {
	const events = hidden.value || duration <= 0 ? [] : (settled.value?.events ?? []);
	const at = (/** @type {number} */ time) => (100 * time) / duration;
	const marks = events.map((event) => `M${at(event.time).toFixed(2)} 0V10`).join('');
	return html`<svg class="event-ticks" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
		<path d=${marks} /></svg>`;
}

/** "white slides, black rolls" */
function motionWords() {
	const moving = Object.entries(ballsPlayed.value).filter(([, one]) => one && one.motion !== '');
	if (moving.length === 0) return 'at rest';
	const words = moving.slice(0, 3).map(([name, one]) => {
		const verb = { sliding: 'slides', rolling: 'rolls', spinning: 'spins' }[one?.motion ?? ''];
		return `${name.replace(/(\D)(\d+)$/, '$1 $2')} ${verb ?? 'moves'}`;
	});
	return words.join(', ') + (moving.length > 3 ? ` and ${moving.length - 3} more` : '');
}

/** Rings round moving balls: twin hairlines while it slides, one firm line while it rolls. */
export function MotionMarks() {
	const marks = Object.entries(ballsPlayed.value).flatMap(([name, one]) => {
		const radius = ballsDrawn.value[name]?.radius;
		if (!one || !radius || one.motion === '' || one.motion === 'spinning') return [];
		return [{ name, at: one.at, radius, slides: one.motion === 'sliding' }];
	});
	return html`<g class="motion-marks" aria-hidden="true">${marks.map(
		({
			name,
			at: [x, y],
			radius,
			slides,
		}) => html`<g key=${name} class=${slides ? 'slides' : 'rolls'}>
			<circle cx=${x} cy=${-y} r=${1.18 * radius} />
			${slides && html`<circle cx=${x} cy=${-y} r=${1.36 * radius} />`}
		</g>`,
	)}</g>`;
}
