//! Deals Read items: strokes that a player would play, whose path is worth
//! calling, at a level computed from the path.

use super::difficulty::{Features, ceiling, level_of};
use super::draw::Draw;
use super::early_reject::is_promising;
use super::steps::{in_tenths, in_thousandths, in_twentieths};
use crate::ball::BallId;
use crate::error::Error;
use crate::geometry::angle_between;
use crate::physics::{Arena, BallEnd, MODEL_VERSION, Outcome, PlacedBall, Shot, Stroke, play};
use crate::practice::{CuePath, HARDEST, ReadItem};
use crate::shot::{aim_at_pocket, cut_angle, least_elevation};
use crate::table::{PocketId, Surface, TableCard, TableSize};
use crate::units::{degrees, radians};
use glam::DVec2;

/// The numbers of the levels of difficulty.
pub const LEVELS: std::ops::RangeInclusive<u8> = 1..=HARDEST;

/// Seeds whose remainders by this number differ give layouts that differ by more
/// than a ball in at least one ball's place.
pub const SLOTS: u32 = 512;

/// Attempts before a deal is given up (tuning choice). The most seen, when draw, stun
/// and follow were still tried alike, was 20,759.
const MOST_ATTEMPTS: u32 = 400_000;

/// For so many attempts the spin that a seed is dealt first (draw, stun or follow) is
/// insisted on: else follow, which pots most easily, would be four deals of five
/// (tuning choice).
const INSISTING: u32 = 4_000;

/// More cushions than this nobody plans with two balls on the table (tuning choice).
const MOST_CUSHIONS: u32 = 3;

/// The lowest tip that is dealt, in ball radii (tuning choice: short of a miscue).
const LOWEST_TIP: f64 = -0.45;

/// Places are dealt in cells of two balls, a ball wide, so that two cells are
/// always a ball apart. Both in ball radii.
const PITCH: f64 = 4.0;
/// A tenth of a millimetre less than a ball, for the rounding of places.
const JITTER: f64 = 1.99;

/// Deals the Read item of `seed` at `level` on a table of `size`.
///
/// The object ball falls in the exact model without touching anything on its way,
/// the cue ball touches no other ball, no jaw and no pocket, and the same rails when
/// aim, speed and tip are a little off. Places are whole tenths of a millimetre,
/// angles whole thousandths of a degree, so that a link carries them exactly.
///
/// # Errors
/// [`Error::OutOfRange`] if `level` is not one of [`LEVELS`]; [`Error::Invalid`] if
/// no item was found, which no tested seed shows.
pub fn deal_read(level: u8, seed: u32, size: TableSize) -> Result<ReadItem, Error> {
    if !LEVELS.contains(&level) {
        return Err(Error::out_of_range("level", f64::from(level), "must lie from 1 to 6"));
    }
    let arena = Arena::new(&TableCard::of_size(size));
    let first_kind = Draw::new(seed, level, u32::MAX).below(3);
    (0..MOST_ATTEMPTS)
        .find_map(|attempt| {
            let mut draw = Draw::new(seed, level, attempt);
            let kind = if attempt < INSISTING { first_kind } else { draw.below(3) };
            let shot = propose(&arena, &mut draw, level, kind, seed % SLOTS)?;
            accept(&arena, &shot, level)?;
            Some(ReadItem { shot, model: MODEL_VERSION, level, seed: Some(seed) })
        })
        .ok_or_else(|| Error::invalid("seed", "no item of this level was found for it"))
}

/// A stroke that pots the object ball, or `None` if this attempt gives none.
fn propose(arena: &Arena, draw: &mut Draw, level: u8, kind: u32, slot: u32) -> Option<Shot> {
    let card = arena.card();
    let balls = place_balls(card, draw, slot)?;
    let (cue_ball, object) = (balls[0].position, balls[1]);
    let pocket = PocketId::ALL[draw.below(6) as usize];
    let mouth = arena.shape().pocket(pocket);
    let cut = degrees(cut_angle(cue_ball, object.position, mouth.mouth_middle, card.ball.radius));
    let entry = angle_between(mouth.axis, mouth.mouth_middle - object.position).abs();
    // A side pocket takes no ball along its own rail.
    let widest = if pocket.is_side() { radians(50.0) } else { radians(75.0) };
    if !(2.0..=62.0).contains(&cut) || entry > widest {
        return None;
    }
    let ghost_line = object.position - cue_ball;
    let mut stroke = choose_stroke(card, draw, level, kind, ghost_line.length())?;
    stroke.azimuth = crate::geometry::heading(ghost_line);
    stroke.elevation = ordinary_elevation(card, &balls, &stroke)?;
    let aim = aim_at_pocket(arena, &balls, &stroke, object.id, pocket)?;
    stroke.azimuth = in_thousandths(aim.stroke.azimuth);
    if stroke.elevation < least_elevation(card, &balls, &stroke) {
        return None;
    }
    Some(Shot { card: *card, balls, stroke })
}

