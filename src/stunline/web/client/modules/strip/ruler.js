// @ts-check
// Values and places on the strip's ruler.

import { signal } from '../../lib/view.js';
import { height, pace } from '../panel/settled.js';
import { strip, stripIsOld, stripOf } from '../state.js';

const BAND_HEIGHT = 42; // of the server's strip, of its own pixels

/** Where the bands stand in the picture, from its top. [px] */
export const bandRows = signal({ top: 52, bottom: 94 });

/** Learns from a new picture where its bands stand. @param {Element | null} picture */
export function measureBands(picture) {
	const whole = picture?.querySelector('svg');
	const base = whole?.querySelector('[id="strip-ruler-base"]');
	if (!whole || !base) return;
	const [outer, line] = [whole.getBoundingClientRect(), base.getBoundingClientRect()];
	const own = outer.width / widthOf(strip.value?.svg ?? '');
	const bottom = (line.top + line.bottom) / 2 - outer.top;
	bandRows.value = { top: bottom - BAND_HEIGHT * own, bottom };
}

/** Where a value stands, as a share of the picture's width. @param {number} value */
export function shareOf(value) {
	const shown = strip.value;
	if (!shown) return 0;
	const [left, right] = shown.ruler;
	const along = (value - shown.start) / (shown.end - shown.start);
	return (left + Math.min(Math.max(along, 0), 1) * (right - left)) / widthOf(shown.svg);
}

/** The value under that share of the picture's width. @param {number} share */
export function valueAt(share) {
	const shown = strip.value;
	if (!shown) return 0;
	const [left, right] = shown.ruler;
	const along = (share * widthOf(shown.svg) - left) / (right - left);
	return shown.start + Math.min(Math.max(along, 0), 1) * (shown.end - shown.start);
}

/** @param {string} svg its own width [px] */
function widthOf(svg) {
	return Number(/ width="([\d.]+)"/.exec(svg)?.[1] ?? 1);
}

/** The value that the strip varies, as it is set now. */
export const valueNow = () => (strip.value?.of === 'height' ? height.value : pace.value);

/** Whether the picture shows what is asked for: after a change of kind it comes a moment later. */
export const isRight = () => strip.value?.of === stripOf.value;

/** The band that holds a value; none while the bands are of an earlier shot. @param {number} value */
export function bandAt(value) {
	if (stripIsOld.value) return null;
	return strip.value?.bands.find((band) => value >= band.start && value < band.end) ?? null;
}

/** The value in the middle of the next band that way. @param {number} value @param {1 | -1} way */
export function nextBand(value, way) {
	const bands = strip.value?.bands ?? [];
	const at = bands.findIndex((band) => value >= band.start && value < band.end);
	const next = bands[at + way];
	return next ? (next.start + next.end) / 2 : value;
}

const CLEAR = 7; // between the handle's line and words [px]

/**
 * Words that the handle's line would cross stand beside it, on the side with more room.
 * @param {Element} picture @param {Element} words @param {{ start: number, end: number }} band
 */
function moveAside(picture, words, band) {
	words.removeAttribute('transform');
	const [outer, box] = [picture.getBoundingClientRect(), words.getBoundingClientRect()];
	const across = (/** @type {number} */ value) => outer.left + shareOf(value) * outer.width;
	const line = across(valueNow());
	if (line < box.left - CLEAR || line > box.right + CLEAR) return;
	const [before, after] = [line - across(band.start), across(band.end) - line];
	if (Math.max(before, after) < box.width + 2 * CLEAR) return; // no room on either side
	const by = after >= before ? line + CLEAR - box.left : line - CLEAR - box.right;
	const svg = words.closest('svg');
	const unit = (svg?.viewBox.baseVal.width ?? 1) / outer.width;
	words.setAttribute('transform', `translate(${(by * unit).toFixed(2)} 0)`);
}

/** Sets the band apart in which the value stands. @param {Element | null} picture */
export function markCurrent(picture) {
	if (!picture) return;
	for (const one of picture.querySelectorAll('.is-current')) {
		one.classList.remove('is-current');
		one.removeAttribute('transform');
	}
	const band = bandAt(valueNow());
	if (!band || !strip.value) return;
	const number = strip.value.bands.indexOf(band) + 1;
	const words = picture.querySelector(`[id="strip-band-${number}-words"]`);
	picture.querySelector(`[id="strip-band-${number}"]`)?.classList.add('is-current');
	words?.classList.add('is-current');
	if (words?.getAttribute('y') && bandRows.value.top <= placeOf(words))
		moveAside(picture, words, band);
}

/** How far down words stand in the picture: those above the bands are out of the line's way. [px] @param {Element} words */
function placeOf(words) {
	const whole = words.closest('svg');
	return whole ? words.getBoundingClientRect().top - whole.getBoundingClientRect().top : 0;
}
