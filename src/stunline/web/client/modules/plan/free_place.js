// @ts-check
// Where on the plan a small picture covers nothing: no ball, no line, no word.

const STEP = 16; // between places that are tried [px]
const EDGE = 10; // from the plan's frame [px]
const CLEAR = 6; // kept round what is drawn [px]
const SAMPLE = 12; // between points of a line that are looked at [px]

/**
 * @param {HTMLElement} element whose place is looked for, on the plan
 * @param {{ left: number, top: number } | null} now where it stands: kept while that is free
 * @returns {{ left: number, top: number } | null} from the plan's left and top [px]
 */
export function freePlace(element, now) {
	const frame = element.parentElement?.getBoundingClientRect();
	if (!frame || frame.width === 0) return now;
	const [width, height] = [element.offsetWidth, element.offsetHeight];
	const taken = takenPoints(frame);
	/** @param {{ left: number, top: number }} one */
	const covered = ({ left, top }) =>
		taken.filter(
			([x, y]) =>
				x > left - CLEAR && x < left + width + CLEAR && y > top - CLEAR && y < top + height + CLEAR,
		).length;
	const isInside = now && now.left + width < frame.width && now.top + height < frame.height;
	if (isInside && covered(now) === 0) return now;
	let [best, least] = [now, Infinity];
	for (const one of tried(frame, width, height)) {
		const count = covered(one);
		if (count < least) [best, least] = [one, count];
		if (count === 0) break;
	}
	return best;
}

/**
 * Along the bottom from the left, then along the top.
 * @param {DOMRect} frame @param {number} width @param {number} height
 */
function* tried(frame, width, height) {
	for (const top of [frame.height - height - EDGE, EDGE]) {
		for (let left = EDGE; left + width + EDGE <= frame.width; left += STEP) {
			yield { left, top };
		}
	}
}

/** Points of everything that is drawn. @param {DOMRect} frame @returns {[number, number][]} */
function takenPoints(frame) {
	/** @type {[number, number][]} */
	const points = [];
	for (const mark of document.querySelectorAll('#plan-drawing text, #plan-drawing circle')) {
		if (!mark.closest('defs')) points.push(...pointsOfBox(mark.getBoundingClientRect(), frame));
	}
	for (const line of document.querySelectorAll('#plan-drawing path')) {
		if (line instanceof SVGPathElement && !line.closest('defs')) {
			points.push(...pointsOfLine(line, frame));
		}
	}
	return points;
}

/** @param {DOMRect} box @param {DOMRect} frame @returns {Generator<[number, number]>} */
function* pointsOfBox(box, frame) {
	for (let x = box.left; x <= box.right + SAMPLE; x += SAMPLE) {
		for (let y = box.top; y <= box.bottom + SAMPLE; y += SAMPLE) {
			yield [Math.min(x, box.right) - frame.left, Math.min(y, box.bottom) - frame.top];
		}
	}
}

/** @param {SVGPathElement} line @param {DOMRect} frame @returns {Generator<[number, number]>} */
function* pointsOfLine(line, frame) {
	const matrix = line.getScreenCTM();
	if (!matrix) return;
	const length = line.getTotalLength();
	const pixels = length * Math.hypot(matrix.a, matrix.b);
	const steps = Math.min(Math.max(Math.ceil(pixels / SAMPLE), 1), 400);
	for (let step = 0; step <= steps; step += 1) {
		const on = line.getPointAtLength((length * step) / steps).matrixTransform(matrix);
		yield [on.x - frame.left, on.y - frame.top];
	}
}
