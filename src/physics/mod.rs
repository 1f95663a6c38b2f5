//! The physical model, from the tip to the last ball at rest.

mod ball_ball;
mod ball_cushion;
mod motion;
mod ode;
mod shot;
mod stroke;

pub use ball_ball::{closing_speed, collide, surface_slip};
pub use ball_cushion::CushionLaw;
pub use motion::{Course, rolling_spin, slip, specific_energy};
pub use shot::{
    BallEnd, Event, EventKind, FASTEST_STROKE, MISCUE_LIMIT, MODEL_VERSION, Outcome, PlacedBall,
    Sample, Shot, Stroke,
};
pub use stroke::squirt_angle;
