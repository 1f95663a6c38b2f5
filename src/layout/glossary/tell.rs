//! What is drawn over an example and said of it, as it was measured on the played shots.

use super::measured::{
    MetAt, NEXT, across, at_the_rail, first_cushion, launched, leg, met, met_at, next_ball,
    next_shot, off_rail, tangent,
};
use super::{Mark, Run};
use crate::error::Error;
use crate::geometry::{angle_between, cross, heading, unit_from_angle};
use crate::physics::{Arena, EventKind};
use crate::practice::{
    CallPoint, Dimension, angle_in_words, distance_in_words, place_in_words, point_in_words,
};
use crate::shot::{Zone, lengths_of_speed};
use crate::table::{PocketId, Surface, TableCard};
use glam::DVec2;

/// What an example shows.
#[derive(Clone, Copy, Debug)]
pub enum Tell {
    Ghost,
    Cut,
    Cover,
    Tangent,
    Bend(&'static str),
    Roll,
    Rebound,
    Throw,
    Squirt,
    Swerve,
    Mirror,
    Diamonds,
    Lengths,
    Leave,
    Zone,
    Margin,
    Line,
    /// Names of balls, by their places in the shot's list.
    Names(&'static [(usize, &'static str)]),
    BreakOut,
    Scratch,
    Cheat,
    RunOut,
}

/// How long drawn lines are, and the radius of angles, m (tuning choices).
const REACH: f64 = 0.6;
const ARC: f64 = 0.3;

/// The zone of the examples, half its length along the line of the next shot and half its
/// width, m (tuning choice: a length of two diamonds).
const HALF: DVec2 = DVec2::new(0.32, 0.12);

/// What is said, and what is drawn.
type Told = (String, Vec<Mark>);

fn none() -> Error {
    Error::invalid("runs", "there is none")
}

/// What is said of the runs of an example, the first of which is the main one, and drawn.
pub fn tell(what: Tell, card: &TableCard, runs: &mut Vec<Run>) -> Result<Told, Error> {
    let main = runs.first().ok_or_else(none)?;
    Ok(match what {
        Tell::Ghost => {
            let path = met(main)?;
            let words = format!("Dashed: the ghost ball at the {}.", path.first);
            (words, vec![Mark::Name(path.ghost, "ghost ball".into())])
        }
        Tell::Cut => cut(main)?,
        Tell::Cover => cover(runs)?,
        Tell::Tangent => kept_to_tangent(main, runs.len())?,
        Tell::Bend(way) => bent(main, way)?,
        Tell::Roll => rolled(main)?,
        Tell::Rebound => rebounds(runs)?,
        Tell::Throw => thrown(main)?,
        Tell::Squirt => squirted(main)?,
        Tell::Swerve => swerved(card, main)?,
        Tell::Mirror => mirror(main)?,
        Tell::Diamonds => diamonds(card, main)?,
        Tell::Lengths => {
            let lengths = lengths_of_speed(&Arena::new(card), main.shot.stroke.speed);
            let stop = Mark::Name(main.stop(), format!("{lengths:.1} lengths"));
            (format!("A stroke of {lengths:.1} lengths."), vec![stop])
        }
        Tell::Leave => {
            let words = format!("The cue ball is left at {}.", place_in_words(card, main.stop()));
            (words, vec![Mark::Name(main.stop(), "leave".into())])
        }
        Tell::Zone => {
            let words = format!("Hatched: from here the 8 goes into the {NEXT} pocket.");
            (words, vec![Mark::Zone(zone(card, main)?)])
        }
        Tell::Margin => margin(card, runs)?,
        Tell::Line => {
            let (line, off) = (next_line(card, main)?, across(card, main)?);
            let words = format!("It comes at {} to the line of the 8.", angle_in_words(off));
            (words, vec![line])
        }
        Tell::Names(names) => {
            let ball = |(place, name): &(usize, &str)| {
                Mark::Name(main.shot.balls[*place].position, (*name).into())
            };
            ("Named on the table.".into(), names.iter().map(ball).collect())
        }
        Tell::BreakOut => broken_out(card, main)?,
        Tell::Scratch => {
            let pocket = met(main)?.pocketed.map_or("", PocketId::name);
            let words = format!("It falls into the {pocket} pocket.");
            (words, vec![Mark::Name(main.stop(), "scratch".into())])
        }
        Tell::Cheat => {
            let other = runs.get(1).ok_or_else(|| Error::invalid("runs", "one is missing"))?;
            let off = angle_in_words(angle_between(leg(met(main)?), leg(met(other)?)));
            (format!("Both fall; the cue ball's ways are {off} apart."), Vec::new())
        }
        Tell::RunOut => run_out(card, runs)?,
    })
}

