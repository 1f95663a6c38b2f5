//! What the mark promises, on random paths and calls.

use super::{call, card, on, perfect, truth};
use glam::DVec2;
use leaveline::physics::Sample;
use leaveline::practice::{Call, CallPoint, CuePath, Dimension, Grade, grade};
use leaveline::table::{Rail, Surface, TableSize};
use leaveline::{BallId, table::TableCard};
use proptest::collection::vec;
use proptest::prelude::*;

/// Enough that a rare combination turns up, and still a few seconds.
const CASES: u32 = 20_000;

fn rail() -> impl Strategy<Value = Rail> {
    (0..4_usize).prop_map(|k| Rail::ALL[k])
}

/// A place on the table of [`card`], on a grid of 1/1024 m.
fn place() -> impl Strategy<Value = DVec2> {
    (32..2528_i32, 32..1248_i32)
        .prop_map(|(x, y)| DVec2::new(f64::from(x) / 1024.0, f64::from(y) / 1024.0))
}

/// A path over any rails, now and then with nodes that coincide.
fn path() -> impl Strategy<Value = CuePath> {
    let touch = (rail(), place()).prop_map(|(rail, place)| {
        let along = if rail.is_long() { place.x } else { place.y };
        (rail, on(&card(), rail, along))
    });
    (place(), vec((touch, 0..10_u8), 0..5), place(), 0..10_u8).prop_map(
        |(ghost, touches, stop, same)| {
            let mut nodes: Vec<(Rail, DVec2)> = vec![];
            for ((rail, place), double) in touches {
                let before = nodes.last().map_or(ghost, |node| node.1);
                nodes.push((rail, if double == 0 { before } else { place }));
            }
            let before = nodes.last().map_or(ghost, |node| node.1);
            truth(ghost, &nodes, if same == 0 { before } else { stop })
        },
    )
}

/// A call of the real rails: every point somewhere, sometimes on the ghost ball
/// or on the real point, sometimes with free bends before it.
fn call_of(truth: &CuePath) -> impl Strategy<Value = Call> + use<> {
    let real: Vec<_> = truth.rail_touches().map(|(rail, touch)| (rail, touch.position)).collect();
    let (ghost, stop) = (truth.ghost, truth.stop);
    let spot = |pick: u8, there: DVec2, real: DVec2, ghost: DVec2| match pick {
        0 => ghost,
        1 => real,
        2 => there * 40.0 - DVec2::splat(30.0),
        _ => there,
    };
    let bends = vec((place(), 0..4_u8), real.len());
    (vec((place(), 0..12_u8), real.len()), bends, place(), 0..12_u8).prop_map(
        move |(spots, bends, end, pick)| {
            let mut points = vec![];
            for ((&(rail, at), (there, pick)), (bend, bent)) in real.iter().zip(spots).zip(bends) {
                if bent == 0 {
                    points.push(CallPoint { position: bend, rail: None });
                }
                let position = spot(pick, there, at, ghost);
                points.push(CallPoint { position, rail: Some(rail) });
            }
            Call { points, stop: spot(pick, end, stop, ghost) }
        },
    )
}

fn case() -> impl Strategy<Value = (CuePath, Call, Vec<f64>, u8)> {
    let fraction = prop_oneof![Just(0.0), Just(1.0), 0.0..1.0_f64];
    path().prop_flat_map(move |truth| {
        let call = call_of(&truth);
        let n_points = truth.touches.len() + 1;
        (Just(truth), call, vec(fraction.clone(), n_points), 1..7_u8)
    })
}

