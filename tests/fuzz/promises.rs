//! What is promised of everything that comes from outside: one function for each
//! target of the fuzzer, all of them functions of the input's bytes alone.
//!
//! Nothing panics or takes long. What is refused is refused in words that name the
//! field and the rule, and repeat nothing unprintable. What is accepted is written
//! again as the same thing, and can be played.
//!
//! The ordinary tests run the same functions over `seeds` and `crashes`.

use base64::Engine;
use glam::DVec2;
use leaveline::physics::{Arena, Course, Event, Listen, PlacedBall, Shot, Stroke, at_the_strike};
use leaveline::table::{TableCard, TableSize};
use leaveline::wire::{self, Value, compact, parse};
use leaveline::{BallId, BallMotion, Error};
use std::fmt::Debug;

/// The longest message, characters: a path of sixteen names, and a rule.
const LONGEST_MESSAGE: usize = 3_000;

/// A shot with more events than this is not played to its end here.
const MOST_EVENTS: usize = 500;

/// Nor one with more legs.
const MOST_LEGS: usize = 3_000;

/// JSON text, as every form there is.
pub fn text(input: &[u8]) {
    let Ok(text) = std::str::from_utf8(input) else { return };
    if let Some(value) = told(parse(text)) {
        let written = compact(&value).expect("what was read can be written");
        assert_eq!(parse(&written).as_ref(), Ok(&value), "{written}");
        forms(&value);
    }
    sets(text);
}

/// What is good of a set comes back, and what is not is told.
fn sets(text: &str) {
    let found = wire::find_set(text);
    for fault in found.faults {
        told::<()>(Err(fault));
    }
    if let Some(mut set) = found.set {
        // A title that was no good was told, and is asked for.
        if set.title.is_empty() {
            set.title = "x".to_owned();
        }
        let written = compact(&wire::write_set(&set)).expect("a set is JSON");
        assert_eq!(wire::read_set(&written), Ok(set), "{written}");
    }
}

/// A text in which there may be a link, and a sealed call.
pub fn link(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    if told(wire::check_length(text.encode_utf16().count(), wire::LONGEST_TEXT)).is_some() {
        open(&text);
    }
}

/// A link or a sealed call with this inside and with the right check, which no
/// fuzzer would guess.
pub fn envelope(input: &[u8]) {
    let Some((&how, payload)) = input.split_first() else { return };
    let encode = |bytes: &[u8]| base64::engine::general_purpose::URL_SAFE_NO_PAD.encode(bytes);
    let kind = match (how & 1, how & 4, how & 8) {
        (_, _, 8) => "clear",
        (0, 0, _) => "read",
        (_, 0, _) => "call",
        (0, _, _) => "leave",
        _ => "answer",
    };
    let version = match how & 18 {
        0 => "1",
        2 => "2",
        _ => "3",
    };
    let body = format!("{kind}={version}.{}", encode(payload));
    let check = encode(&crc32fast::hash(body.as_bytes()).to_be_bytes());
    open(&format!("{body}.{check}"));
    let body = format!("set={version}.{}", encode(payload));
    let check = encode(&crc32fast::hash(body.as_bytes()).to_be_bytes());
    told(wire::open_set_link(&format!("{body}.{check}")));
    if let Some(item) = told(wire::unpack_item(payload)) {
        let again = wire::pack_item(&item).expect("what was read can be written");
        assert_eq!(wire::unpack_item(&again), Ok(item), "{again:?}");
    }
}

/// A sound form, altered as a program that went wrong might: numbers that are none,
/// fields missing, doubled, misspelt and of the wrong kind.
pub fn tree(input: &[u8]) {
    let mut bytes = Bytes(input);
    let which = bytes.below(TEMPLATES.len());
    let item = if which < FIRST_OF_LEAVE { ITEM } else { LEAVE_ITEM };
    let item = parse(&item.replace("SHOT", SHOT)).expect("a form of our own");
    let mut form = parse(TEMPLATES[which]).expect("a form of our own");
    if let Value::Fields(fields) = &mut form {
        for (name, value) in fields {
            if name == "item" {
                *value = item.clone();
            }
        }
    }
    while !bytes.0.is_empty() {
        alter(&mut bytes, &mut form);
    }
    forms(&form);
}