/// A little more than the least elevation (rad) of the cue, in whole tenths of a degree;
/// `None` if that is steeper than an ordinary stroke.
pub(super) fn ordinary_elevation(
    card: &TableCard,
    balls: &[PlacedBall],
    stroke: &Stroke,
) -> Option<f64> {
    let least = degrees(least_elevation(card, balls, stroke));
    (least <= 8.0).then(|| radians((10.0 * least + 2.0).ceil() / 10.0))
}

/// Cells of places on one table.
struct Grid {
    /// Corner of the first cell, m.
    origin: DVec2,
    /// From one cell to the next, m.
    pitch: DVec2,
    columns: u32,
    rows: u32,
    /// Side of a cell, m.
    jitter: f64,
}

impl Grid {
    /// Cells that fill the table but for `inset` along every rail.
    fn new(card: &TableCard, inset: f64) -> Self {
        let origin = DVec2::splat(card.touch_distance() + inset);
        let jitter = JITTER * card.ball.radius;
        let room = DVec2::new(card.length, card.width) - 2.0 * origin - DVec2::splat(jitter);
        let steps = (room / (PITCH * card.ball.radius)).floor();
        let (columns, rows) = (steps.x as u32 + 1, steps.y as u32 + 1);
        Self { origin, pitch: room / steps, columns, rows, jitter }
    }

    /// A place in a cell, in whole tenths of a millimetre.
    fn place(&self, draw: &mut Draw, column: u32, row: u32) -> DVec2 {
        let share = DVec2::new(draw.within(0.0, 1.0), draw.within(0.0, 1.0));
        let cell = DVec2::new(f64::from(column), f64::from(row)) * self.pitch;
        in_tenths(self.origin + cell + share * self.jitter)
    }
}

/// Cue ball and object ball: the slot fixes the cue ball's cell, and the object
/// ball's column up to a multiple of the number of classes.
fn place_balls(card: &TableCard, draw: &mut Draw, slot: u32) -> Option<Vec<PlacedBall>> {
    let radius = card.ball.radius;
    // Nearer than a ball to the rail, a cue ball can hardly be struck as asked.
    let starts = Grid::new(card, 2.0 * radius);
    let others = Grid::new(card, 0.0);
    let cells = starts.columns * starts.rows;
    let classes = SLOTS.div_ceil(cells);
    let (cell, class) = (slot % cells, slot / cells);
    let cue_ball = starts.place(draw, cell % starts.columns, cell / starts.columns);
    let column = class + classes * draw.below((others.columns - class).div_ceil(classes));
    let row = draw.below(others.rows);
    let object = others.place(draw, column, row);
    let number = 1 + draw.below(15) as u8;
    if (object - cue_ball).length() < 6.0 * radius {
        return None;
    }
    Some(vec![
        PlacedBall { id: BallId::CUE, position: cue_ball },
        PlacedBall { id: BallId::object(number)?, position: object },
    ])
}

