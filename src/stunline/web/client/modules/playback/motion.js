// @ts-check
// Where a ball is at a moment: place + velocity·t + acceleration·t²/2 of the phase it is in.

/**
 * @typedef {import('../state.js').Phase} Phase
 * @typedef {import('../state.js').Point} Point
 */

const AT_REST = 1; // mm/s; a ball whose last phase ends faster than that has fallen into a pocket

/**
 * @param {Phase[]} phases in the order of time, at least one
 * @param {number} time [s]
 * @returns {{ at: Point, motion: string } | null} null: it has fallen; motion "" at rest
 */
export function placeAt(phases, time) {
	const phase = phaseAt(phases, time);
	if (!phase) return { at: phases[0]?.place ?? [0, 0], motion: '' };
	if (time <= phase.end) return { at: along(phase, time), motion: phase.motion };
	const isLast = phase === phases.at(-1);
	if (isLast && speedAtEnd(phase) > AT_REST) return null;
	return { at: along(phase, phase.end), motion: '' };
}

/** The last phase that has begun; null before the first. @param {Phase[]} phases @param {number} time */
function phaseAt(phases, time) {
	let low = 0;
	let high = phases.length;
	while (low < high) {
		const middle = (low + high) >> 1;
		if ((phases[middle]?.start ?? Infinity) <= time) low = middle + 1;
		else high = middle;
	}
	return phases[low - 1] ?? null;
}

/** @param {Phase} phase @param {number} time @returns {Point} */
function along({ start, place, velocity, acceleration }, time) {
	const t = time - start;
	return [
		place[0] + velocity[0] * t + (acceleration[0] * t * t) / 2,
		place[1] + velocity[1] * t + (acceleration[1] * t * t) / 2,
	];
}

/** @param {Phase} phase */
function speedAtEnd({ start, end, velocity, acceleration }) {
	const t = end - start;
	return Math.hypot(velocity[0] + acceleration[0] * t, velocity[1] + acceleration[1] * t);
}