/// Any shot on any table, as numbers.
pub fn play(input: &[u8]) {
    let mut bytes = Bytes(input);
    let mut card = TableCard::of_size(TableSize::ALL[bytes.below(3)]);
    for _ in 0..bytes.below(6) {
        distort(&mut bytes, &mut card);
    }
    let stroke = Stroke {
        azimuth: 0.1 * f64::from(bytes.byte()),
        elevation: if bytes.below(2) == 0 { 0.0 } else { bytes.number() },
        speed: if bytes.below(2) == 0 { 2.0 } else { bytes.number() },
        side: f64::from(bytes.byte()) / 256.0 - 0.5,
        height: f64::from(bytes.byte()) / 256.0 - 0.5,
    };
    let mut balls: Vec<PlacedBall> = Vec::new();
    for k in 0..=bytes.below(16) as u8 {
        let id = BallId::object(k).unwrap_or(BallId::CUE);
        let position = match (bytes.below(4), balls.last()) {
            // Frozen to the last one.
            (0, Some(last)) => {
                let angle = 0.1 * f64::from(bytes.byte());
                last.position + DVec2::new(angle.cos(), angle.sin()) * (2.0 * card.ball.radius)
            }
            // Frozen to the head rail.
            (1, _) => DVec2::new(card.touch_distance(), card.width * bytes.share()),
            _ => DVec2::new(card.length * bytes.share(), card.width * bytes.share()),
        };
        let shot = Shot { card, balls: vec![PlacedBall { id, position }], stroke };
        // Only balls that can stand there: else hardly any shot would be legal.
        let overlaps =
            |ball: &PlacedBall| ball.position.distance(position) < 2.0 * card.ball.radius;
        if k == 0 || !balls.iter().any(overlaps) && stands(&shot) {
            balls.push(PlacedBall { id, position });
        }
    }
    let shot = Shot { card, balls, stroke };
    if told(shot.check()).is_some() {
        played(&shot);
    }
}

/// Whether the only ball of `shot` may stand where it does: then its number alone
/// is wrong.
fn stands(shot: &Shot) -> bool {
    let ball = PlacedBall { id: BallId::CUE, ..shot.balls[0] };
    Shot { balls: vec![ball], ..shot.clone() }.check().is_ok()
}

/// Reads `value` as everything that the page can be given.
fn forms(value: &Value) {
    if let Some(shot) = told(wire::read_shot(value, "")) {
        same(&shot, &wire::write_shot(&shot), |form| wire::read_shot(form, ""));
        if played(&shot) {
            let form = told(wire::play(value)).expect("a shot that was read");
            let text = compact(&form).expect("an outcome is JSON");
            assert!(!text.contains("null"), "a number that is none: {text}");
            let packed = told(wire::play_packed(value)).expect("a shot that was read");
            assert!(packed.iter().all(|number| number.is_finite()), "{packed:?}");
        }
    }
    if let Some(item) = told(wire::read_item(value, "")) {
        same(&item, &wire::write_item(&item), |form| wire::read_item(form, ""));
        if let Some(link) = told(wire::make(&item, None)) {
            open(&link);
        }
        if played(&item.shot)
            && let Some(question) = told(wire::open_item(value))
        {
            compact(&question).expect("a question is JSON");
        }
    }
    if let Some(item) = told(wire::read_leave_item(value, "")) {
        same(&item, &wire::write_leave_item(&item), |form| wire::read_leave_item(form, ""));
        if let Some(link) = told(wire::make_leave(&item, None)) {
            open(&link);
        }
    }
    if let Some(answer) = told(wire::read_answer(value, "")) {
        same(&answer, &wire::write_answer(&answer), |form| wire::read_answer(form, ""));
        let sealed = told(wire::seal_answer(&answer)).expect("finite numbers");
        assert_eq!(wire::unseal_answer(&sealed), Ok(answer), "{sealed}");
    }
    leave_grade(value);
    if let Some(call) = told(wire::read_call(value, "")) {
        same(&call, &wire::write_call(&call), |form| wire::read_call(form, ""));
        let sealed = told(wire::seal(&call)).expect("finite numbers");
        assert_eq!(wire::unseal(&sealed), Ok(call), "{sealed}");
    }
    if let Some(request) = told(wire::read_grade(value))
        && played(&request.item.shot)
        && let Some(result) = told(wire::grade(value))
    {
        compact(&result).expect("a result is JSON");
    }
    if let Some(link) = told(wire::make_link(value)) {
        open(&link);
        if link.starts_with("leave=") {
            leave(value);
        }
    }
    told(wire::read_deal(value));
    for placed in [wire::snap(value), wire::point_at(value)] {
        if let Some(point) = told(placed) {
            compact(&point).expect("a point is JSON");
        }
    }
}

