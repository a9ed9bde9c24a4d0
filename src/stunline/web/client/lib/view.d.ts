// Types of the bundled library, for the checks in tools/client; the browser never asks for it.
import type { VNode } from 'preact';
export { Fragment, h, render } from 'preact';
export type { ComponentChildren, VNode } from 'preact';
export { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
export { batch, computed, effect, signal, untracked, useComputed, useSignal } from '@preact/signals';
export type { ReadonlySignal, Signal } from '@preact/signals';
export function html(strings: TemplateStringsArray, ...values: unknown[]): VNode;
