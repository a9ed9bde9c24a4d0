// @ts-check
// What parts of the page that are loaded later put onto the plan.

import { signal } from '../../lib/view.js';

/** @typedef {() => import('../../lib/view.js').VNode | null} Part */

/** Below the drawing, whose balls cover it. */
export const under = signal(/** @type {Part[]} */ ([]));
/** Below the handles, over the drawing. */
export const below = signal(/** @type {Part[]} */ ([]));
/** Over the handles. */
export const above = signal(/** @type {Part[]} */ ([]));
