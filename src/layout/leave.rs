//! Deals Leave items: layouts on which some stroke pots the ball on and leaves the cue
//! ball well for the next one, found by playing strokes on the model itself.

use super::draw::Draw;
use super::generate::LEVELS;
use super::steps::{in_tenths, in_thousandths, in_twentieths};
use crate::ball::BallId;
use crate::error::Error;
use crate::geometry::{angle_between, heading};
use crate::physics::{Arena, MODEL_VERSION, PlacedBall, Shot, Stroke};
use crate::practice::LeaveItem;
use crate::shot::{
    Demand, Ending, Situation, aim_at_pocket, cut_angle, distance_from, ghost_ball, least_elevation,
};
use crate::table::{PocketId, Rail, TableCard, TableSize};
use crate::units::{degrees, radians};
use glam::DVec2;

/// Layouts tried before a deal is given up (tuning choice; see the deals' tests for
/// the most seen).
const MOST_LAYOUTS: u32 = 4_000;

/// The streams of numbers of Leave begin here: none is Read's; Eye's first are the same.
const STREAM: u8 = 64;

/// What a level asks (tuning choice).
struct Brief {
    /// Balls that are neither on nor next.
    obstacles: u32,
    /// Rails that the cue ball must meet, at least; if any, those of the solution are
    /// asked for.
    rails: usize,
    /// Whether a plain stun at middle speed must not do.
    hides: bool,
    /// From the next ball, the farthest that is a good leave, m.
    reach: f64,
    /// The cuts of the ball on, degrees.
    cuts: (f64, f64),
}

fn brief(level: u8) -> Brief {
    match level {
        1 => Brief { obstacles: 0, rails: 0, hides: false, reach: 1.2, cuts: (5.0, 35.0) },
        2 => Brief { obstacles: 0, rails: 0, hides: false, reach: 1.0, cuts: (8.0, 45.0) },
        3 => Brief { obstacles: 0, rails: 0, hides: true, reach: 1.0, cuts: (8.0, 50.0) },
        4 => Brief { obstacles: 1, rails: 0, hides: true, reach: 1.0, cuts: (8.0, 50.0) },
        5 => Brief { obstacles: 1, rails: 1, hides: true, reach: 0.9, cuts: (8.0, 55.0) },
        _ => Brief { obstacles: 2, rails: 2, hides: true, reach: 0.9, cuts: (8.0, 55.0) },
    }
}

/// Strokes that are tried: speeds (m/s), tip heights and sides (ball radii).
const SPEEDS: [f64; 5] = [0.9, 1.3, 1.8, 2.5, 3.4];
const HEIGHTS: [f64; 3] = [-0.35, 0.0, 0.35];
const SIDES: [f64; 3] = [0.0, -0.3, 0.3];

/// The speed at which a plain stun must not do, m/s.
const MIDDLE_SPEED: f64 = 1.8;

/// A speed that is off by this share must still leave well.
const FORGIVEN: f64 = 0.04;

/// The cue is never raised more than this, rad: an ordinary stroke.
const HIGHEST_CUE: f64 = 8.0 * std::f64::consts::PI / 180.0;

/// Deals the Leave item of `seed` at `level` on a table of `size`.
///
/// At least one stroke of a grid of speeds and tips, aimed at the middle of the named
/// pocket, pots the ball on, meets the rails asked for, and leaves the cue ball where the
/// next ball has an open pot of moderate cut; also at a speed that is a little off. From
/// level 3 on a plain stun at middle speed does not do that. The item's own stroke is that
/// plain stun, aimed. Places are whole tenths of a millimetre, angles whole thousandths
/// of a degree.
///
/// # Errors
/// [`Error::OutOfRange`] if `level` is not one of [`LEVELS`]; [`Error::Invalid`] if no item
/// was found, which no tested seed shows.
pub fn deal_leave(level: u8, seed: u32, size: TableSize) -> Result<LeaveItem, Error> {
    if !LEVELS.contains(&level) {
        return Err(Error::out_of_range("level", f64::from(level), "must lie from 1 to 6"));
    }
    let arena = Arena::new(&TableCard::of_size(size));
    let brief = brief(level);
    (0..MOST_LAYOUTS)
        .find_map(|attempt| {
            let mut draw = Draw::new(seed, STREAM + level, attempt);
            let mut layout = propose(&arena, &mut draw, &brief)?;
            layout.demand.rails = solve(&layout, &brief)?;
            let Layout { shot, demand, .. } = layout;
            Some(LeaveItem { shot, demand, model: MODEL_VERSION, level, seed: Some(seed) })
        })
        .ok_or_else(|| Error::invalid("seed", "no item of this level was found for it"))
}

