//! Leaveline's core: what a cue ball does, and how good a call of it was.
//!
//! Two crates of one tree, so that each is compiled for what it is for: `leaveline-core`
//! plays by the thousand and is for speed, `leaveline-trainer` is called once a click and
//! is for size. This one is their door.
//!
//! Units are SI, angles radians, anticlockwise from +x. The origin is where the nose lines of
//! the head and the right rail meet; x runs along the right rail to the foot, y across to the
//! left rail, z up. Only forms ([`wire`]) have degrees.
//!
//! # How the parts meet
//! A module knows only what stands above it:
//!
//! | module | what it owns |
//! |---|---|
//! | [`geometry`], [`units`], [`normal`], [`order`], [`error`] | what all others stand on |
//! | [`table`], [`ball`] | the card with every parameter, and the shape laid out from it |
//! | [`physics`] | the model: [`physics::play`] plays a shot to its end |
//! | [`shot`] | a shot as a player thinks of it: aim, hands, margins, chances, the best stroke |
//! | [`plan`] | a whole layout: what leaves are worth, and in which order it is cleared |
//! | [`practice`] | items, calls and answers, and their grades |
//! | [`layout`] | deals from a seed, the ready-made sets and the glossary |
//! | [`memory`] | what calls tell over time, and what to practise next |
//! | [`wire`] | forms and links, and one function for each thing that the page can ask |
//!
//! An item of Read goes through them like this, and all others much alike:
//!
//! ```
//! use leaveline::layout::deal_read;
//! use leaveline::physics::play;
//! use leaveline::practice::{Call, CallPoint, CuePath, grade};
//! use leaveline::table::TableSize;
//! use leaveline::wire::{make, open};
//!
//! // A seed becomes a layout and a stroke, the stroke a shot, and of that is asked
//! // what the cue ball did from its first ball on.
//! let item = deal_read(2, 7, TableSize::NineFoot)?;
//! let outcome = play(&item.shot)?;
//! let truth = CuePath::of(&item.shot, &outcome).expect("a dealt shot meets a ball");
//!
//! // A call is compared with it: one that is right everywhere has the whole mark.
//! let touches = truth.rail_touches();
//! let point = |(rail, touch): (_, &leaveline::practice::Touch)| CallPoint {
//!     position: touch.position,
//!     rail: Some(rail),
//! };
//! let call = Call { points: touches.map(point).collect(), stop: truth.stop };
//! assert_eq!(grade(&item.shot.card, &truth, &call, item.level).mark, 100.0);
//!
//! // Forms carry it to somebody else, to the last bit.
//! assert_eq!(open(&make(&item, None)?)?.item, item);
//! # Ok::<(), leaveline::Error>(())
//! ```

pub use leaveline_core::{
    BallId, BallMotion, BallSpec, Error, Phase, ball, error, geometry, normal, order, physics,
    plan, shot, table, units,
};
#[cfg(target_arch = "wasm32")]
pub use leaveline_trainer::wasm;
pub use leaveline_trainer::{layout, memory, practice, wire};
