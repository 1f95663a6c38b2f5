/** Metres in the table frame (origin: head-right nose corner; x toward the foot, y toward the left rail). */
export type Point = [x: number, y: number];
export type TableSize = "nine-foot" | "eight-foot" | "seven-foot";
export type RailName = "head" | "foot" | "right" | "left";
export type PocketName = "head-right" | "head-left" | "foot-right" | "foot-left" | "side-right" | "side-left";

/** One kind of pocket: metres and degrees. Given whole or not at all. */
export interface PocketShape { mouth: number; cutAngle: number; shelf: number; facing: number; holeRadius: number }

/** A named size, and whatever differs from its defaults. */
export interface Table {
  size: TableSize;
  length?: number; width?: number; ballRadius?: number; ballMass?: number; gravity?: number;
  slidingFriction?: number; rollingFriction?: number; spinDecay?: number;
  ballRestitution?: number; cushionRestitution?: number; cushionFriction?: number;
  noseHeight?: number; squirtMassRatio?: number;
  ballFriction?: { floor: number; range: number; decay: number };
  cornerPocket?: PocketShape; sidePocket?: PocketShape;
}

/** Degrees, m/s, and fractions of the ball's radius. */
export interface Stroke { azimuth: number; elevation: number; speed: number; side: number; height: number }

/** See schema/shot.schema.json. */
export interface Shot { version: 1; table: Table; balls: { id: string; x: number; y: number }[]; stroke: Stroke }

export type ShotEvent = { t: number; ball: string; x: number; y: number } & (
  | { kind: "strike" | "roll" | "stop" }
  | { kind: "contact"; with: string }
  | { kind: "cushion"; with: RailName | PocketName }
  | { kind: "pocketed"; with: PocketName }
);
export type BallEnd =
  | { state: "rest" | "moving"; id: string; x: number; y: number }
  | { state: "pocketed"; id: string; pocket: PocketName };

/** See schema/outcome.schema.json. */
export interface Outcome {
  version: 1; duration: number; events: ShotEvent[]; balls: BallEnd[];
  paths: Record<string, [t: number, x: number, y: number][]>;
}

/** Five numbers a stroke, as in a shot: azimuth, elevation, speed, side, height. At most 4096 strokes. */
export type Strokes = Float64Array;
/**
 * Three numbers for each ball in the shot's order, stroke by stroke: x, y, and the pocket it fell into (0 head-right,
 * 1 head-left, 2 foot-right, 3 foot-left, 4 side-right, 5 side-left), or -1 at rest, -2 still moving.
 * A ball that fell is told at the middle of the hole.
 */
export type Ends = Float64Array;

/** See schema/item.schema.json. */
export interface Item { version: 1; kind: "read"; model: number; level: number; seed?: number | null; shot: Shot }
export interface CallPoint { x: number; y: number; rail?: RailName | null }

/** See schema/call.schema.json. */
export interface Call { points: CallPoint[]; stop: { x: number; y: number } }

/** A call goes along with an item of Read, an answer with one of Leave. */
export type LinkRequest = { item: AnyItem; call?: Call | null; answer?: LeaveAnswer | null };

/** How much is taken of what a player types and chooses. */
export interface Limits {
  longestTitle: number; longestNote: number; mostEntries: number; mostRails: number; mostPoints: number;
  rotation: number[]; group: number[]; tables: TableSize[];
}
export interface LevelInfo { level: number; name: string; words: string }
export interface HandInfo { id: string; name: string; words: string }
/** A grid over all places of the cue ball, for the next ball `ball`; of its rows every `of`-th, from `share` on. */
export interface MapRequest {
  item: LeaveItem; ball: string; hand: string; columns: number; rows: number; pocket?: PocketName; share: number; of: number;
  proved: boolean;
}
/** Cells are numbered row by row; a chance is not a number where no cue ball can lie. */
export interface MapProgress { done: number; cells: Uint32Array; chances: Float64Array }
export interface DealRequest { level: number; seed: number; size?: TableSize }
/** An item that came by link; only one of Read does not tell its kind. */
export type OpenedLink = OpenedRead | OpenedLeave | OpenedClear;
export interface OpenedRead { kind?: undefined; question: Question; sealed: string | null }
/** `sealed` is handed on unread to `gradeLeave`. */
export interface OpenedLeave { kind: "leave"; question: LeaveQuestion; sealed: string | null }
export interface OpenedClear { kind: "clear"; question: ClearQuestion }
export interface SnapRequest { item: Item | LeaveItem; x: number; y: number; reach: number; snap: boolean }
/** On a rail `along` is its diamond; on the cloth `along` counts from the head, `across` from the right. */
export interface PointRequest { item: Item | LeaveItem; rail?: RailName; along: number; across?: number }
/** The middle in diamonds, half the length and half the width in `measure`, degrees from +x. */
export interface ZoneRequest {
  item: Item | LeaveItem; along: number; across: number; long: number; wide: number; measure: "cm" | "balls"; turn: number;
}
export interface PlacedPoint { x: number; y: number; rail?: RailName; words: string }
export interface GradeRequest { item: Item; call: Call; sealed?: string | null }

