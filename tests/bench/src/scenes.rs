//! The five scenes: a layout, a stroke, and what must come of it.

use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{EventKind, PlacedBall, Shot, Stroke, play};
use leaveline::table::{TableCard, TableSize};
use leaveline::units::radians;
use leaveline::wire::{Value, degrees_for, write_shot};

/// Strokes of a scene. One stroke played over and over would teach the processor its
/// branches; a map plays many that differ a little, and so does a scene.
pub const N_STROKES: usize = 64;

/// By how much the direction of the strokes differs from the scene's own, rad.
const DIRECTION: f64 = 0.1 * std::f64::consts::PI / 180.0;

/// By what share their speed differs.
const SPEED: f64 = 0.02;

/// A kind of shot whose speed is measured.
pub struct Scene {
    /// One letter, as in the table of results.
    pub name: &'static str,
    /// What is played.
    pub words: &'static str,
    /// The layout, and the stroke in the middle of the strokes.
    pub shot: Shot,
    /// The strokes that are played, a little apart.
    pub strokes: Vec<Stroke>,
    /// What each of them must do.
    promise: Promise,
}

/// What a scene says of each of its shots.
#[derive(Clone, Copy)]
enum Promise {
    /// So many cushions, contacts of balls, and balls down.
    Exactly { cushions: usize, contacts: usize, pocketed: usize },
    /// At least so many cushions and contacts.
    AtLeast { cushions: usize, contacts: usize },
}

/// What happened in a shot.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Counts {
    /// All events, the strike among them.
    pub events: usize,
    /// Impacts on cushions.
    pub cushions: usize,
    /// Impacts of balls on balls.
    pub contacts: usize,
    /// Balls down.
    pub pocketed: usize,
    /// How long it lasts, s.
    pub duration: f64,
}

impl Scene {
    fn new(
        name: &'static str,
        words: &'static str,
        balls: Vec<PlacedBall>,
        stroke: Stroke,
        promise: Promise,
    ) -> Self {
        let shot = Shot { card: TableCard::of_size(TableSize::NineFoot), balls, stroke };
        // Two multiples of irrational numbers: they fill the field evenly.
        let share = |k: usize, step: f64| 2.0 * (k as f64 * step).fract() - 1.0;
        let strokes = (0..N_STROKES)
            .map(|k| Stroke {
                // Through degrees: a stroke that a form can say.
                azimuth: radians(degrees_for(
                    stroke.azimuth + DIRECTION * share(k, 0.618_033_988_749_894_9),
                )),
                speed: stroke.speed * (1.0 + SPEED * share(k, 0.754_877_666_246_692_7)),
                ..stroke
            })
            .collect();
        Self { name, words, shot, strokes, promise }
    }

    /// The scene's layout with the stroke at `place`.
    pub fn shot_at(&self, place: usize) -> Shot {
        Shot { stroke: self.strokes[place], ..self.shot.clone() }
    }

    /// How many times its strokes are played in one call that is measured: so often
    /// that reading the layout does not count, and what a clock cannot tell does not.
    pub fn times(&self) -> usize {
        if matches!(self.promise, Promise::AtLeast { .. }) { 1 } else { 16 }
    }

    /// Its layout as a form.
    pub fn form(&self) -> Value {
        write_shot(&self.shot)
    }

    /// Its strokes so many times over, as numbers for `ends`.
    pub fn numbers(&self, times: usize) -> Vec<f64> {
        let once = self.strokes.iter().flat_map(|stroke| {
            let (azimuth, elevation) = (degrees_for(stroke.azimuth), degrees_for(stroke.elevation));
            [azimuth, elevation, stroke.speed, stroke.side, stroke.height]
        });
        once.collect::<Vec<_>>().repeat(times)
    }

    /// What happens in each of the shots.
    ///
    /// # Panics
    /// If one of them cannot be played, or is not what the scene says.
    pub fn counts(&self) -> Vec<Counts> {
        (0..self.strokes.len())
            .map(|place| {
                let shot = self.shot_at(place);
                let counts = count(&shot);
                let kept = match self.promise {
                    Promise::Exactly { cushions, contacts, pocketed } => {
                        (counts.cushions, counts.contacts, counts.pocketed)
                            == (cushions, contacts, pocketed)
                    }
                    Promise::AtLeast { cushions, contacts } => {
                        counts.cushions >= cushions && counts.contacts >= contacts
                    }
                };
                assert!(
                    kept,
                    "scene {} is no longer \"{}\": {:?} gives {counts:?}. The model has changed; \
                     choose another layout in scenes.rs",
                    self.name, self.words, shot.stroke
                );
                counts
            })
            .collect()
    }
}