/// Shows the Leave item of a request that has one.
fn leave(value: &Value) {
    let Value::Fields(fields) = value else { return };
    let item = fields.iter().filter(|(name, _)| name == "item").cloned().collect();
    let question = told(wire::open_leave(&Value::Fields(item))).expect("an item that was read");
    compact(&question).expect("a question is JSON");
}

/// Grades an answer, if its strokes are not too much for a fuzzer.
fn leave_grade(value: &Value) {
    let Value::Fields(fields) = value else { return };
    let given = |name: &str| fields.iter().find(|(other, _)| other == name).map(|(_, v)| v);
    let item = given("item").and_then(|item| wire::read_leave_item(item, "item").ok());
    let answer = wire::read_answer(
        &Value::Fields(
            ["zone", "stroke"]
                .into_iter()
                .filter_map(|name| given(name).map(|value| (name.to_owned(), value.clone())))
                .collect(),
        ),
        "",
    );
    let is_light = match (&item, &answer) {
        (Some(item), Ok(answer)) => {
            let shot = Shot { stroke: answer.stroke, ..item.shot.clone() };
            item.shot.card.cloth.rolling_friction > 1e-3 && played(&shot)
        }
        _ => true,
    };
    if is_light && let Some(result) = told(wire::grade_leave(value)) {
        let text = compact(&result).expect("a result is JSON");
        assert!(!text.contains("NaN"), "{text}");
    }
}

/// Opens a link and a sealed call, and what is in them again.
fn open(text: &str) {
    if let Some(call) = told(wire::unseal(text)) {
        let again = told(wire::seal(&call)).expect("finite numbers");
        assert_eq!(wire::unseal(&again), Ok(call), "{again}");
    }
    if let Some(answer) = told(wire::unseal_answer(text)) {
        let again = told(wire::seal_answer(&answer)).expect("finite numbers");
        assert_eq!(wire::unseal_answer(&again), Ok(answer), "{again}");
    }
    if let Some(wire::AnyOpened::Clear(item)) = told(wire::open_any(text))
        && let Some(again) = told(wire::make_clear(&item))
    {
        assert_eq!(wire::open_any(&again), Ok(wire::AnyOpened::Clear(item)), "{again}");
        told(wire::open_link(text)).expect("a Clear item needs no play to be shown");
    }
    if let Some(wire::AnyOpened::Leave(opened)) = told(wire::open_any(text)) {
        let answer = opened.sealed.as_deref();
        let answer = answer.map(|sealed| wire::unseal_answer(sealed).expect("just sealed"));
        if let Some(again) = told(wire::make_leave(&opened.item, answer.as_ref())) {
            let opened = Ok(wire::AnyOpened::Leave(opened));
            assert_eq!(wire::open_any(&again), opened, "{again}");
            told(wire::open_link(text)).expect("a Leave item needs no play to be shown");
        }
    }
    let Some(opened) = told(wire::open(text)) else { return };
    let call = opened.sealed.as_deref().map(|sealed| wire::unseal(sealed).expect("just sealed"));
    if let Some(again) = told(wire::make(&opened.item, call.as_ref())) {
        assert_eq!(wire::open(&again).as_ref(), Ok(&opened), "{again}");
    }
    if played(&opened.item.shot) {
        told(wire::open_link(text));
    }
}

/// What was accepted; else checks how it was refused.
fn told<T>(result: Result<T, Error>) -> Option<T> {
    let error = match result {
        Ok(accepted) => return Some(accepted),
        Err(error) => error,
    };
    let message = error.to_string();
    assert!(!error.field().is_empty() && !error.rule().is_empty(), "{error:?}");
    assert!(message.starts_with(error.field()) && message.ends_with(error.rule()), "{error:?}");
    assert!(message.chars().count() <= LONGEST_MESSAGE, "{message}");
    assert!(!message.contains(char::is_control), "{message:?}");
    None
}

/// Checks that `form` gives `thing` again, as it is and as text.
fn same<T: Debug + PartialEq>(thing: &T, form: &Value, read: impl Fn(&Value) -> Result<T, Error>) {
    assert_eq!(read(form).as_ref(), Ok(thing), "{form:?}");
    let text = compact(form).expect("a form is JSON");
    assert_eq!(parse(&text).and_then(|form| read(&form)).as_ref(), Ok(thing), "{text}");
}