/** What is shown of an item. */
export interface Question {
  item: Item; task: string; level: LevelInfo; deal: string | null; card: string; model: number; advice: string[];
  /** What must be said of the item before it is played: that an older version of the model made it. */
  notice: string | null;
  table: {
    length: number; width: number; touch: number; ballRadius: number; outline: Point[];
    pockets: { id: PocketName; x: number; y: number; r: number }[]; sights: Point[]; rail: number;
  };
  balls: { id: string; x: number; y: number; words: string }[];
  aim: { path: Point[]; ghost: { x: number; y: number }; first: string; pocket: PocketName | null; pocketPath: Point[] };
  stroke: {
    side: number; height: number; elevation: number; speed: number; lengths: number; miscue: number;
    tips: { side: number; height: number }; words: string;
  };
}

/** Degrees anticlockwise from +x, the shorter way from the called to the real direction; or from the called to the real place. */
export type Dimension =
  | { kind: "arc"; centre: Point; radius: number; from: number; to: number; text: string }
  | { kind: "line"; from: Point; to: Point; text: string };
export interface Grade {
  mark: number; sentence: string;
  lines: { id: string; label: string; text: string; spoken: string; dimension: Dimension | null }[];
}

/** What came of a call; samples are triples of t, x, y. */
export interface Result {
  duration: number; contactTime: number; path: Point[];
  tracks: { id: string; samples: Float64Array; pocketedAt: number | null }[];
  touches: { x: number; y: number; rail: RailName | PocketName; time: number }[];
  stop: { x: number; y: number; pocket: PocketName | null };
  tangent: { from: Point; to: Point };
  slideEnd: { x: number; y: number; words: string } | null;
  grade: Grade; sender: { call: Call; grade: Grade } | null;
}

export interface WhyRequest { item: Item | LeaveItem }

/** The shot again from the contact on with one thing changed; the one that matters most comes first. Nothing where no ball is met. */
export interface Why {
  first: string | null;
  facts: { label: string; text: string }[];
  replays: {
    id: "side" | "roll" | "throw" | "mirror"; label: string; text: string; sentence: string; differs: boolean;
    path: Point[]; objectPath: Point[]; pocket: PocketName | null; dimension: Dimension | null;
  }[];
}

/** An ellipse: its middle, whole length and width (m), and the direction of its length (degrees from +x). */
export interface Zone { x: number; y: number; long: number; wide: number; turn: number }
/** What is asked of a shot. */
export interface Demand {
  on: string; pocket?: PocketName | null; next?: string | null; rails?: RailName[] | null; zone?: Zone | null;
}
/** See schema/item.schema.json. */
export interface LeaveItem {
  version: 1; kind: "leave"; model: number; level: number; seed?: number | null; shot: Shot; demand: Demand;
}

/** A stroke being tried; aimed at `demand.pocket`, else at the best pocket, if `aim`. */
export interface TrialRequest { item: LeaveItem; aim: boolean }
/**
 * How one ball is set up on a real table: diamonds from the head and from the right, centimetres from the two nose lines to
 * its centre, and how a player finds it.
 */
export interface SetUpSpot { ball: string; diamonds: [along: number, across: number]; centimetres: [along: number, across: number]; words: string }
export interface BoardRequest { item: LeaveItem }
/** `ball` is "cue" or a number as a text; `add` puts a new one on the table. */
export interface PlaceRequest { item: LeaveItem; ball: string; x: number; y: number; snap: boolean; add?: boolean }
export interface RemoveRequest { item: LeaveItem; ball: string }

/** Directions that pot, degrees from the aim: `low` to its right, not positive. */
export interface PotWindow { low: number; high: number }
export interface CueStop { x: number; y: number; pocket: PocketName | null }

