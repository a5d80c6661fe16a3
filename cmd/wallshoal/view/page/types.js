// What the server says, as types only.

/** @typedef {[number, number]} Point mm on a face, y up */
/** @typedef {{file: string, line: number, field: string, wrong: string, fix: string}} Fault */
/** @typedef {{piece: number, other: number, wrong: string, back: string, fix: string, hole: boolean}} Flaw back: what is wrong, as it is said of the other */
/** @typedef {{piece: number, severity: 'stop'|'ask'|'note', code: string, heading: string, text: string, new: boolean, decided: boolean}} Warned a caution that speaks of a piece */
/** @typedef {{flaws: Flaw[], cautions: Warned[], rid: Warned[], past: number}} Said of pieces; past: of so many more no cautions are told */
/** @typedef {{index: number, title: string, wall: string, face: string, used: boolean, ceiling: boolean, upright?: boolean, frame: [number, number, number, number], outline: Point[][], things: Thing[]}} Face */
/** @typedef {{name: string, outline: Point[]}} Thing what is on a face, like a window or a light switch */
/** @typedef {{index: number, code: string, name: string, colour: string, outline: Point[], holes: Point[]}} Kind outline about the centre, heading straight up */
/** @typedef {{id: number, kind: number, face: number, at: Point, heading: number, locked: boolean, up?: boolean}} Piece up: it hangs; heading in degrees clockwise from straight up */
/** @typedef {{face: number, at: Point}} Spot */
/**
 * @typedef {object} Knob
 * @property {string} id the field of the plan
 * @property {string} group
 * @property {string} label
 * @property {'whole'|'number'|'length'|'percent'|'degrees'|'choice'|'switch'|'place'|'path'|'text'} type
 * @property {string} value as the plan writes it
 * @property {string} usual what holds where the plan says nothing; empty if it must
 * @property {number|null} number in the plan's units, per cent or degrees; of a whole number past 2^53 not exact
 * @property {number} min
 * @property {number} max
 * @property {number} step
 * @property {string} unit
 * @property {string[]|null} choices
 * @property {boolean} given
 * @property {boolean} [needed] a plan cannot do without
 * @property {string} help
 * @property {string} [remark] what is to be known of it in the work as it is
 * @property {Spot[]} places
 */
/**
 * @typedef {object} State
 * @property {string} run of the program: another whenever it is started anew
 * @property {number} revision
 * @property {string} title
 * @property {string} file
 * @property {string} layoutFile
 * @property {string} units
 * @property {boolean} saved
 * @property {string[]} [unsaved] files that do not hold what is shown
 * @property {boolean} undo
 * @property {boolean} redo
 * @property {''|'changed'|'gone'|'faults'} outside
 * @property {string} outsideFile what that is of
 * @property {Fault[]} faults
 * @property {string} seed a whole number, which can be larger than a number of JavaScript is exact for
 * @property {boolean} laid just as the plan comes to it round what is locked; nothing was moved since
 * @property {number} pieceCount
 * @property {number} holeCount
 * @property {string} fingerprint
 * @property {Face[]} faces
 * @property {Kind[]} kinds
 * @property {Piece[]} pieces
 * @property {Flaw[]} flaws
 * @property {Knob[]} knobs
 * @property {string[]} options
 * @property {{up: number, told: string, moved: string, unread: string}} [hanging] what hangs, in words
 */
/** @typedef {{knobs: string[], lines: number, pieces: number[]}} Changes knobs that were turned, in words, how many lines are otherwise besides, and which pieces lie otherwise */
/** @typedef {{files: string[], how: string, faults: Fault[], here: Changes, there: Changes, lost: string[], both: boolean, why: string, seen: string}} Difference what was changed here and by another program */
/** @typedef {{severity: string, code: string, wall: string, text: string, source: string, acknowledged: boolean}} Caution */
/** @typedef {{wall: string, face: string, pieces: number, holes: number, coverage: number}} WallFigures */
/**
 * @typedef {object} Figures
 * @property {number} revision
 * @property {number} pieces
 * @property {number} holes
 * @property {WallFigures[]} walls
 * @property {number} coverage from 0 to 1
 * @property {number} sheets with holes
 * @property {number} keyPages beside them in the hole map
 * @property {string} paper
 * @property {{stop: number, care: number, note: number}} cautions
 * @property {number} pressing
 * @property {Caution[]} cautionList
 * @property {string} hours
 * @property {string} cost
 * @property {string} lastStart
 * @property {boolean|null} inTime
 * @property {string[]} missing
 * @property {string[]} options
 */

export {};