fn tangent_line(run: &Run) -> Result<Vec<Mark>, Error> {
    let (ghost, way) = (met(run)?.ghost, tangent(run)?);
    let end = ghost + way * REACH;
    Ok(vec![Mark::Line(ghost, end), Mark::Name(end, "tangent line".into())])
}

fn angle(centre: DVec2, from: DVec2, to: DVec2) -> Mark {
    let text = angle_in_words(angle_between(from, to));
    Mark::Angle(Dimension::Arc { centre, radius: ARC, from: heading(from), to: heading(to), text })
}

fn rebounds(runs: &[Run]) -> Result<Told, Error> {
    let mut told = Vec::new();
    let mut marks = Vec::new();
    for run in runs {
        let name = match run.shot.stroke.side {
            side if side > 0.0 => "right side",
            side if side < 0.0 => "left side",
            _ => "no side",
        };
        let (rail, [_, touch, behind]) = at_the_rail(run)?;
        let off = angle_in_words(off_rail(rail, behind - touch));
        told.push(format!("with {name} it leaves the rail at {off}"));
        marks.push(Mark::Name(behind, name.into()));
    }
    Ok((crate::practice::capital(&format!("{}.", told.join(", "))), marks))
}

fn mirror(run: &Run) -> Result<Told, Error> {
    let (rail, [before, touch, behind]) = at_the_rail(run)?;
    let way = touch - before;
    let mirrored =
        if rail.is_long() { DVec2::new(way.x, -way.y) } else { DVec2::new(-way.x, way.y) };
    let end = touch + mirrored.normalize_or_zero() * REACH;
    let [to, off] = [way, behind - touch].map(|way| angle_in_words(off_rail(rail, way)));
    let words = format!("It comes at {to} to the rail and leaves at {off}.");
    Ok((words, vec![Mark::Line(touch, end), Mark::Name(end, "mirror".into())]))
}

/// The line of the next shot, from its pocket on.
fn next_line(card: &TableCard, run: &Run) -> Result<Mark, Error> {
    let (ball, way) = next_ball(card, run)?;
    Ok(Mark::Line(ball.position + way * ARC, ball.position - way * (2.0 * REACH)))
}

/// The zone around the leave, along the line of the next shot.
fn zone(card: &TableCard, run: &Run) -> Result<Zone, Error> {
    let (_, way) = next_ball(card, run)?;
    Ok(Zone { centre: run.stop(), half: HALF, turn: heading(way) })
}

fn cut(main: &Run) -> Result<Told, Error> {
    let MetAt { ghost, approach, centres } = met_at(main)?;
    let cut = angle_between(approach, centres).abs();
    let lines = [approach, centres].map(|way| Mark::Line(ghost, ghost + way * REACH));
    let arc = angle(ghost, approach, centres);
    let words = format!("Here the cut is {}.", angle_in_words(cut));
    Ok((words, lines.into_iter().chain([arc]).collect()))
}

fn cover(runs: &[Run]) -> Result<Told, Error> {
    let mut told = Vec::new();
    let mut marks = Vec::new();
    for (run, name) in runs.iter().zip(["half", "full", "thin"]) {
        let MetAt { approach, centres, .. } = met_at(run)?;
        let cut = angle_between(approach, centres).abs();
        let share = 100.0 * (1.0 - libm::sin(cut));
        told.push(format!("{name}: cut {}, {share:.0} % covered", angle_in_words(cut)));
        marks.push(Mark::Name(run.line(0)[0], name.into()));
    }
    Ok((format!("{}.", told.join("; ")), marks))
}

fn kept_to_tangent(main: &Run, n_runs: usize) -> Result<Told, Error> {
    let off = angle_between(tangent(main)?, leg(met(main)?)).abs();
    let words = match n_runs {
        1 => format!("The cue ball goes {} off the tangent line.", angle_in_words(off)),
        _ => format!(
            "Stunned, the cue ball keeps to it within {}; thin: follow and draw.",
            angle_in_words(off)
        ),
    };
    Ok((words, tangent_line(main)?))
}