/** `item` as it was played: turned if aimed, the cue lifted as needed. `refusal` says why there is no pot. */
export interface Trial {
  item: LeaveItem; task: string; balls: Question["balls"]; refusal: string | null; pocket: PocketName | null; window: PotWindow | null;
  duration: number; contactTime: number | null; ghost: { x: number; y: number } | null; first: string | null; cut: number;
  stop: CueStop; words: string; isMet: boolean; isLifted: boolean; reach: { needsRest: boolean; words: string };
  stroke: Question["stroke"]; tracks: Result["tracks"];
}
export interface Board { card: string; table: Question["table"] }
export interface ChangedItem { item: LeaveItem }

/** A way to pot the ball, `rail` first if named; `right` and `left` are the two ends of the window, a tenth of it inside. */
export interface PotWay {
  rail: RailName | null; azimuth: number; window: PotWindow;
  right: { azimuth: number; departure: number; stop: CueStop }; left: { azimuth: number; departure: number; stop: CueStop };
}
export interface PocketAim {
  pocket: PocketName; cut: number; refusal: string | null; ballFirst: PotWay | null; cushionFirst: PotWay[];
}

/** `hand` is the id of one of the hands. */
export interface MarginsRequest { item: LeaveItem; hand: string }
export type InputName = "speed" | "aim" | "side" | "height";
/** The last value that works, how far off that is, short and in words, and what breaks beyond it. */
export interface MarginEnd { value: number; short: string; words: string; breaks: string }
export interface MarginSpan { low: MarginEnd; high: MarginEnd }
/** A share, and its 95 % interval. */
export interface Chance { share: number; low: number; high: number }

/** Speeds in m/s, aims in degrees, tips as fractions of the radius; `error` is the hand's standard deviation. */
export interface Margins {
  /** What the stroke itself does not give of what is asked. */
  fault: string | null;
  bars: { input: InputName; value: number; error: number; met: MarginSpan | null; potted: MarginSpan | null }[];
  /** Of so many strokes of the hand: the ball falls; without a scratch; all that is asked is given. */
  chance: { strokes: number; fallen: Chance; potted: Chance; met: Chance };
  /** The stops over two standard deviations to each side; `jumps` from that point to the next. */
  traces: {
    input: InputName; points: { value: number; x: number; y: number; potted: boolean; met: boolean; jumps: boolean }[];
  }[];
  /** How the cue ball comes to the next shot; null if there is none. */
  approach: {
    way: "along" | "between" | "across"; angle: number; pocket: PocketName;
    /** From the stop to the ghost ball; and where 10 % of the speed takes the stop, half of it to each side. */
    line: [Point, Point]; tangent: [Point, Point];
    /** Degrees, positive to the left: as it is, with 5 % less and with 5 % more speed. */
    cut: number; slower: number | null; faster: number | null;
    /** What 10 % of the speed moves the stop by, m; room for it along and across the line, m. */
    pace: number; room: [along: number, across: number]; words: string;
  } | null;
}

/** See schema/answer.schema.json. */
export interface LeaveAnswer { zone: Zone; stroke: Stroke; call?: Call | null }
/**
 * `hand` is the id of a hand; without one the hand of the item's level grades the zone. `seed` and `index` draw the
 * errors of the stroke that is shown, and are needed if it is not played exactly. The zone's mark depends on none of them.
 */
export interface GradeLeaveRequest extends LeaveAnswer {
  item: LeaveItem; hand?: string | null; exact: boolean; seed?: number | null; index?: number | null; sealed?: string | null;
}

/** What is shown of a Leave item; `hand` is the id of the hand that grades its zones unless another is chosen. */
export interface LeaveQuestion {
  item: LeaveItem; task: string; level: LevelInfo; deal: string | null; card: string; model: number; advice: string[];
  notice: string | null; table: Question["table"]; balls: Question["balls"]; hand: string;
}

/** Over 256 strokes of the hand. Shares are 0 to 1. */
export interface ZoneGrade {
  mark: number;
  /** Strokes that stop in the zone, that give what is asked (zone aside), that scratch. */
  share: number; gives: number; scratches: number;
  /** The smallest ellipse that holds four stops of five; null if nearly all strokes scratch. */
  best: Zone | null;
  stops: Point[];
}
/** Chances of the next ball, 0 to 1: over the zone, over the stops, and of giving what is asked and making it. */
export interface Worth { zone: number; stops: number; both: number }

