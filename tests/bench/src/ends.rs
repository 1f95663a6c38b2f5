//! The way that is taken when only the end of a shot is asked for.

use leaveline::BallId;
use leaveline::ball::BallMotion;
use leaveline::physics::{Arena, BallEnd, Nothing, OfBalls, Shot, Stroke, at_the_strike};

/// A layout made ready for many strokes of which nothing is kept but where the balls end.
pub struct Ends {
    arena: Arena,
    balls: Vec<(BallId, BallMotion)>,
    cue: usize,
}

impl Ends {
    /// Makes ready the layout of a shot.
    pub fn new(shot: &Shot) -> Self {
        let struck = shot.struck().expect("a scene has a cue ball");
        let balls = at_the_strike(&shot.balls, struck);
        let cue = balls.iter().position(|(id, _)| id.is_cue()).expect("a scene has a cue ball");
        Self { arena: Arena::new(&shot.card), balls, cue }
    }

    /// Plays a stroke.
    pub fn play(&mut self, stroke: &Stroke) -> OfBalls<BallEnd> {
        let card = self.arena.card();
        let (velocity, spin) = stroke.launch(card.ball.radius, card.squirt_mass_ratio);
        let motion = &mut self.balls[self.cue].1;
        (motion.velocity, motion.spin) = (velocity, spin);
        self.arena.run(&self.balls, &mut Nothing)
    }
}
