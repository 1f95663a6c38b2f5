//! The proof of what a map ends with at one place, which can be taken in parts.

use super::aim::Aim;
use super::errors::Errors;
use super::pot_proof::{Evidence, PotProof};
use super::{HOPELESS, PotMap, Spot, StandardPot, best_of};
use crate::physics::PlacedBall;
use crate::table::PocketId;
use arrayvec::ArrayVec;
use glam::DVec2;

/// What is known of one place so far.
#[derive(Clone, Debug)]
pub struct SpotProof {
    place: DVec2,
    is_free: bool,
    pots: ArrayVec<(PocketId, StandardPot), 6>,
    proved: [bool; 6],
    /// Of the pocket that seems to be the best.
    evidence: Evidence,
}

impl SpotProof {
    /// Of the best pocket, or the named one; no stroke is played yet.
    pub fn new(map: &PotMap, place: DVec2, pocket: Option<PocketId>) -> Self {
        let balls = map.with_cue_ball(place);
        let is_free = map.is_free(place);
        let pots = match pocket {
            _ if !is_free => ArrayVec::new(),
            Some(pocket) => {
                map.pot(&balls, place, pocket).map(|pot| (pocket, pot)).into_iter().collect()
            }
            None => map.pots(&balls, place),
        };
        Self { place, is_free, pots, proved: [false; 6], evidence: Evidence::default() }
    }

    /// Plays about as many strokes more as `left` says, which then says how many are left;
    /// the spot, once it is proved.
    pub fn advance(&mut self, map: &PotMap, left: &mut u32) -> Option<Spot> {
        self.is_over(map, left).then(|| self.spot())
    }

    /// What is known of the spot so far.
    pub(super) fn spot(&self) -> Spot {
        let best = self.best();
        let chance = best.map_or(0.0, |(_, pot)| pot.chance);
        Spot {
            chance: if self.is_free { chance } else { f64::NAN },
            pocket: best.map(|(pocket, _)| pocket),
        }
    }

    /// The same with all strokes that it takes.
    pub(super) fn whole(mut self, map: &PotMap) -> Self {
        while !self.is_over(map, &mut { u32::MAX }) {}
        self
    }

    /// What is the best so far, if the ball goes anywhere.
    pub(super) fn best(&self) -> Option<(PocketId, StandardPot)> {
        best_of(&self.pots)
    }

    /// Tries what seems to be the best by strokes, until that is the best.
    fn is_over(&mut self, map: &PotMap, left: &mut u32) -> bool {
        let balls = map.with_cue_ball(self.place);
        while let Some((pocket, pot)) = self.best() {
            if self.proved[pocket as usize] || pot.chance < HOPELESS {
                break;
            }
            let chance = match map.aim(&balls, self.place, pocket) {
                Some(aim) => played(&aim, &balls, pocket, &mut self.evidence, left),
                None => Some(0.0),
            };
            let Some(chance) = chance else { return false };
            self.evidence = Evidence::default();
            self.proved[pocket as usize] = true;
            for (_, pot) in self.pots.iter_mut().filter(|(other, _)| *other == pocket) {
                pot.chance = chance;
            }
        }
        true
    }
}

/// The chance of one pocket, once strokes have shown enough; 0 if the ball on is not met.
fn played(
    aim: &Aim,
    balls: &[PlacedBall],
    pocket: PocketId,
    evidence: &mut Evidence,
    left: &mut u32,
) -> Option<f64> {
    let Some(errors) = Errors::new(aim) else { return Some(0.0) };
    PotProof::new(&errors, balls, pocket).advance(evidence, left)
}