/// Balls, what is asked of them, and what that leaves.
struct Layout {
    shot: Shot,
    demand: Demand,
    next: PlacedBall,
    /// What is in the way of the next ball.
    others: Vec<DVec2>,
    pocket: PocketId,
    situation: Situation,
}

/// A layout whose ball on can be potted with a plain stun.
fn propose(arena: &Arena, draw: &mut Draw, brief: &Brief) -> Option<Layout> {
    let card = arena.card();
    let radius = card.ball.radius;
    let mut numbers: Vec<u8> = (1..=15).collect();
    let mut number =
        |draw: &mut Draw| BallId::object(numbers.remove(draw.below(numbers.len() as u32) as usize));
    let cue_ball = place(card, draw, 3.0 * radius);
    let on = PlacedBall { id: number(draw)?, position: place(card, draw, 0.5 * radius) };
    let pocket = PocketId::ALL[draw.below(6) as usize];
    let mouth = arena.shape().pocket(pocket).mouth_middle;
    let cut = degrees(cut_angle(cue_ball, on.position, mouth, radius));
    let away = (on.position - cue_ball).length();
    if !(brief.cuts.0..=brief.cuts.1).contains(&cut)
        || !(0.25..=1.4).contains(&away)
        || !enters(arena, on.position, pocket)
        || (mouth - on.position).length() > 1.4
    {
        return None;
    }
    let ghost = ghost_ball(on.position, mouth, radius);
    // Nothing in the way of either ball, a hair's breadth included.
    let free = |at: DVec2| {
        distance_from(cue_ball, ghost, at) > 2.3 * radius
            && distance_from(on.position, mouth, at) > 2.3 * radius
    };
    let mut balls = vec![PlacedBall { id: BallId::CUE, position: cue_ball }, on];
    let next = PlacedBall { id: number(draw)?, position: place(card, draw, 0.5 * radius) };
    if !free(next.position) || (next.position - on.position).length() < 0.35 {
        return None;
    }
    balls.push(next);
    for _ in 0..brief.obstacles {
        // Somewhere between the ball on and the next one, where a cue ball would go.
        let between = on.position.lerp(next.position, draw.within(0.2, 1.0));
        let off = DVec2::new(draw.within(-0.35, 0.35), draw.within(-0.35, 0.35));
        let least = DVec2::splat(card.touch_distance() + 0.5 * radius);
        let most = DVec2::new(card.length, card.width) - least;
        let position = in_tenths((between + off).clamp(least, most));
        let apart = |ball: &PlacedBall| (ball.position - position).length() > 2.5 * radius;
        if !free(position) || !balls.iter().all(apart) {
            return None;
        }
        balls.push(PlacedBall { id: number(draw)?, position });
    }
    let others = balls[3..].iter().map(|ball| ball.position).collect();
    let stun = Stroke {
        azimuth: heading(ghost - cue_ball),
        elevation: 0.0,
        speed: MIDDLE_SPEED,
        side: 0.0,
        height: stun_height(card, (ghost - cue_ball).length()),
    };
    let stroke = aimed(arena, &balls, &stun, on.id, pocket)?;
    let shot = Shot { card: *card, balls, stroke };
    let situation = Situation::new(&shot, on.id).ok()?;
    let demand = Demand { pocket: Some(pocket), next: Some(next.id), ..Demand::to_pot(on.id) };
    Some(Layout { shot, demand, next, others, pocket, situation })
}

