// What the page's modules may use of preact, htm and signals; bundle_library.mjs makes one file of it.
import { computed, effect, signal, untracked, batch, useComputed, useSignal } from '@preact/signals';
import htm from 'htm';
import { h, render, Fragment } from 'preact';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';

export const html = htm.bind(h);
export {
	batch,
	computed,
	effect,
	Fragment,
	h,
	render,
	signal,
	untracked,
	useComputed,
	useEffect,
	useLayoutEffect,
	useRef,
	useSignal,
};