/** What came of an answer. */
export interface LeaveResult {
  duration: number;
  tracks: Result["tracks"];
  /** As it was played: errors included, the cue lifted as needed. */
  stroke: Stroke;
  /** The hand that graded the zone. */
  hand: string;
  potted: boolean; pocket: PocketName | null; scratch: boolean; railsMet: boolean; inZone: boolean; stop: Point;
  /** The cue ball's path from its first ball on; null if it meets none. */
  path: Pick<Result, "contactTime" | "path" | "touches" | "stop" | "tangent" | "slideEnd"> | null;
  /** Of the called path; null if none was called or there is none. */
  grade: Grade | null;
  zone: ZoneGrade;
  /** Null without a next ball. */
  worth: Worth | null;
  sentence: string;
  sender: { answer: LeaveAnswer; grade: Grade | null; zone: ZoneGrade; worth: Worth | null; sentence: string } | null;
}

/**
 * `hand` is the id of one of the hands; the item's own stroke is compared with the best. Worker `worker` (from 0) of
 * `workers` does its share, and must hear what the others tell; all come to the same.
 */
export interface BestRequest { item: LeaveItem; hand: string; seed?: number | null; worker?: number | null; workers?: number | null }
/**
 * `done` is 1 at the end, and only then there are `own`, `measured` and `words`; a chance before it flatters. A search that
 * `waits` can do no more before it hears from the others.
 */
export interface BestProgress {
  done: number; plays: number; waits: boolean; own: number | null; words: string | null;
  measured: { best: Chance; own: Chance } | null;
  best: { stroke: Stroke; pocket: PocketName; lengths: number; chance: number } | null;
}

/** A speed in m/s, and in table lengths. */
export interface SpeedEntry { speed: number; lengths: number }
/** The stroke of the item, ten times under the hand with this id; `seed` draws the errors. */
export interface TriesRequest { item: LeaveItem; hand: string; seed: number }
export interface Try { stop: Point; scratch: boolean; potted: boolean; met: boolean }

/** Rotation: lowest number first. Group: its balls in any order, then the last; all others are in the way. */
export type Game = { kind: "rotation" } | { kind: "group"; group: string[]; last: string };
/** What is asked of the shot that pots `from` and goes on to `to`: rails to meet at least, and the side of `to` to come to. */
export interface ClearLink { from: string; to: string; cushions: number; side?: RailName | null }
/** A layout to be cleared; in the middle of a run, what is left of one. */
export interface ClearItem {
  version: 1; kind: "clear"; model: number; level: number; seed?: number | null; shot: Shot;
  game: Game; links?: ClearLink[]; key?: string | null;
}
/** `balls`: 3 to 9 in rotation, 1 to 7 of a group. */
export interface DealClearRequest {
  level: number; seed: number; size?: TableSize | null; game: "rotation" | "group"; balls: number; demands?: boolean | null;
}
/** What is shown of a Clear item: what is still to be cleared, and what of it may be played now. */
export interface ClearQuestion {
  item: ClearItem; task: string; level: LevelInfo; deal: string | null; card: string; model: number;
  table: Question["table"]; balls: Question["balls"]; left: string[]; open: string[]; notice: string | null;
}
/** The ball to be potted, and where. */
export interface Called { ball: string; pocket: PocketName }
/** The item's stroke, exactly or with the errors of a hand. */
export interface PlayClearRequest { item: ClearItem; called: Called; hand?: string | null; seed?: number | null; index?: number | null }
export interface ClearPlayed {
  duration: number; tracks: Result["tracks"]; stroke: Stroke; stop: Result["stop"];
  /** Why the run is over; null if it goes on with `next`. */
  over: "cleared" | "missed" | "scratched" | "wrong-ball" | "last-ball-early" | "not-as-asked" | "stuck" | null;
  cleared: boolean; next: ClearQuestion | null; words: string;
}
/** The numbers of the shots that cost most, by their choice and by their stroke; null if none did. */
export interface Decided { choice: number | null; stroke: number | null; words: string }