/// The rails to ask for, if some stroke does it; those that the stroke found meets.
fn solve(layout: &Layout, brief: &Brief) -> Option<Vec<Rail>> {
    let Layout { shot, demand, situation, pocket, .. } = layout;
    let plain = situation.play(&shot.stroke);
    if !demand.is_potted(&plain) || brief.hides && leaves_well(layout, &plain, brief) {
        return None;
    }
    for side in SIDES {
        for height in HEIGHTS {
            for speed in SPEEDS {
                let stroke = Stroke { speed, side, height, ..shot.stroke };
                let Some(stroke) =
                    aimed(situation.arena(), &shot.balls, &stroke, demand.on, *pocket)
                else {
                    continue;
                };
                let given = |stroke: &Stroke| {
                    let ending = situation.play(stroke);
                    let does = demand.is_potted(&ending)
                        && ending.rails.len() >= brief.rails
                        && ending.rails.len() <= brief.rails.max(3)
                        && leaves_well(layout, &ending, brief);
                    does.then_some(ending.rails)
                };
                let Some(rails) = given(&stroke) else { continue };
                let near = |by: f64| given(&Stroke { speed: stroke.speed * by, ..stroke });
                if [1.0 - FORGIVEN, 1.0 + FORGIVEN]
                    .into_iter()
                    .all(|by| near(by) == Some(rails.clone()))
                {
                    let asked = if brief.rails > 0 { rails.len() } else { 0 };
                    return Some(rails[..asked].to_vec());
                }
            }
        }
    }
    None
}

/// Whether the next ball has an open pot of moderate cut from where the cue ball stopped.
fn leaves_well(layout: &Layout, ending: &Ending, brief: &Brief) -> bool {
    let arena = layout.situation.arena();
    let card = arena.card();
    let radius = card.ball.radius;
    let (stop, next) = (ending.stop, layout.next.position);
    let inset = DVec2::splat(card.touch_distance() + 1.5 * radius);
    let size = DVec2::new(card.length, card.width);
    let off_rails = stop.cmpge(inset).all() && stop.cmple(size - inset).all();
    let away = (next - stop).length();
    if ending.scratch || !off_rails || !(5.0 * radius..=brief.reach).contains(&away) {
        return false;
    }
    PocketId::ALL.into_iter().any(|pocket| {
        let mouth = arena.shape().pocket(pocket).mouth_middle;
        let cut = degrees(cut_angle(stop, next, mouth, radius));
        let ghost = ghost_ball(next, mouth, radius);
        let open = |at: &DVec2| {
            distance_from(stop, ghost, *at) > 2.1 * radius
                && distance_from(next, mouth, *at) > 2.1 * radius
        };
        cut <= 40.0
            && enters(arena, next, pocket)
            && (mouth - next).length() <= 1.3
            && layout.others.iter().all(open)
    })
}

/// `stroke` aimed at the middle of the mouth, the cue raised as far as it must be;
/// `None` if there is no such aim or it takes more than an ordinary stroke.
pub(super) fn aimed(
    arena: &Arena,
    balls: &[PlacedBall],
    stroke: &Stroke,
    on: BallId,
    pocket: PocketId,
) -> Option<Stroke> {
    let card = arena.card();
    // A little more than needed, for the aim will turn it a little.
    let least = degrees(least_elevation(card, balls, stroke));
    let elevation = radians((10.0 * least + 2.0).ceil() / 10.0);
    if elevation > HIGHEST_CUE {
        return None;
    }
    let raised = Stroke { elevation, ..*stroke };
    let mut found = aim_at_pocket(arena, balls, &raised, on, pocket)?.stroke;
    found.azimuth = in_thousandths(found.azimuth);
    (found.elevation >= least_elevation(card, balls, &found)).then_some(found)
}

/// Whether a ball at `place` can enter `pocket` from there.
fn enters(arena: &Arena, place: DVec2, pocket: PocketId) -> bool {
    let mouth = arena.shape().pocket(pocket);
    let widest = radians(if pocket.is_side() { 45.0 } else { 60.0 });
    angle_between(mouth.axis, mouth.mouth_middle - place).abs() <= widest
}

/// The tip height, in twentieths of a radius, at which the cue ball arrives without spin
/// after `way` (m) at middle speed: it gains as much as friction gives it.
fn stun_height(card: &TableCard, way: f64) -> f64 {
    let gained = 2.0 * card.cloth.sliding_friction * card.cloth.gravity * way;
    let left = (1.0 - gained / (MIDDLE_SPEED * MIDDLE_SPEED)).max(0.0).sqrt();
    in_twentieths(left - 1.0).max(-0.4)
}

/// A place at least `inset` (m) from where a ball touches a rail.
fn place(card: &TableCard, draw: &mut Draw, inset: f64) -> DVec2 {
    let least = card.touch_distance() + inset;
    let (x, y) = (draw.within(least, card.length - least), draw.within(least, card.width - least));
    in_tenths(DVec2::new(x, y))
}
