//! Margins, chance, traces and approach of a stroke, as a form. It is only ever given.

use super::item::read_leave_item;
use super::map::read_hand;
use super::outcome::finite;
use super::question::{Place, place};
use super::reader::Form;
use super::value::Value;
use crate::error::Error;
use crate::geometry::unit_from_angle;
use crate::physics::{FASTEST_STROKE, Stroke};
use crate::practice::{LeaveItem, TIP};
use crate::shot::{
    Approach, Chance, Delivery, Edge, End, Fault, Hand, Input, Margin, Off, Series, Situation,
    Span, Tally, Trace, Way, approach, margins as margins_of, played, range_under, trace,
};
use crate::units::degrees;
use serde::Serialize;

/// Strokes of the hand that are played for the chance (tuning choice: a half-width of at
/// most 3 %, in some 20 ms).
const N_STROKES: u32 = 1024;

/// Traces cover so many standard deviations of the hand (tuning choice: 95 of 100).
const SIGMAS: f64 = 2.0;

/// What the margins of a stroke are asked with.
#[derive(Clone, Debug, PartialEq)]
pub struct MarginsRequest {
    /// Layout, stroke and what is asked.
    pub item: LeaveItem,
    /// The hand that plays it.
    pub hand: Hand,
}

/// The form of a stroke's margins.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MarginsForm {
    fault: Option<String>,
    bars: Vec<BarForm>,
    chance: JointForm,
    traces: Vec<TraceForm>,
    approach: Option<ApproachForm>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct BarForm {
    input: &'static str,
    value: f64,
    error: f64,
    met: Option<SpanForm>,
    potted: Option<SpanForm>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct SpanForm {
    low: EndForm,
    high: EndForm,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct EndForm {
    value: f64,
    /// How far off, short: "+20 %".
    short: String,
    words: String,
    breaks: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct JointForm {
    strokes: u32,
    fallen: ChanceForm,
    potted: ChanceForm,
    met: ChanceForm,
}

/// A chance with its 95 % interval.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChanceForm {
    share: f64,
    low: f64,
    high: f64,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct TraceForm {
    input: &'static str,
    points: Vec<PointForm>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct PointForm {
    value: f64,
    x: f64,
    y: f64,
    potted: bool,
    met: bool,
    jumps: bool,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct ApproachForm {
    way: &'static str,
    angle: f64,
    pocket: &'static str,
    line: [Place; 2],
    tangent: [Place; 2],
    cut: f64,
    slower: Option<f64>,
    faster: Option<f64>,
    pace: f64,
    room: [f64; 2],
    words: String,
}

/// Reads what margins are asked of.
///
/// # Errors
/// As [`Form`] and [`read_leave_item`].
pub fn read_margins(value: &Value) -> Result<MarginsRequest, Error> {
    let form = Form::open(value, "", &["item", "hand"])?;
    let item = read_leave_item(form.value("item")?, "item")?;
    let hand = read_hand(&form, "hand")?.hand;
    Ok(MarginsRequest { item, hand })
}

/// How far the stroke of `{ item, hand }`, its cue lifted as it must be, may be off, how often
/// the hand gives what is asked, and how the cue ball comes to the next shot.
///
/// # Errors
/// As [`read_margins`] and [`Situation::new`].
pub fn margins(request: &Value) -> Result<MarginsForm, Error> {
    let MarginsRequest { item, hand } = read_margins(request)?;
    let demand = &item.demand;
    let situation = Situation::new(&item.shot, demand.on).map_err(|e| e.within("item.demand"))?;
    let delivery = Delivery::new(&hand, &item.shot.card, &item.shot.balls, &item.shot.stroke);
    let (stroke, awkwardness) = (&delivery.aimed, delivery.awkwardness);
    let found = margins_of(&situation, demand, stroke);
    let tally = Tally::of(
        demand,
        played(&situation, stroke, &hand, awkwardness, Series::Margins.number(), 0..N_STROKES),
    );
    let traces = Input::ALL.map(|input| {
        let range = range_under(&hand, stroke, input, SIGMAS, awkwardness);
        write_trace(&trace(&situation, demand, stroke, input, range))
    });
    let approach = approach(&situation, demand, stroke, &hand);
    let stop = situation.play(stroke).stop;
    Ok(MarginsForm {
        fault: found.fault.as_ref().map(fault_in_words),
        bars: found
            .margins
            .iter()
            .map(|m| write_bar(&situation, stroke, awkwardness * m.input.error(stroke, &hand), m))
            .collect(),
        chance: JointForm {
            strokes: tally.n_strokes,
            fallen: write_chance(tally.chance(tally.n_fallen)),
            potted: write_chance(tally.chance(tally.n_potted)),
            met: write_chance(tally.chance(tally.n_met)),
        },
        traces: traces.into(),
        approach: approach.map(|approach| write_approach(&approach, stop)),
    })
}

fn name(input: Input) -> &'static str {
    match input {
        Input::Speed => "speed",
        Input::Azimuth => "aim",
        Input::Side => "side",
        Input::Height => "height",
    }
}

/// A value of an input in the unit of forms.
fn unit(input: Input, value: f64) -> f64 {
    finite(if input == Input::Azimuth { degrees(value) } else { value })
}

fn write_bar(situation: &Situation, stroke: &Stroke, error: f64, margin: &Margin) -> BarForm {
    let input = margin.input;
    let span = |span: Span| {
        let end = |end: End| EndForm {
            value: unit(input, end.value),
            short: off_in_short(stroke, input, end.value - input.of(stroke)),
            words: off_in_words(situation, stroke, input, end.value - input.of(stroke)),
            breaks: match end.edge {
                Edge::Breaks(fault) => fault_in_words(&fault),
                Edge::Limit => limit_in_words(input, end.value).to_owned(),
            },
        };
        SpanForm { low: end(span.low), high: end(span.high) }
    };
    BarForm {
        input: name(input),
        value: unit(input, input.of(stroke)),
        error: unit(input, error),
        met: margin.met.map(span),
        potted: margin.potted.map(span),
    }
}

/// How far an input is off, short, with its sign: more, left, right and higher are plus.
fn off_in_short(stroke: &Stroke, input: Input, off: f64) -> String {
    let (number, unit) = match input {
        Input::Speed => (format!("{:.0}", 100.0 * off.abs() / stroke.speed), " %"),
        Input::Azimuth => (format!("{:.2}", degrees(off.abs())), "°"),
        Input::Side | Input::Height => (format!("{:.2}", off.abs() / TIP), " tip"),
    };
    format!("{}{number}{unit}", if off < 0.0 { "−" } else { "+" })
}

/// How far an input is off, as players say it.
fn off_in_words(situation: &Situation, stroke: &Stroke, input: Input, off: f64) -> String {
    let size = off.abs();
    let side = |positive: &'static str, negative| if off > 0.0 { positive } else { negative };
    match input {
        Input::Speed => {
            let percent = 100.0 * size / stroke.speed;
            format!("{percent:.0} % {}", side("faster", "slower"))
        }
        Input::Azimuth => {
            // Off at the ball on, across the aim.
            let way = situation.object_ball() - situation.cue_ball();
            let distance = way.dot(unit_from_angle(stroke.azimuth)).max(0.0);
            let millimetres = 1000.0 * distance * libm::tan(size);
            format!(
                "{:.2}°, {millimetres:.1} mm at the ball, {}",
                degrees(size),
                side("left", "right")
            )
        }
        Input::Side => format!("{:.2} tips {}", size / TIP, side("right", "left")),
        Input::Height => format!("{:.2} tips {}", size / TIP, side("higher", "lower")),
    }
}

fn limit_in_words(input: Input, value: f64) -> &'static str {
    match input {
        Input::Side | Input::Height => "miscue limit",
        Input::Speed if value >= FASTEST_STROKE => "fastest stroke",
        Input::Speed | Input::Azimuth => "no end within sight",
    }
}

fn fault_in_words(fault: &Fault) -> String {
    match fault {
        Fault::First(Some(other)) => format!("meets the {other} first"),
        Fault::First(None) => "meets no ball".into(),
        Fault::Missed => "misses the pocket".into(),
        Fault::Scratch => "scratch".into(),
        Fault::Rails => "does not meet the rails it should".into(),
        Fault::Zone(Off::Long) => "too long".into(),
        Fault::Zone(Off::Short) => "too short".into(),
        Fault::Zone(Off::Left) => "left of the zone".into(),
        Fault::Zone(Off::Right) => "right of the zone".into(),
    }
}

pub(super) fn write_chance(chance: Chance) -> ChanceForm {
    ChanceForm { share: finite(chance.share), low: finite(chance.low), high: finite(chance.high) }
}

fn write_trace(trace: &Trace) -> TraceForm {
    let points = trace.points.iter().map(|point| {
        let [x, y] = place(point.stop);
        let value = unit(trace.input, point.value);
        PointForm { value, x, y, potted: point.potted, met: point.met, jumps: point.jumps }
    });
    TraceForm { input: name(trace.input), points: points.collect() }
}

fn write_approach(approach: &Approach, stop: glam::DVec2) -> ApproachForm {
    let way = match approach.way {
        Way::Along => "along",
        Way::Between => "between",
        Way::Across => "across",
    };
    let cut = degrees(approach.next.cut);
    let [slower, faster] = approach.cuts.map(|cut| cut.map(|cut| finite(degrees(cut))));
    // What a tenth of the speed moves the stop by, m.
    let pace = 0.1 * approach.tangent.length();
    let half = 0.05 * approach.tangent;
    ApproachForm {
        way,
        angle: finite(degrees(approach.angle)),
        pocket: approach.next.pocket.name(),
        line: [place(stop), place(approach.next.ghost)],
        tangent: [place(stop - half), place(stop + half)],
        cut: finite(cut),
        slower,
        faster,
        pace: finite(pace),
        room: approach.room.map(finite),
        words: approach_in_words(way, approach, pace),
    }
}

/// "Comes across the line of the next shot: 10 % of speed moves the stop 31 cm and the cut
/// from 12° left to 25° right."
fn approach_in_words(way: &str, approach: &Approach, pace: f64) -> String {
    let start = match approach.way {
        Way::Between => "Comes between along and across the line of the next shot".to_owned(),
        Way::Along | Way::Across => format!("Comes {way} the line of the next shot"),
    };
    let cut = |cut: f64| {
        let size = degrees(cut).abs().round();
        let side = if cut > 0.0 { "left" } else { "right" };
        if size == 0.0 { "straight".to_owned() } else { format!("{size}° {side}") }
    };
    let cuts = match approach.cuts {
        [Some(slower), Some(faster)] => {
            format!("the cut from {} to {}", cut(slower), cut(faster))
        }
        [None, _] => "the slower end out of the shot".to_owned(),
        [_, None] => "the faster end out of the shot".to_owned(),
    };
    format!("{start}: 10 % of speed moves the stop {:.0} cm and {cuts}.", 100.0 * pace)
}
