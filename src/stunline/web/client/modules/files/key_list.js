// @ts-check
// Every key that the page knows, by where the keyboard's focus is.

/** @type {[string, [string, string][]][]} */
export const KEYS = [
	[
		'Anywhere',
		[
			['Tab', 'to the next ball, control or button'],
			[
				'Ctrl + Z',
				'undo; puts a number back that is being typed; in a field of words, its letters',
			],
			['Ctrl + Y', 'redo; Ctrl + Shift + Z too'],
			['Ctrl + S', 'save now; it also saves by itself'],
			['Ctrl + O', 'the positions'],
			['Escape', 'closes what is open, puts a number back, leaves class view'],
			['?', 'these keys'],
		],
	],
	[
		'On a ball',
		[
			['Arrows', '1 mm; with Shift 10 mm'],
			['Enter', 'pots it'],
			['Page up, down', 'to another ball'],
			['Delete', 'takes it off the table'],
			['Alt + drag', 'past spots, balls and cushions without coming to them'],
		],
	],
	[
		'On the plan',
		[
			['+ and −', 'nearer, further'],
			['0', 'the whole shot, as large as fits'],
			['Enter', 'on a pocket: pots into it'],
			['Arrows', 'on the aim’s ring: 0.05°; with Shift 0.5°'],
		],
	],
	[
		'On the white’s face',
		[
			['Arrows', '0.5 mm; with Shift 2 mm'],
			['Page up, down', '2 mm'],
			['Home, End', 'as low, as high as it can be struck'],
		],
	],
	[
		'On the arrival',
		[
			['Arrows', '0.05 of the spin: 1 rolls, 0 is stun, below 0 is screw'],
			['Page up, down', '0.2'],
		],
	],
	[
		'On the strip',
		[
			['Arrows', '0.02 m/s or 0.1 mm; with Shift five times that'],
			['Page up, down', 'the middle of the next band'],
			['Home, End', 'to its ends'],
		],
	],
	[
		'On a guess of the class',
		[
			['Arrows', 'move it'],
			['Delete', 'takes it away'],
		],
	],
	['Where a table is gauged', [['Arrows', 'on a mark or in a field: 1 mm; with Shift 10 mm']]],
];
