// The shapes that cross between the page, the worker and the Rust core: the core's own types, as
// scripts/build writes them, under the names that the page uses. Metres in the table frame, degrees, seconds.

/** @typedef {typeof import('../../pkg/leaveline.js')} Core */

/** @typedef {import('../../pkg/leaveline.js').RailName} Rail */
/** @typedef {import('../../pkg/leaveline.js').Point} Pair */
/** @typedef {{ x: number, y: number }} Place */
/** @typedef {import('../../pkg/leaveline.js').CallPoint} CallPoint */
/** @typedef {import('../../pkg/leaveline.js').PlacedPoint} Point A point of a call, and how it is said. */
/** @typedef {import('../../pkg/leaveline.js').Call} Call */
/** @typedef {import('../../pkg/leaveline.js').Item} Item Only the core makes and reads items; the page keeps them whole. */
/** @typedef {import('../../pkg/leaveline.js').LevelInfo} LevelInfo */
/** @typedef {import('../../pkg/leaveline.js').Question} Question */
/** @typedef {Question['table']} Table */
/** @typedef {Question['balls'][number]} Ball */
/** @typedef {Question['aim']} Aim */
/** @typedef {Question['stroke']} Stroke */
/** @typedef {import('../../pkg/leaveline.js').Result} Result */
/** @typedef {import('../../pkg/leaveline.js').Why} Why */
/** @typedef {Why['replays'][number]} Replay */
/** @typedef {Pick<Result, 'contactTime' | 'path' | 'touches' | 'stop' | 'tangent' | 'slideEnd'>} Way The cue ball's path from its first ball on. */
/** @typedef {import('../../pkg/leaveline.js').Shot} Shot */
/** @typedef {Shot['stroke']} Struck A stroke as the core reads it: degrees, m/s, fractions of the radius. */
/** @typedef {import('../../pkg/leaveline.js').PocketName} PocketName */
/** @typedef {import('../../pkg/leaveline.js').Zone} Zone */
/** @typedef {import('../../pkg/leaveline.js').Demand} Demand */
/** @typedef {import('../../pkg/leaveline.js').LeaveItem} LeaveItem */
/** @typedef {import('../../pkg/leaveline.js').LeaveQuestion} LeaveQuestion */
/** @typedef {import('../../pkg/leaveline.js').LeaveAnswer} LeaveAnswer */
/** @typedef {import('../../pkg/leaveline.js').LeaveResult} LeaveResult */
/** @typedef {import('../../pkg/leaveline.js').HandInfo} HandInfo */
/** @typedef {import('../../pkg/leaveline.js').Margins} Margins */
/** @typedef {import('../../pkg/leaveline.js').BestRequest} BestRequest */
/** @typedef {import('../../pkg/leaveline.js').BestProgress} BestProgress */
/** @typedef {import('../../pkg/leaveline.js').MapRequest} MapRequest */
/** @typedef {import('../../pkg/leaveline.js').MapProgress} MapProgress */
/** @typedef {import('../../pkg/leaveline.js').GuideRequest} GuideRequest */
/** @typedef {import('../../pkg/leaveline.js').GuideProgress} GuideProgress */
/** @typedef {import('../../pkg/leaveline.js').ClearItem} ClearItem */
/** @typedef {import('../../pkg/leaveline.js').AnyItem} AnyItem */
/** @typedef {import('../../pkg/leaveline.js').ClearQuestion} ClearQuestion */
/** @typedef {import('../../pkg/leaveline.js').ClearPlayed} ClearPlayed */
/** @typedef {import('../../pkg/leaveline.js').ClearPlan} ClearPlan */
/** @typedef {import('../../pkg/leaveline.js').ClearChoice} ClearChoice */
/** @typedef {import('../../pkg/leaveline.js').ClearStep} ClearStep */
/** @typedef {import('../../pkg/leaveline.js').Called} Called */
/** @typedef {import('../../pkg/leaveline.js').Runs} Runs */
/** @typedef {import('../../pkg/leaveline.js').EyeItem} EyeItem */
/** @typedef {import('../../pkg/leaveline.js').EyeQuestion} EyeQuestion */
/** @typedef {import('../../pkg/leaveline.js').EyeHandle} EyeHandle */
/** @typedef {import('../../pkg/leaveline.js').EyeResult} EyeResult */
/** @typedef {import('../../pkg/leaveline.js').EyeAnswered} EyeAnswered */
/** @typedef {import('../../pkg/leaveline.js').EyeRound} EyeRound */
/** @typedef {import('../../pkg/leaveline.js').EyeSummary} EyeSummary */
/** @typedef {import('../../pkg/leaveline.js').SetUpSpot} SetUpSpot */
/** @typedef {import('../../pkg/leaveline.js').ItemSet} ItemSet */
/** @typedef {import('../../pkg/leaveline.js').SetEntry} SetEntry */
/** @typedef {import('../../pkg/leaveline.js').SetMark} SetMark */
/** @typedef {import('../../pkg/leaveline.js').FoundSet} FoundSet */
/** @typedef {import('../../pkg/leaveline.js').ShownItem} ShownItem */
/** @typedef {import('../../pkg/leaveline.js').Tally} Tally */
/** @typedef {import('../../pkg/leaveline.js').DailySet} DailySet */
/** @typedef {import('../../pkg/leaveline.js').DailyResult} DailyResult */
/** @typedef {import('../../pkg/leaveline.js').RecordRequest} LogRequest */
/** @typedef {import('../../pkg/leaveline.js').LogRecord} LogRecord */
/** @typedef {import('../../pkg/leaveline.js').Kept} Kept */
/** @typedef {import('../../pkg/leaveline.js').LogSummary} LogSummary */
/** @typedef {import('../../pkg/leaveline.js').LogSkill} LogSkill */
/** @typedef {import('../../pkg/leaveline.js').LogPlots} LogPlots */
/** @typedef {import('../../pkg/leaveline.js').LogNext} LogNext */
/** @typedef {import('../../pkg/leaveline.js').Try} Try */
/** @typedef {import('../../pkg/leaveline.js').Trial} Trial */
/** @typedef {import('../../pkg/leaveline.js').Board} Board */
/** @typedef {Result['tracks'][number]} Track Samples are t, x, y in turn. */
/** @typedef {import('../../pkg/leaveline.js').Grade} Grade */
/** @typedef {Grade['lines'][number]} GradeLine */
/** @typedef {import('../../pkg/leaveline.js').Dimension} Dimension */
/** @typedef {Extract<Dimension, { kind: 'arc' }>} ArcDimension */
/** @typedef {Extract<Dimension, { kind: 'line' }>} LineDimension */