fn bent(main: &Run, way: &str) -> Result<Told, Error> {
    let off = angle_between(tangent(main)?, leg(met(main)?)).abs();
    let words =
        format!("Its heading is {} {way} of the tangent line; thin: stunned.", angle_in_words(off));
    Ok((words, tangent_line(main)?))
}

fn rolled(main: &Run) -> Result<Told, Error> {
    let MetAt { ghost, approach, .. } = met_at(main)?;
    let way = leg(met(main)?);
    let off = angle_in_words(angle_between(approach, way));
    let line = Mark::Line(ghost, ghost + approach * REACH);
    Ok((format!("It goes off at {off} to its old way."), vec![line, angle(ghost, approach, way)]))
}

fn thrown(main: &Run) -> Result<Told, Error> {
    let centres = met(main)?.line_of_centres;
    let line = main.line(1);
    let way = line.iter().find(|at| at.distance(line[0]) > ARC).copied();
    let way = way.unwrap_or(line[line.len() - 1]) - line[0];
    let off = angle_in_words(angle_between(centres, way));
    let marks = vec![Mark::Line(line[0], line[0] + centres * REACH), angle(line[0], centres, way)];
    Ok((format!("The {} goes {off} off the line of both balls.", met(main)?.first), marks))
}

fn squirted(main: &Run) -> Result<Told, Error> {
    let (from, cue) = (main.line(0)[0], unit_from_angle(main.shot.stroke.azimuth));
    let way = launched(main);
    let off = angle_in_words(angle_between(cue, way));
    let line = Mark::Line(from, from + cue * (4.0 * ARC));
    Ok((
        format!("Tip right, ball left: {off} off the cue's line."),
        vec![line, angle(from, cue, way)],
    ))
}

fn swerved(card: &TableCard, main: &Run) -> Result<Told, Error> {
    let (from, way) = (main.line(0)[0], launched(main));
    let until = first_cushion(main).map_or(main.stop(), |(_, at)| at);
    let off = distance_in_words(card, cross(way, until - from).abs());
    let line = Mark::Line(from, from + way * (until - from).dot(way));
    Ok((format!("It curves {off} away from where it set out."), vec![line]))
}

fn diamonds(card: &TableCard, main: &Run) -> Result<Told, Error> {
    let touches = main.outcome.events.iter().filter_map(|event| match event.kind {
        EventKind::Cushion(Surface::Rail(rail)) => {
            Some(CallPoint { position: event.position, rail: Some(rail) })
        }
        _ => None,
    });
    let named: Vec<_> =
        touches.map(|point| (point.position, point_in_words(card, &point))).collect();
    let words: Vec<_> = named.iter().map(|(_, words)| words.as_str()).collect();
    let stop = place_in_words(card, main.stop());
    let told = format!("It meets the {}, and stops at {stop}.", words.join("; the "));
    Ok((told, named.into_iter().map(|(at, words)| Mark::Name(at, words)).collect()))
}

fn margin(card: &TableCard, runs: &[Run]) -> Result<Told, Error> {
    let main = runs.first().ok_or_else(none)?;
    let arena = Arena::new(card);
    let [low, high] = [1, 2]
        .map(|k| runs.get(k).map_or(0.0, |run| lengths_of_speed(&arena, run.shot.stroke.speed)));
    let words = format!("From {low:.1} to {high:.1} lengths it stops in the zone.");
    Ok((words, vec![Mark::Zone(zone(card, main)?)]))
}

fn broken_out(card: &TableCard, main: &Run) -> Result<Told, Error> {
    let [one, other] = [2, 3].map(|place| main.line(place).last().copied().unwrap_or_default());
    let (a, b) = (main.shot.balls[2].id, main.shot.balls[3].id);
    let apart = distance_in_words(card, one.distance(other));
    Ok((format!("The {a} and the {b} touched; now they lie {apart} apart."), Vec::new()))
}

fn run_out(card: &TableCard, runs: &mut Vec<Run>) -> Result<Told, Error> {
    let main = runs.first().ok_or_else(none)?;
    let first = main.shot.balls[1];
    let next = Run::new(next_shot(card, main)?)?;
    let last = next.shot.balls[1];
    runs.push(next);
    let words = format!("First the {}, then the {} from the leave.", first.id, last.id);
    let marks = [(first, "1st"), (last, "2nd")];
    Ok((words, marks.map(|(ball, name)| Mark::Name(ball.position, name.into())).into()))
}