/// Counts, and stops listening when it is too much for a fuzzer.
#[derive(Default)]
struct Counter {
    events: usize,
    legs: usize,
}

impl Listen for Counter {
    fn event(&mut self, event: Event) {
        self.events += 1;
        assert!(event.time.is_finite() && event.position.is_finite(), "{event:?}");
    }

    fn leg(&mut self, _place: usize, course: &Course, since: f64, until: f64) {
        self.legs += 1;
        let end = course.motion(until - since);
        let finite = end.position.is_finite() && end.velocity.is_finite() && end.spin.is_finite();
        assert!(finite && until >= since, "{course:?} from {since} to {until}");
    }

    fn has_heard_enough(&self) -> bool {
        self.events > MOST_EVENTS || self.legs > MOST_LEGS
    }
}

/// Plays an accepted shot; whether it ended before it was too much.
fn played(shot: &Shot) -> bool {
    let arena = Arena::new(&shot.card);
    let struck = shot.struck().expect("an accepted shot has a cue ball");
    let mut counter = Counter::default();
    arena.run(&at_the_strike(&shot.balls, struck), &mut counter);
    // How many lengths the speed is takes a ball of its own up and down the table.
    let alone = BallMotion {
        position: DVec2::new(shot.card.touch_distance(), shot.card.width / 2.0),
        velocity: DVec2::new(shot.stroke.speed, 0.0),
        ..BallMotion::default()
    };
    arena.run(&[(BallId::CUE, alone)], &mut counter);
    !counter.has_heard_enough()
}

const SHOT: &str = r#"{"version":1,"table":{"size":"seven-foot","length":2,"width":1,"ballRadius":0.028,"ballMass":0.165,"gravity":9.81,"slidingFriction":0.21,"rollingFriction":0.011,"spinDecay":9.5,"ballRestitution":0.94,"cushionRestitution":0.9,"cushionFriction":0.2,"noseHeight":0.0355,"squirtMassRatio":28,"ballFriction":{"floor":0.02,"range":0.1,"decay":0.8},"cornerPocket":{"mouth":0.117,"cutAngle":141.5,"shelf":0.04,"facing":0.061,"holeRadius":0.059},"sidePocket":{"mouth":0.13,"cutAngle":103.75,"shelf":0.005,"facing":0.046,"holeRadius":0.065}},"balls":[{"id":"cue","x":0.5,"y":0.5},{"id":"15","x":1.5,"y":0.5},{"id":"8","x":1,"y":0.75}],"stroke":{"azimuth":1.125,"elevation":4.5,"speed":3.25,"side":0.3,"height":0.4}}"#;

const ITEM: &str = r#"{"version":1,"kind":"read","model":1,"level":3,"seed":7,"shot":SHOT}"#;

const LEAVE_ITEM: &str = r#"{"version":1,"kind":"leave","model":1,"level":3,"seed":7,"shot":SHOT,"demand":{"on":"15","pocket":"foot-right","next":"8","rails":["foot","left"],"zone":{"x":1.5,"y":0.6,"long":0.4,"wide":0.2,"turn":30}}}"#;

/// From here on the templates take an item of Leave.
const FIRST_OF_LEAVE: usize = 8;

/// One of each form; an item goes where null stands.
const TEMPLATES: [&str; 11] = [
    SHOT,
    r#"{"item":null}"#,
    r#"{"points":[{"x":1.9,"y":0.6,"rail":"foot"},{"x":1.5,"y":0.6}],"stop":{"x":1,"y":0.9}}"#,
    r#"{"item":null,"call":{"points":[{"x":1.5,"y":0.6}],"stop":{"x":1,"y":0.9}}}"#,
    r#"{"item":null,"x":0.5,"y":0.5,"reach":0.1,"snap":true}"#,
    r#"{"item":null,"rail":"foot","along":2.5}"#,
    r#"{"item":null,"along":2.5,"across":1}"#,
    r#"{"level":3,"seed":7,"size":"nine-foot"}"#,
    r#"{"item":null}"#,
    r#"{"zone":{"x":1.5,"y":0.6,"long":0.4,"wide":0.2,"turn":30},"stroke":{"azimuth":1.125,"elevation":4.5,"speed":3.25,"side":0.3,"height":0.4},"call":{"points":[],"stop":{"x":1,"y":0.9}}}"#,
    r#"{"item":null,"zone":{"x":1.5,"y":0.6,"long":0.4,"wide":0.2,"turn":30},"stroke":{"azimuth":1.125,"elevation":4.5,"speed":3.25,"side":0.3,"height":0.4},"hand":"makes-85","exact":false,"seed":3,"index":4}"#,
];