/// Moves every railed point and the stop by its own fraction toward the real one.
fn moved(truth: &CuePath, call: &Call, fractions: &[f64]) -> Call {
    let mut real = truth.rail_touches().map(|(_, touch)| touch.position).zip(fractions);
    let points = call
        .points
        .iter()
        .map(|point| match (point.rail, point.rail.and_then(|_| real.next())) {
            (Some(_), Some((there, &share))) => {
                CallPoint { position: point.position.lerp(there, share), ..*point }
            }
            _ => *point,
        })
        .collect();
    let share = fractions[fractions.len() - 1];
    Call { points, stop: call.stop.lerp(truth.stop, share) }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(CASES))]

    /// The mark is a sum of shrinking terms; 1e-9 points leave room for rounding
    /// (some 30 operations of 1e-16 each, times 100, through angles seen from
    /// at least a millimetre away).
    #[test]
    fn nearer_never_pays_less((truth, call, fractions, level) in case()) {
        let card = card();
        let before = grade(&card, &truth, &call, level).mark;
        let nearer = moved(&truth, &call, &fractions);
        let after = grade(&card, &truth, &nearer, level).mark;
        prop_assert!(after >= before - 1e-9, "{before} fell to {after}");
    }

    #[test]
    fn the_perfect_call_gets_exactly_100(truth in path(), level in 1..7_u8) {
        let best = grade(&card(), &truth, &perfect(&truth), level);
        prop_assert_eq!(best.mark, 100.0);
    }

    #[test]
    fn an_easier_level_never_pays_less((truth, call, _, level) in case()) {
        let card = card();
        let (strict, mild) = (grade(&card, &truth, &call, level), grade(&card, &truth, &call, 1));
        prop_assert!(mild.mark >= strict.mark - 1e-9, "{} at level {level}", strict.mark);
    }

    /// Any rails against any others, and any numbers at all.
    #[test]
    fn the_mark_is_always_between_0_and_100(
        truth in wild_path(), points in vec((wild(), proptest::option::of(rail())), 0..6),
        stop in wild(), level in any::<u8>(),
    ) {
        let point = |(position, rail)| CallPoint { position, rail };
        let call = Call { points: points.into_iter().map(point).collect(), stop };
        let grade = grade(&TableCard::of_size(TableSize::SevenFoot), &truth, &call, level);
        prop_assert!((0.0..=100.0).contains(&grade.mark), "{}", grade.mark);
        prop_assert!(is_finite(&grade), "{:?}", grade);
    }

    /// A called rail that is not touched costs at least 5 points of a call that
    /// is otherwise perfect.
    #[test]
    fn adding_a_rail_never_pays(truth in path(), k in 0..5_usize, at in place(), level in 1..7_u8) {
        let mut call = perfect(&truth);
        let k = k.min(call.points.len());
        // It differs from its neighbours, so that the others still match.
        let near = [k.checked_sub(1), Some(k)].map(|n| call.points.get(n?)?.rail);
        let extra = Rail::ALL.into_iter().find(|rail| !near.contains(&Some(*rail)));
        call.points.insert(k, CallPoint { position: at, rail: extra });
        let mark = grade(&card(), &truth, &call, level).mark;
        prop_assert!(mark <= 95.0 + 1e-9, "{mark}");
    }

    /// On a grid of binary fractions mirroring is exact, and so is the mark.
    #[test]
    fn the_mirrored_table_gives_the_mirrored_grade(
        truth in path(), points in vec((place(), proptest::option::of(rail())), 0..5),
        stop in place(), level in 1..7_u8,
    ) {
        let point = |(position, rail)| CallPoint { position, rail };
        let call = Call { points: points.into_iter().map(point).collect(), stop };
        let grade_one = grade(&card(), &truth, &call, level);
        for across in [true, false] {
            let other = grade(&card(), &mirror_path(&truth, across), &mirror_call(&call, across), level);
            prop_assert_eq!(grade_one.mark.to_bits(), other.mark.to_bits());
            let flip = |text: &str| flip_words(text, across);
            prop_assert_eq!(flip(&grade_one.sentence), other.sentence);
            for (line, mirrored) in grade_one.lines.iter().zip(&other.lines) {
                prop_assert_eq!(flip(&line.label), mirrored.label.clone());
                prop_assert_eq!(flip(&line.text), mirrored.text.clone());
            }
        }
    }
}

/// Any finite place, most of them near, some equal, some absurd.
fn wild() -> impl Strategy<Value = DVec2> {
    let number = prop_oneof![
        8 => -0.5..3.0_f64,
        3 => Just(0.0),
        1 => any::<f64>().prop_filter("finite", |value| value.is_finite()),
        1 => Just(f64::MAX),
        1 => Just(-f64::MAX),
        1 => Just(f64::MIN_POSITIVE),
    ];
    (number.clone(), number).prop_map(|(x, y)| DVec2::new(x, y))
}