fn count(shot: &Shot) -> Counts {
    let outcome = play(shot).unwrap_or_else(|error| panic!("{error}: {shot:?}"));
    let mut counts =
        Counts { events: outcome.events.len(), duration: outcome.duration, ..Counts::default() };
    for event in &outcome.events {
        match event.kind {
            EventKind::Cushion(_) => counts.cushions += 1,
            EventKind::Contact(_) => counts.contacts += 1,
            EventKind::Pocketed(_) => counts.pocketed += 1,
            EventKind::Strike | EventKind::Roll | EventKind::Stop => {}
        }
    }
    counts
}

/// The five scenes.
pub fn scenes() -> [Scene; 5] {
    [
        Scene::new(
            "a",
            "a rolling ball to three cushions",
            placed(&[[0.6, 0.4]]),
            level(28.4, 1.85, 0.0, 0.4),
            Promise::Exactly { cushions: 3, contacts: 0, pocketed: 0 },
        ),
        Scene::new(
            "b",
            "a cut shot, one cushion",
            placed(&[[1.6598, 0.7322], [2.0187, 1.0952]]),
            level(48.85, 1.65, 0.0, 0.0),
            Promise::Exactly { cushions: 1, contacts: 1, pocketed: 1 },
        ),
        Scene::new(
            "c",
            "ten balls, follow with side, four cushions",
            placed(&[
                [1.5109, 0.8848],
                [2.063, 0.9099],
                [0.5909, 0.6433],
                [1.3826, 0.3624],
                [1.3081, 0.5042],
                [1.5075, 0.2443],
                [0.1111, 0.8571],
                [1.5921, 0.5746],
                [0.1528, 0.6344],
                [0.2575, 1.0177],
            ]),
            level(-2.15, 3.0, 0.3, 0.3),
            Promise::Exactly { cushions: 4, contacts: 1, pocketed: 1 },
        ),
        Scene::new(
            "d",
            "the break of sixteen balls at 8 m/s",
            racked(),
            level(1.5, 8.0, 0.0, 0.0),
            Promise::AtLeast { cushions: 8, contacts: 15 },
        ),
        Scene::new(
            "e",
            "one ball rolling among fifteen at rest",
            placed(&[
                [1.464, 0.6827],
                [1.7855, 0.1842],
                [0.8925, 0.1883],
                [1.9589, 0.5723],
                [0.3059, 0.1958],
                [1.421, 0.3002],
                [0.8428, 0.8208],
                [0.2574, 1.206],
                [0.0701, 0.2629],
                [1.4002, 0.202],
                [0.0788, 0.8031],
                [1.7912, 0.6985],
                [2.3548, 0.2116],
                [2.2142, 0.2828],
                [1.1215, 0.8248],
                [0.6929, 0.7652],
            ]),
            level(14.85, 1.15, 0.0, 0.4),
            Promise::Exactly { cushions: 2, contacts: 0, pocketed: 0 },
        ),
    ]
}

/// A stroke with the cue level; the azimuth in degrees.
fn level(azimuth: f64, speed: f64, side: f64, height: f64) -> Stroke {
    Stroke { azimuth: radians(azimuth), elevation: 0.0, speed, side, height }
}

/// The cue ball first, then the others by number.
fn placed(at: &[[f64; 2]]) -> Vec<PlacedBall> {
    at.iter()
        .enumerate()
        .map(|(k, &position)| PlacedBall {
            id: if k == 0 { BallId::CUE } else { BallId::object(k as u8).expect("1 to 15") },
            position: position.into(),
        })
        .collect()
}

/// Fifteen balls that touch, the first on the foot spot, and the cue ball behind the
/// head string, a little off the middle.
fn racked() -> Vec<PlacedBall> {
    let card = TableCard::of_size(TableSize::NineFoot);
    let spot = DVec2::new(0.75 * card.length, 0.5 * card.width);
    let radius = card.ball.radius;
    let mut at = vec![[0.25 * card.length, 0.5 * card.width - 0.033]];
    for row in 0..5 {
        for k in 0..=row {
            let across = f64::from(2 * k - row);
            at.push((spot + radius * DVec2::new(3f64.sqrt() * f64::from(row), across)).into());
        }
    }
    placed(&at)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scenes_are_what_they_say() {
        for scene in scenes() {
            let counts = scene.counts();
            assert_eq!(counts.len(), N_STROKES, "scene {}: every stroke is played", scene.name);
        }
    }
}