/// Speed and tip, with more side and more speed at the higher levels. `kind` is 0
/// for draw, 1 for stun, else follow: what counts is the spin that is left where the
/// balls meet, `distance` (m) away. `None` if no tip is low enough for it.
fn choose_stroke(
    card: &TableCard,
    draw: &mut Draw,
    level: u8,
    kind: u32,
    distance: f64,
) -> Option<Stroke> {
    let rank = f64::from(level);
    let speed = libm::exp(draw.within(-0.7 + 0.18 * rank, 0.4 + 0.17 * rank));
    let height = match kind {
        0 => height_for(card, draw.within(-1.0, -0.2), speed, distance)?,
        1 => height_for(card, draw.within(-0.1, 0.1), speed, distance)?,
        _ => draw.within(0.0, 0.4),
    };
    let with_side = draw.chance(0.16 * (rank - 1.0));
    let side = if with_side { draw.within(-0.35, 0.35) } else { 0.0 };
    Some(Stroke {
        azimuth: 0.0,
        elevation: 0.0,
        speed: in_twentieths(speed).max(0.5),
        side: in_twentieths(side),
        height: in_twentieths(height),
    })
}

/// The tip height that leaves spin about the level axis of `roll` times natural roll
/// after `distance` (m) at `speed` (m/s); `None` if that takes a miscue.
pub(super) fn height_for(card: &TableCard, roll: f64, speed: f64, distance: f64) -> Option<f64> {
    // While it slides for a way d, the ball goes from v to w, w² = v² - 2 mu g d,
    // and R omega rises by 5/2 (v - w), from 5/2 h v at a tip of height h R.
    let way = distance - 2.0 * card.ball.radius;
    let square = speed * speed - 2.0 * card.cloth.sliding_friction * card.cloth.gravity * way;
    let left = (square > 0.0).then(|| square.sqrt() / speed)?;
    Some((0.4 * roll + 1.0) * left - 1.0).filter(|height| *height >= LOWEST_TIP)
}

/// `Some` if the shot is worth asking and of this level.
fn accept(arena: &Arena, shot: &Shot, level: u8) -> Option<()> {
    let most_cushions = (0..=MOST_CUSHIONS).rev().find(|&cushions| {
        let least = Features { cushions, bend: 0.0, side: shot.stroke.side.abs(), lengths: 0.0 };
        least.difficulty() < ceiling(level)
    })?;
    if !is_promising(arena, shot, most_cushions) {
        return None;
    }
    let outcome = play(shot).ok()?;
    let path = clean_path(shot, &outcome)?;
    let features = Features::of(shot, &path);
    if features.cushions > MOST_CUSHIONS || level_of(features.difficulty()) != level {
        return None;
    }
    let rails = |path: &CuePath| path.touches.iter().map(|touch| touch.surface).collect::<Vec<_>>();
    // A path that a hair's breadth turns into another one teaches nothing.
    let steady = [(0.03, 1.0, 0.0), (-0.03, 1.0, 0.0), (0.0, 1.03, 0.01), (0.0, 0.97, -0.01)]
        .into_iter()
        .all(|(turn, faster, higher)| {
            let mut other = shot.clone();
            other.stroke.azimuth += radians(turn);
            other.stroke.speed *= faster;
            other.stroke.height += higher;
            play(&other)
                .ok()
                .and_then(|outcome| clean_path(&other, &outcome))
                .is_some_and(|near| rails(&near) == rails(&path))
        });
    steady.then_some(())
}

/// The cue ball's path, if the shot went as a player would plan it.
fn clean_path(shot: &Shot, outcome: &Outcome) -> Option<CuePath> {
    let path = CuePath::of(shot, outcome)?;
    let (BallEnd::Rest(_), BallEnd::Pocketed(_)) = (outcome.ends[0], outcome.ends[1]) else {
        return None;
    };
    use crate::physics::EventKind;
    let contacts =
        outcome.events.iter().filter(|e| matches!(e.kind, EventKind::Contact(_))).count();
    let object_cushions =
        outcome.events.iter().any(|e| !e.ball.is_cue() && matches!(e.kind, EventKind::Cushion(_)));
    let on_rails = path.touches.iter().all(|touch| matches!(touch.surface, Surface::Rail(_)));
    let repeats = path.touches.windows(2).any(|pair| pair[0].surface == pair[1].surface);
    let before = outcome
        .events
        .iter()
        .any(|e| matches!(e.kind, EventKind::Cushion(_)) && e.time < path.contact_time);
    let last = path.touches.last().map_or(path.ghost, |touch| touch.position);
    let stop_is_clear = (path.stop - last).length() > 4.0 * shot.card.ball.radius;
    let fine =
        contacts == 1 && !object_cushions && on_rails && !repeats && !before && stop_is_clear;
    fine.then_some(path)
}
