//! The physical model, from the tip to the last ball at rest.

mod arena;
mod ball_ball;
mod barrier;
mod cluster;
mod contacts;
mod cushion;
mod gap;
mod motion;
mod play;
mod record;
mod rest;
mod short_list;
mod shot;
mod simulation;
mod slow_contacts;
mod stroke;

pub use arena::Arena;
pub use ball_ball::{closing_speed, collide, surface_slip};
pub use cushion::CushionLaw;
pub use motion::{Course, rolling_spin, slip, specific_energy};
pub use play::play;
pub use record::{Listen, Nothing, Recorder};
pub use short_list::OfBalls;
pub use shot::{
    BallEnd, Event, EventKind, FASTEST_STROKE, MISCUE_LIMIT, MODEL_VERSION, Outcome, PlacedBall,
    Sample, Shot, Stroke, at_the_strike,
};
pub use simulation::LONGEST_SHOT;
pub use stroke::squirt_angle;
