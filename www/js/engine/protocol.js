// The shapes that cross between the page, the worker and the Rust core. Metres in the table
// frame, degrees, seconds; www/schema/ and the crate's docs say what each of them means.

/** @typedef {'head' | 'foot' | 'right' | 'left'} Rail */
/** @typedef {[number, number]} Pair */
/** @typedef {{ x: number, y: number }} Place */
/** @typedef {Place & { rail?: Rail | null }} CallPoint */
/** @typedef {CallPoint & { words: string }} Point A point of a call, and how it is said. */
/** @typedef {{ points: CallPoint[], stop: Place }} Call */

/**
 * What one item asks. Only the core makes and reads items; the page keeps them whole.
 * @typedef {object} Item
 * @property {number} version
 * @property {string} kind
 * @property {number} model
 * @property {number} level
 * @property {number | null} [seed]
 * @property {object} shot
 */

/** @typedef {{ level: number, name: string, words: string }} LevelInfo */
/** @typedef {{ id: string, x: number, y: number, words: string }} Ball */

/**
 * @typedef {object} Table
 * @property {number} length
 * @property {number} width
 * @property {number} touch Centre of a ball to the nose that it touches.
 * @property {number} ballRadius
 * @property {Pair[]} outline Along noses and facings, anticlockwise.
 * @property {{ id: string, x: number, y: number, r: number }[]} pockets
 * @property {Pair[]} sights
 * @property {number} rail Width of the rail behind the nose line.
 */

/**
 * @typedef {object} Aim
 * @property {Pair[]} path
 * @property {Place} ghost
 * @property {string} first
 * @property {string | null} pocket
 * @property {Pair[]} pocketPath
 */

/**
 * @typedef {object} Stroke
 * @property {number} side
 * @property {number} height
 * @property {number} elevation
 * @property {number} speed
 * @property {number} lengths
 * @property {{ side: number, height: number }} tips
 * @property {string} words
 */

/**
 * @typedef {object} Question
 * @property {Item} item
 * @property {string} task
 * @property {{ level: number, name: string }} level
 * @property {string | null} deal
 * @property {string} card
 * @property {number} model
 * @property {string[]} advice
 * @property {Table} table
 * @property {Ball[]} balls
 * @property {Aim} aim
 * @property {Stroke} stroke
 */

/** @typedef {{ kind: 'arc', centre: Pair, radius: number, from: number, to: number, text: string }} ArcDimension */
/** @typedef {{ kind: 'line', from: Pair, to: Pair, text: string }} LineDimension */
/** @typedef {ArcDimension | LineDimension} Dimension */
/** @typedef {{ id: string, label: string, text: string, spoken: string, dimension: Dimension | null }} GradeLine */
/** @typedef {{ mark: number, lines: GradeLine[], sentence: string }} Grade */
/** @typedef {{ id: string, samples: Float64Array, pocketedAt: number | null }} Track Samples are t, x, y in turn. */

/**
 * @typedef {object} Result
 * @property {number} duration
 * @property {Track[]} tracks
 * @property {number} contactTime
 * @property {Pair[]} path
 * @property {(Place & { rail: string, time: number })[]} touches
 * @property {Place & { pocket: string | null }} stop
 * @property {{ from: Pair, to: Pair }} tangent
 * @property {(Place & { words: string }) | null} slideEnd
 * @property {Grade} grade
 * @property {{ call: Call, grade: Grade } | null} sender
 */

/**
 * What the page may ask the core, by the name of the exported function.
 * @typedef {object} Calls
 * @property {() => LevelInfo[]} levels
 * @property {() => number} freshSeed
 * @property {(request: { level: number, seed: number }) => Question} deal
 * @property {(item: Item) => Question} openItem
 * @property {(text: string) => { question: Question, sealed: string | null }} openLink
 * @property {(request: { item: Item, call?: Call }) => string} makeLink
 * @property {(request: { item: Item, x: number, y: number, reach: number, snap: boolean }) => Point} snap
 * @property {(request: { item: Item, rail?: Rail, along: number, across?: number }) => Point} pointAt
 * @property {(request: { item: Item, call: Call, sealed?: string }) => Result} grade
 */

/** @typedef {{ name: string, message: string, field?: string, rule?: string }} ErrorData */

/**
 * To the worker: first how to start, then one request after another.
 * @typedef {{ start: true, module: WebAssembly.Module | null }
 *   | { id: number, method: keyof Calls, request: unknown }} ToWorker
 */

/**
 * From the worker: that it is ready (with the compiled module, for the next worker), that it cannot
 * start, or the reply to one request. After a fatal error the module is not to be trusted again.
 * @typedef {{ ready: true, module: WebAssembly.Module | null }
 *   | { ready: false, error: ErrorData }
 *   | { id: number, value: unknown }
 *   | { id: number, error: ErrorData, fatal: boolean }} FromWorker
 */

export {};