/**
 * What the page may ask the core, by the name of the exported function.
 * @typedef {Pick<Core, 'levels' | 'freshSeed' | 'dealEye' | 'openEye' | 'markEye' | 'gradeEye' | 'sumEye' | 'deal' | 'openItem' | 'openLink' | 'makeLink' | 'snap' | 'pointAt' | 'zoneAt' | 'grade' | 'why' | 'modelVersion' | 'play' |
 *   'speedScale' | 'tries' | 'margins' | 'trial' | 'aims' | 'board' | 'placeBall' | 'removeBall' | 'mirror' |
 *   'dealClear' | 'openClear' | 'playClear' | 'sumOfRuns' | 'decided' | 'hands' | 'dealLeave' | 'openLeave' | 'gradeLeave' | 'mapScale' | 'code' | 'setUp' |
 *   'openSet' | 'setText' | 'showItem' | 'tallySet' | 'makeSetLink' | 'openSetLink' | 'dailySet' | 'dailyResult' |
 *   'logRecord' | 'logRead' | 'logSummary' | 'logPlots' | 'logNext'>} Calls
 */

/** What of it the small package has, too. @typedef {Extract<keyof Calls, keyof typeof import('../../pkg/read.js')>} ReadCall */

/** @typedef {{ name: string, message: string, field?: string, rule?: string }} ErrorData */

/**
 * Long jobs, by the name of the exported class: made with a request, it is told `step(plays)` until it replies that all of it
 * is done. What a worker that shares a job tells the others comes as numbers.
 * @typedef {{ BestSearch: { request: BestRequest, progress: BestProgress }, ChanceMap: { request: MapRequest, progress: MapProgress },
 *   ClearGuide: { request: GuideRequest, progress: GuideProgress } }} Jobs
 */

/** What a job that the worker keeps is to draw. @typedef {{ job: 'ChanceMap', chances: Float64Array, level: number }} Drawing */

/** What comes of it: the picture, and the line of the chance `level` as path data. @typedef {{ picture: ImageBitmap, line: string }} Drawn */

/**
 * To the worker: first how to start, then one request after another, jobs (one that workers share with the ways to the
 * others), and which job is given up.
 * @typedef {{ start: true, module: WebAssembly.Module | null }
 *   | { id: number, method: keyof Calls, request: unknown }
 *   | { id: number, job: keyof Jobs, request: unknown, peers: (MessagePort | null)[] }
 *   | { id: number, drawing: Drawing }
 *   | { cancel: number }} ToWorker
 */

/**
 * From the worker: that it is ready (with the compiled module, for the next worker), that it cannot
 * start, or the reply to one request. After a fatal error the module is not to be trusted again.
 * @typedef {{ ready: true, module: WebAssembly.Module | null }
 *   | { ready: false, error: ErrorData }
 *   | { id: number, value: unknown }
 *   | { id: number, progress: unknown }
 *   | { id: number, error: ErrorData, fatal: boolean }} FromWorker
 */

export {};