/** `hand` is the id of a hand. The guide is to `item`; `now` holds what is left of it. `bytes` go with "take", "learn" and "pass". */
export interface GuideRequest {
  request: { item: ClearItem; hand: string; fine: boolean; ask:
    | { kind: "fill"; from: number; to: number }
    | { kind: "take"; from: number }
    | { kind: "try"; from: number; to: number }
    | { kind: "learn" }
    | { kind: "plan"; now: ClearItem; way?: number | null }
    | { kind: "weigh"; now: ClearItem; called: Called }
    | { kind: "values"; now: ClearItem; gone?: string | null }
    | { kind: "race" | "pass"; now: ClearItem }
    | { kind: "lap"; now: ClearItem; ways: number[]; from: number; to: number }
    | { kind: "runs"; now: ClearItem; seed: number; from: number; to: number; way?: number | null } };
  bytes?: Uint8Array;
}
/** Runs that were played out, how many were cleared, and what that says of the chance. */
export interface Runs { runs: number; cleared: number; chance: Chance; words: string }
/** How a race of ways to play stands: those that run on and the runs that they play next, and the one that is taken as far as is known. */
export interface Race { ways: number[]; from: number; to: number; over: boolean; taken: number; words: string }
/** `done` is 1 at the end, and only then there is what was asked for (runs are told as they go). */
export interface GuideProgress {
  done: number; shelves: number; first: number; cells: number; plan: ClearPlan | null; chance: number | null;
  runs: Runs | null; race: Race | null; bytes: Uint8Array; values: Float64Array;
}
/** A shot that may be played, and the chance to clear all that is left with it, 0 to 1. */
export interface ClearChoice { ball: string; pocket: PocketName; stroke: Stroke; lengths: number; chance: number; words: string }
/** What to do when the leave goes wrong so, which happens in this share of the pots. */
export interface SecondPlan { wrong: "long" | "short" | "side"; share: number; stop: Point; then: ClearChoice | null; words: string }
/** `breaks` says which balls without a way to a pocket it breaks out, if any. */
export interface ClearStep extends ClearChoice {
  pot: Chance; from: Point; path: Point[]; stop: Point | null; zone: Zone | null; breaks: string | null; seconds: SecondPlan[];
}
/** `chance` is a first guess, that of the first shot; runs played out show what may be relied on. `others` are other shots from here. */
export interface ClearPlan { chance: number; shots: ClearStep[]; others: ClearChoice[]; key: string | null }

/** A QR code: modules on each side with the quiet zone of four, its error correction, and the dark ones as path data. */
export interface Code { size: number; level: "L" | "M" | "Q" | "H"; path: string }

/** What every function throws on bad input; `message` says it all in one sentence. */
export interface LeavelineError extends Error { name: "LeavelineError"; field: string; rule: string }

/** What can be estimated. */
export type EyeEstimate = "tangent" | "roll" | "draw" | "cut" | "rebound" | "side" | "third-rail" | "distance";
/** One estimate that is asked. */
export interface EyeItem { version: 1; kind: "eye"; estimate: EyeEstimate; model: number; seed?: number; shot: Shot }
export interface DealEyeRequest { seed: number; number: number; size?: TableSize }
/** Where the handle was dragged to (m), or what it is set to, moved on by some steps of a key. */
export type MarkEyeRequest = { item: EyeItem; x: number; y: number } | { item: EyeItem; value: number; steps?: number; fine?: boolean };
/** Where the handle stands, what it says, and the line that shows it. */
export interface EyeHandle { value: number; x: number; y: number; line: Point[]; words: string }
export interface EyeQuestion {
  item: EyeItem; estimate: EyeEstimate; title: string; task: string; unit: "degrees" | "diamonds" | "lengths";
  deal: string | null; card: string; model: number; table: Question["table"]; balls: Question["balls"];
  stroke: Question["stroke"]; ghost: Point | null; given: Point[]; handle: EyeHandle;
  /** How many there are in a round. */
  round: number;
}
/** What an answer came to; `error` is positive where it was too much. */
export interface EyeResult {
  estimate: EyeEstimate; answer: number; truth: EyeHandle; error: number; mark: number; words: string; way: Point[];
}
export interface EyeAnswered { estimate: EyeEstimate; error: number }
/** What a round came to: its mean mark in whole numbers, its kinds, and what to practise in words. */
export interface EyeRound { mark: number; kinds: EyeSummary[]; words: string }
/** One kind of a round; `half` is the error that halves a mark. */
export interface EyeSummary {
  estimate: EyeEstimate; title: string; unit: EyeQuestion["unit"]; n: number; bias: number; spread: number | null; half: number; words: string;
}

