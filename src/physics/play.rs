//! Plays a shot: checks it, strikes, and tells what came of it.

use super::arena::Arena;
use super::gap::TOUCH;
use super::record::{Listen, Recorder};
use super::shot::{BallEnd, Event, EventKind, Outcome, Sample, Shot, at_the_strike};
use crate::ball::{BallId, BallMotion};
use crate::error::Error;
use crate::table::TableShape;

impl Shot {
    /// Checks table, balls and stroke.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] or [`Error::Invalid`], with the field named as in the
    /// open forms: `table.length`, `balls[2]`, `stroke.speed`.
    pub fn check(&self) -> Result<(), Error> {
        self.card.check().map_err(|error| error.within("table"))?;
        self.check_balls()?;
        self.stroke.check().map_err(|error| error.within("stroke"))
    }

    fn check_balls(&self) -> Result<(), Error> {
        if !self.balls.iter().any(|ball| ball.id.is_cue()) {
            return Err(Error::invalid("balls", "the cue ball is missing"));
        }
        let shape = TableShape::new(&self.card);
        let least = 2.0 * self.card.ball.radius - 2.0 * TOUCH;
        for (k, ball) in self.balls.iter().enumerate() {
            let field = format!("balls[{k}]");
            if let Some(value) = [ball.position.x, ball.position.y].iter().find(|v| !v.is_finite())
            {
                return Err(Error::out_of_range(field, *value, "must be a finite position"));
            }
            if let Some(reason) = shape.refusal(ball.position) {
                return Err(Error::invalid(field, reason));
            }
            for other in &self.balls[..k] {
                if other.id == ball.id {
                    let rule = format!("the {} ball is on the table twice", ball.id);
                    return Err(Error::invalid(field, rule));
                }
                if (other.position - ball.position).length() < least {
                    let rule = format!("overlaps the {} ball; touching is allowed", other.id);
                    return Err(Error::invalid(field, rule));
                }
            }
        }
        Ok(())
    }

    /// State of the cue ball as it leaves the tip, if there is a cue ball.
    pub fn struck(&self) -> Option<BallMotion> {
        let cue_ball = self.balls.iter().find(|ball| ball.id.is_cue())?;
        let (velocity, spin) =
            self.stroke.launch(self.card.ball.radius, self.card.squirt_mass_ratio);
        Some(BallMotion { position: cue_ball.position, velocity, spin })
    }
}

/// Plays a shot to its end.
///
/// # Errors
/// As [`Shot::check`].
///
/// # Examples
/// ```
/// # use leaveline_core::physics::{BallEnd, PlacedBall, Shot, Stroke, play};
/// # use leaveline_core::table::{TableCard, TableSize};
/// # use leaveline_core::BallId;
/// # use glam::DVec2;
/// let shot = Shot {
///     card: TableCard::of_size(TableSize::NineFoot),
///     balls: vec![PlacedBall { id: BallId::CUE, position: DVec2::new(0.635, 0.635) }],
///     stroke: Stroke { azimuth: 0.0, elevation: 0.0, speed: 0.5, side: 0.0, height: 0.4 },
/// };
/// let outcome = play(&shot)?;
/// let BallEnd::Rest(stop) = outcome.ends[0] else { panic!("it stays on the table") };
/// assert!((stop.x - 0.635 - 0.25 / (2.0 * 0.01 * 9.80665)).abs() < 1e-9); // v²/(2 mu g)
/// # Ok::<(), leaveline_core::Error>(())
/// ```
pub fn play(shot: &Shot) -> Result<Outcome, Error> {
    shot.check()?;
    let struck = shot.struck().ok_or_else(|| Error::invalid("balls", "the cue ball is missing"))?;
    let arena = Arena::new(&shot.card);
    let mut recorder = Recorder::new(shot.balls.len());
    recorder.event(Event {
        time: 0.0,
        ball: BallId::CUE,
        kind: EventKind::Strike,
        position: struck.position,
    });
    let ends = arena.run(&at_the_strike(&shot.balls, struck), &mut recorder);
    Ok(outcome(recorder, ends.to_vec()))
}

fn outcome(recorder: Recorder, ends: Vec<BallEnd>) -> Outcome {
    let Recorder { events, paths } = recorder.in_order();
    let last = |path: &Vec<Sample>| path.last().map_or(0.0, |sample| sample.time);
    let duration = if ends.iter().any(|end| matches!(end, BallEnd::Moving(_))) {
        paths.iter().map(last).fold(0.0, f64::max)
    } else {
        events.last().map_or(0.0, |event| event.time)
    };
    Outcome { duration, events, ends, paths }
}
