// @ts-check
// Where a ball that is being moved can stand: it slides along other balls and cushions.
// The server's answer is the judge; this keeps the ball under the finger until it comes.

/**
 * @typedef {import('../state.js').Point} Point
 * @typedef {{ at: Point, radius: number }} Circle around a ball: no centre of the moved one inside [mm]
 * @typedef {{ left: number, bottom: number, right: number, top: number }} Bounds of a centre [mm]
 */

const ROUNDING = 1e-6; // a place found on a circle may lie a rounding inside it [mm]

/**
 * Plan distance between the centres of two touching balls on one bed: 2·√(R₁·R₂). [mm]
 * @param {number} radius
 * @param {number} other
 */
export const ballContact = (radius, other) =>
	radius === other ? 2 * radius : 2 * Math.sqrt(radius * other);

/**
 * Plan distance from a ball's centre to a nose line when they touch: R·√(1 − (h/R − 1)²). [mm]
 * @param {number} radius
 * @param {number} noseHeight
 */
export function noseContact(radius, noseHeight) {
	const aboveCentre = noseHeight / radius - 1;
	return radius * Math.sqrt(Math.max(1 - aboveCentre * aboveCentre, 0));
}

/** @param {Point} one @param {Point} two */
export const distance = (one, two) => Math.hypot(one[0] - two[0], one[1] - two[1]);

/**
 * The nearest free place: the place itself, its foot on a cushion, a point on a circle that
 * another ball keeps clear, or a crossing of two of these borders.
 * @param {Point} at
 * @param {Circle[]} circles
 * @param {Bounds | null} bounds
 * @returns {Point | null} null: there is no room
 */
export function nearestFree(at, circles, bounds) {
	const foot = clamped(at, bounds);
	if (isFree(foot, circles, bounds)) return foot;
	/** @type {Point | null} */
	let best = null;
	let least = Infinity;
	for (const place of candidates(at, circles, bounds)) {
		const away = distance(place, at);
		if (away < least && isFree(place, circles, bounds)) {
			best = place;
			least = away;
		}
	}
	return best;
}

/** @param {Point} at @param {Bounds | null} bounds @returns {Point} */
function clamped(at, bounds) {
	if (!bounds) return at;
	return [
		Math.min(Math.max(at[0], bounds.left), bounds.right),
		Math.min(Math.max(at[1], bounds.bottom), bounds.top),
	];
}

/** @param {Point} place @param {Circle[]} circles @param {Bounds | null} bounds */
export function isFree(place, circles, bounds) {
	const [x, y] = place;
	if (bounds && (x < bounds.left || x > bounds.right || y < bounds.bottom || y > bounds.top)) {
		return false;
	}
	return circles.every((one) => distance(place, one.at) >= one.radius - ROUNDING);
}

/**
 * @param {Point} at
 * @param {Circle[]} circles
 * @param {Bounds | null} bounds
 * @returns {Generator<Point>}
 */
function* candidates(at, circles, bounds) {
	if (bounds) {
		const { left, bottom, right, top } = bounds;
		yield [left, bottom];
		yield [left, top];
		yield [right, bottom];
		yield [right, top];
	}
	for (const [index, circle] of circles.entries()) {
		yield onCircle(at, circle);
		if (bounds) yield* onSides(circle, bounds);
		for (const other of circles.slice(index + 1)) yield* crossings(circle, other);
	}
}

/**
 * The circle's point nearest to a place; straight up the table from its very centre.
 * @param {Point} at @param {Circle} circle @returns {Point}
 */
export function onCircle(at, { at: [x, y], radius }) {
	const away = distance(at, [x, y]);
	if (away === 0) return [x, y + radius];
	return [x + (radius * (at[0] - x)) / away, y + (radius * (at[1] - y)) / away];
}

/** @param {Circle} circle @param {Bounds} bounds @returns {Generator<Point>} */
function* onSides({ at: [x, y], radius }, bounds) {
	for (const side of [bounds.left, bounds.right]) {
		const reach = radius ** 2 - (side - x) ** 2;
		if (reach < 0) continue;
		yield [side, y - Math.sqrt(reach)];
		yield [side, y + Math.sqrt(reach)];
	}
	for (const side of [bounds.bottom, bounds.top]) {
		const reach = radius ** 2 - (side - y) ** 2;
		if (reach < 0) continue;
		yield [x - Math.sqrt(reach), side];
		yield [x + Math.sqrt(reach), side];
	}
}

/** @param {Circle} one @param {Circle} two @returns {Generator<Point>} */
function* crossings({ at: [x, y], radius: r }, { at: [u, v], radius: s }) {
	const apart = Math.hypot(u - x, v - y);
	if (apart === 0 || apart > r + s || apart < Math.abs(r - s)) return;
	const along = (apart ** 2 + r ** 2 - s ** 2) / (2 * apart);
	const across = Math.sqrt(Math.max(r ** 2 - along ** 2, 0));
	const [ex, ey] = [(u - x) / apart, (v - y) / apart];
	for (const side of [across, -across]) {
		yield [x + along * ex - side * ey, y + along * ey + side * ex];
	}
}