export type AnyItem = Item | LeaveItem | ClearItem;
/** `stroke` says how it is meant to be played, where the item does not give it. */
export interface SetEntry { title: string; note: string; item: AnyItem; stroke?: Stroke | null }
/** An item is passed with a mark of at least `mark` of 100, the set with `need` of them. */
export interface SetPass { mark: number; need: number }
/** See schema/set.schema.json. */
export interface ItemSet { version: 1; kind: "set"; title: string; note: string; pass: SetPass; entries: SetEntry[] }
/** What was found in a text: the good entries with their places in it, and every fault. No set at all is null. */
export interface FoundSet {
  set: ItemSet | null;
  entries: { place: number; kind: "read" | "leave" | "clear"; task: string }[];
  faults: { place: string; rule: string }[];
  words: string;
}
export interface ShowRequest { item: AnyItem; stroke?: Stroke | null }
/** An item as it is shown to a class; `meant` is how it is to be played, as far as anybody said so. */
export interface ShownItem {
  kind: "read" | "leave" | "clear"; task: string; card: string;
  table: Question["table"]; balls: Question["balls"];
  asked: { on: string | null; next: string | null; pocket: PocketName | null; zone: Zone | null };
  given: { words: string; approach: Point[] } | null;
  meant: {
    words: string; approach: Point[]; objectPath: Point[];
    way: Pick<Result, "contactTime" | "path" | "touches" | "stop" | "tangent" | "slideEnd">;
  } | null;
}
/** A mark of 0 to 100, whether a run was cleared, or null where nothing was played yet. */
export type SetMark = number | boolean | null;
export interface TallyRequest { pass: SetPass; marks: SetMark[]; claimed?: number | null }
export interface Tally {
  score: number; played: number; nPassed: number; need: number; passed: (boolean | null)[];
  isPassed: boolean; isOver: boolean; words: string; against: string | null;
}
/** `now` in ms since 1970; without link and day it is the set of today. */
export interface DailyRequest { now: number; link?: string; day?: string }
/** The set of a day, its link, and what is to be said of it. */
export interface DailySet { day: string; set: ItemSet; link: string; notice: string | null }
/** All marks of a day's set, and the address that opens it. */
export interface DailyResultRequest { day: string; marks: SetMark[]; address: string }
/** What it came to, for the page and as the text that is handed on. */
export interface DailyResult { score: number; words: string; text: string }
export interface SetLinkRequest { text: string; claimed: number | null }
export interface OpenedSet { set: FoundSet; claimed: number | null }

/** A call to be kept, made at `at` (ms since 1970). */
export type RecordRequest = { at: number } & (
  | { item: Item; call: Call }
  | { item: EyeItem; call: { answer: number } }
  | { item: LeaveItem; call: LeaveCall }
  | { item: ClearItem; call: ClearCall }
);
/** Played by a hand with the errors of seed and index; exactly if there is no seed. */
export interface LeaveCall extends LeaveAnswer { hand: string; seed?: number | null; index?: number | null }
/** The stroke is the item's. `best` and `own` are chances to clear what is left, once they are known. */
export interface ClearCall {
  ball: string; pocket: PocketName; zone?: Zone | null; hand: string; seed?: number | null; index?: number | null;
  best?: number | null; own?: number | null;
}
/** See schema/log.schema.json. */
export type LogRecord = RecordRequest & {
  version: 1 | 2; id: string; model: number; card: string; mark: number | null; success: boolean;
  errors: { skill: string; called: number; real: number }[];
  outcome: { x: number; y: number; pocket: PocketName | null; rails: RailName[]; over?: string };
};
/** `digest` is the call as plain numbers: the first is how many there are; many calls are their numbers one after the other. */
export interface Kept { record: LogRecord; digest: number[]; words: string }
/** Lines are counted from 1. */
export interface ReadLog { kept: Kept[]; refused: { line: number; words: string }[] }
export interface LogSkill {
  id: string; name: string; unit: string; n: number; of: number; bias: number; within: number | null; spread: number | null;
  words: string; interval: string; scatter: string; trend: string;
}
export interface LogSummary { n: number; skills: LogSkill[]; sentences: string[] }
export interface LogPoints { x: number[]; y: number[] }
/** What was (x) against what was called (y); bias over time; where stops fell from the call (x right, y beyond, balls). */
export interface LogPlots {
  name: string; unit: string; placed: string; n: number; places: LogPoints; stops: LogPoints;
  groups: { at: number; n: number; bias: number; low: number; high: number; words: string }[];
  /** The places of its calls among those that were given. */
  of: Uint32Array;
}
export interface LogNext {
  topic: string; part: "read" | "leave" | "clear" | "eye"; level: number; reason: string; link: string | null;
  /** What Clear is to deal for it. */
  deal: DealClearRequest | null;
  standings: { topic: string; name: string; n: number; failed: number; of: number; recall: number | null; due: boolean; words: string }[];
}
