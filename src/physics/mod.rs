//! The physical model, from the tip to the last ball at rest.
mod shot;
pub use shot::{
    BallEnd, Event, EventKind, FASTEST_STROKE, MISCUE_LIMIT, MODEL_VERSION, Outcome, PlacedBall,
    Sample, Shot, Stroke,
};