fn wild_path() -> impl Strategy<Value = CuePath> {
    (wild(), vec((rail(), wild()), 0..5), wild(), wild(), wild(), any::<bool>()).prop_map(
        |(ghost, touches, stop, approach, centres, jaw)| {
            let mut path = truth(ghost, &touches, stop);
            path.approach = approach.normalize_or_zero();
            path.line_of_centres = centres.normalize_or_zero();
            path.slide_end = path.path.get(1).map(|sample: &Sample| sample.position);
            if let Some(touch) = path.touches.first_mut().filter(|_| jaw) {
                touch.surface = Surface::Pocket(leaveline::table::PocketId::FootLeft);
            }
            path
        },
    )
}

fn is_finite(grade: &Grade) -> bool {
    let drawn = grade.lines.iter().filter_map(|line| line.dimension.as_ref());
    let drawn = drawn.flat_map(|dimension| match *dimension {
        Dimension::Arc { centre, radius, from, to, .. } => [centre.x, centre.y, radius, from - to],
        Dimension::Line { from, to, .. } => [from.x, from.y, to.x, to.y],
    });
    let errors = &grade.errors;
    let numbers =
        [errors.stop.balls, errors.stop.along, errors.curve, errors.length.unwrap_or(0.0)];
    numbers.into_iter().chain(drawn).all(f64::is_finite)
        && !grade.sentence.contains("NaN")
        && grade.lines.iter().all(|line| !line.text.contains("NaN"))
}

/// Across the table (left for right), or along it (head for foot).
fn mirror_place(place: DVec2, across: bool) -> DVec2 {
    let card = card();
    if across {
        DVec2::new(place.x, card.width - place.y)
    } else {
        DVec2::new(card.length - place.x, place.y)
    }
}

fn mirror_way(way: DVec2, across: bool) -> DVec2 {
    if across { DVec2::new(way.x, -way.y) } else { DVec2::new(-way.x, way.y) }
}

fn mirror_rail(rail: Rail, across: bool) -> Rail {
    match (rail, across) {
        (Rail::Left, true) => Rail::Right,
        (Rail::Right, true) => Rail::Left,
        (Rail::Head, false) => Rail::Foot,
        (Rail::Foot, false) => Rail::Head,
        (same, _) => same,
    }
}

fn mirror_path(path: &CuePath, across: bool) -> CuePath {
    let mut mirrored = path.clone();
    let place = |place: &mut DVec2| *place = mirror_place(*place, across);
    mirrored.touches.iter_mut().for_each(|touch| {
        place(&mut touch.position);
        if let Surface::Rail(rail) = touch.surface {
            touch.surface = Surface::Rail(mirror_rail(rail, across));
        }
    });
    mirrored.path.iter_mut().for_each(|sample| place(&mut sample.position));
    place(&mut mirrored.ghost);
    place(&mut mirrored.stop);
    mirrored.approach = mirror_way(path.approach, across);
    mirrored.line_of_centres = mirror_way(path.line_of_centres, across);
    mirrored
}

fn mirror_call(call: &Call, across: bool) -> Call {
    let point = |point: &CallPoint| CallPoint {
        position: mirror_place(point.position, across),
        rail: point.rail.map(|rail| mirror_rail(rail, across)),
    };
    Call { points: call.points.iter().map(point).collect(), stop: mirror_place(call.stop, across) }
}

/// Exchanges the names of two rails; the verb "left" is not one of them.
fn flip_words(text: &str, across: bool) -> String {
    let (one, other) = if across { ("left", "right") } else { ("head", "foot") };
    let swap = |text: String, before: &str, after: &str| {
        let (a, b) = (format!("{before}{one}{after}"), format!("{before}{other}{after}"));
        text.replace(&a, "\0").replace(&b, &a).replace('\0', &b)
    };
    let text = swap(text.to_string(), "", " rail");
    swap(text, "toward the ", "")
}

#[test]
fn a_ball_that_stays_where_it_is_can_be_called_too() {
    let ghost = DVec2::new(1.0, 0.5);
    let truth = truth(ghost, &[], ghost);
    assert_eq!(grade(&card(), &truth, &perfect(&truth), 4).mark, 100.0, "dead stun");
    let one_ball = call(&[], ghost + DVec2::new(2.0 * card().ball.radius, 0.0));
    let mark = grade(&card(), &truth, &one_ball, 4).mark;
    // Two thirds of the tolerance at the stop, and of the curve's: 1 / (1 + 4/9).
    assert!((mark - 100.0 * 9.0 / 13.0).abs() < 1e-9, "a ball off: {mark}");
    assert_eq!(truth.first, BallId::object(3).expect("a ball"), "off the 3");
}