/// Numbers at which something may end or break.
const NUMBERS: [f64; 16] = [
    0.0,
    -0.0,
    1.0,
    -1.0,
    0.5,
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    f64::MIN_POSITIVE,
    f64::MAX,
    1e-9,
    1e-3,
    10.0,
    15.0,
    100.0,
    4_294_967_296.0,
];

/// The input, taken piece by piece; zeros when it has ended.
struct Bytes<'a>(&'a [u8]);

impl Bytes<'_> {
    fn byte(&mut self) -> u8 {
        let Some((&first, rest)) = self.0.split_first() else { return 0 };
        self.0 = rest;
        first
    }

    fn below(&mut self, n: usize) -> usize {
        usize::from(self.byte()) % n
    }

    /// From 0 to 1.
    fn share(&mut self) -> f64 {
        f64::from(u16::from_le_bytes([self.byte(), self.byte()])) / f64::from(u16::MAX)
    }

    fn number(&mut self) -> f64 {
        match self.below(4) {
            0 => NUMBERS[self.below(16)],
            1 => f64::from_le_bytes(std::array::from_fn(|_| self.byte())),
            2 => 10.0_f64.powi(self.below(20) as i32 - 12),
            _ => 2.0 * self.share(),
        }
    }
}

/// Changes one thing somewhere in `form`.
fn alter(bytes: &mut Bytes, form: &mut Value) {
    match form {
        Value::Fields(fields) if !fields.is_empty() => {
            let k = bytes.below(fields.len());
            match bytes.below(8) {
                0 => drop(fields.remove(k)),
                1 => {
                    fields[k].0 = ["", "x", "a.b\n", "size", "\u{202e}"][bytes.below(5)].to_owned()
                }
                2 => fields.insert(0, (fields[k].0.clone(), fields[k].1.clone())),
                _ => alter(bytes, &mut fields[k].1),
            }
        }
        Value::List(list) if !list.is_empty() => {
            let k = bytes.below(list.len());
            match bytes.below(8) {
                0 => drop(list.remove(k)),
                1 => list.push(list[k].clone()),
                _ => alter(bytes, &mut list[k]),
            }
        }
        other => {
            *other = match bytes.below(12) {
                0 => Value::Null,
                1 => Value::Bool(bytes.below(2) == 0),
                2 => Value::text(["", "cue", "1", "foot", "\n\u{7}\u{85}"][bytes.below(5)]),
                3 => Value::List(vec![Value::Null; bytes.below(40)]),
                4 => Value::Fields(vec![("x".to_owned(), Value::Null)]),
                _ => Value::Number(bytes.number()),
            };
        }
    }
}

/// Replaces one parameter of the table.
fn distort(bytes: &mut Bytes, card: &mut TableCard) {
    let pocket = bytes.below(2) == 0;
    let place = bytes.below(21);
    // The reader takes the sign of a zero away.
    let value = bytes.number() + 0.0;
    let spec = if pocket { &mut card.corner_pocket } else { &mut card.side_pocket };
    let parameters = [
        &mut card.length,
        &mut card.width,
        &mut card.ball.radius,
        &mut card.ball.mass,
        &mut card.cloth.gravity,
        &mut card.cloth.sliding_friction,
        &mut card.cloth.rolling_friction,
        &mut card.cloth.spin_decay,
        &mut card.ball_contact.restitution,
        &mut card.ball_contact.friction.floor,
        &mut card.ball_contact.friction.range,
        &mut card.ball_contact.friction.decay,
        &mut card.cushion.restitution,
        &mut card.cushion.friction,
        &mut card.squirt_mass_ratio,
        &mut spec.mouth,
        &mut spec.cut_angle,
        &mut spec.shelf,
        &mut spec.facing,
        &mut spec.hole_radius,
    ];
    if let Some(parameter) = parameters.into_iter().nth(place) {
        *parameter = value;
    } else {
        card.cushion.nose_height = card.ball.radius * (1.0 + value);
    }
}
