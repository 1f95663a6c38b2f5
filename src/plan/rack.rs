//! What is to be cleared, and by which rule.

use super::set::BallSet;
use super::table::Table;
use crate::ball::BallId;
use crate::error::Error;
use crate::order::sort_by_number;
use crate::physics::PlacedBall;
use crate::table::{Rail, TableCard};
use glam::DVec2;

/// How many balls a rack may ask for (tuning choice: what is planned at a table).
pub const MOST_IN_ROTATION: usize = 9;
/// And how many of a group, the last ball not counted.
pub const MOST_IN_GROUP: usize = 7;

/// Which ball may be played when.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Game {
    /// All object balls, always the lowest number first.
    Rotation,
    /// The balls of `group` in any order, then `last`; all others are in the way.
    Group {
        /// What is cleared in any order.
        group: BallSet,
        /// What is cleared after them.
        last: BallId,
    },
}

/// What is asked of the shot that pots one ball and goes on to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// The ball that is potted.
    pub from: BallId,
    /// The ball that must be played next.
    pub to: BallId,
    /// Rails that the cue ball must meet in between, at least.
    pub cushions: u8,
    /// The rail to whose side of `to` the cue ball must come, if one is asked for.
    pub side: Option<Rail>,
}

/// A layout to be cleared.
#[derive(Clone, Debug, PartialEq)]
pub struct Rack {
    /// The table.
    pub card: TableCard,
    /// The balls, the cue ball first.
    pub balls: Vec<PlacedBall>,
    /// The rule.
    pub game: Game,
    /// What is asked between two balls.
    pub links: Vec<Link>,
    /// The ball of a group that must be the last before `last`.
    pub key: Option<BallId>,
    targets: BallSet,
}

impl Rack {
    /// A rack of balls whose places have been checked.
    ///
    /// # Errors
    /// [`Error::Invalid`] naming `balls` if there is no cue ball, or nothing or too much to
    /// clear; `game` if the last ball is not on the table or is of the group; `links` if a link
    /// does not join two balls that can follow each other, or two leave or reach the same ball;
    /// `key` if it is not of the group.
    pub fn new(
        card: &TableCard,
        balls: &[PlacedBall],
        game: Game,
        links: Vec<Link>,
        key: Option<BallId>,
    ) -> Result<Self, Error> {
        let mut balls = balls.to_vec();
        sort_by_number(&mut balls, |ball| f64::from(ball.id.number()));
        if balls.first().is_none_or(|ball| !ball.id.is_cue()) {
            return Err(Error::invalid("balls", "the cue ball is missing"));
        }
        let all: BallSet = balls[1..].iter().map(|ball| ball.id).collect();
        let targets = match game {
            Game::Rotation => all,
            Game::Group { group, last } if all.has(last) && !group.has(last) => {
                all.and(group.with(last))
            }
            Game::Group { .. } => {
                let rule = "the last ball must lie on the table, and not be of the group";
                return Err(Error::invalid("game", rule));
            }
        };
        let most = match game {
            Game::Rotation => MOST_IN_ROTATION,
            Game::Group { .. } => MOST_IN_GROUP + 1,
        };
        if targets.is_empty() || targets.len() > most {
            let rule = format!("there must be 1 to {most} balls to clear");
            return Err(Error::invalid("balls", rule));
        }
        if let Some(key) = key
            && !matches!(game, Game::Group { group, .. } if group.has(key))
        {
            return Err(Error::invalid("key", "must be a ball of the group"));
        }
        let rack = Self { card: *card, balls, game, links, key, targets };
        rack.check_links()?;
        Ok(rack)
    }

    fn check_links(&self) -> Result<(), Error> {
        for (k, link) in self.links.iter().enumerate() {
            // In the middle of a run the first of the two may be gone.
            let follows = !self.targets.has(link.from) && self.targets.has(link.to)
                || match self.game {
                    Game::Rotation => {
                        let mut rest = self.targets.balls().skip_while(|ball| *ball != link.from);
                        rest.nth(1) == Some(link.to)
                    }
                    Game::Group { group, last } => {
                        group.has(link.from)
                            && link.from != link.to
                            && (group.has(link.to) || link.to == last)
                            && self.key != Some(link.from)
                    }
                };
            let twice = self.links[..k]
                .iter()
                .any(|before| before.from == link.from || before.to == link.to);
            if !follows || twice {
                return Err(Error::invalid(
                    format!("links[{k}]"),
                    "must join two balls that can follow each other, and no ball twice",
                ));
            }
        }
        Ok(())
    }

    /// The same with `key`, a ball of the group, kept for the last before the last ball.
    pub fn keeping(&self, key: BallId) -> Self {
        Self { key: Some(key), ..self.clone() }
    }

    /// The balls to clear.
    pub fn targets(&self) -> BallSet {
        self.targets
    }

    /// Where a ball of the rack lies, m; the origin for one that is not there.
    pub fn place_of(&self, id: BallId) -> DVec2 {
        self.balls.iter().find(|ball| ball.id == id).map_or(DVec2::ZERO, |ball| ball.position)
    }

    /// The table while `left` are left and all lie where the rack has them.
    pub fn table_of(&self, left: BallSet) -> Table {
        let gone = self.targets.minus(left);
        let balls = self.balls.iter().copied().filter(|ball| !gone.has(ball.id)).collect();
        Table { balls, left }
    }

    /// Whether all balls of `table` but the cue ball lie where the rack has them.
    pub fn lies_so(&self, table: &Table) -> bool {
        table.balls.iter().all(|ball| ball.id.is_cue() || self.balls.contains(ball))
    }

    /// Sets that may be left after some legal pots, none of them empty; one that holds
    /// another comes after it.
    pub fn sets(&self) -> Vec<BallSet> {
        let mut found = vec![self.targets];
        let mut next = 0;
        while let Some(&left) = found.get(next) {
            next += 1;
            for ball in self.legal(left).balls() {
                let after = left.without(ball);
                if !after.is_empty() && !found.contains(&after) {
                    found.push(after);
                }
            }
        }
        // Each pot takes one ball, so those found later hold no more.
        found.reverse();
        found
    }

    /// Those of `left` (balls to clear that are still there) that may be played now.
    pub fn legal(&self, left: BallSet) -> BallSet {
        let (group, last) = match self.game {
            Game::Rotation => return left.balls().take(1).collect(),
            Game::Group { group, last } => (left.and(group), last),
        };
        if group.is_empty() {
            return left.and(BallSet::NONE.with(last));
        }
        // Where a link has begun, it goes on; what may not be played then is a dead end,
        // which a plan avoids.
        let begun = |link: &&Link| !left.has(link.from) && left.has(link.to);
        let open = match self.links.iter().find(begun) {
            Some(link) => group.and(BallSet::NONE.with(link.to)),
            None => group,
        };
        let waits = |ball: &BallId| {
            self.links.iter().any(|link| link.to == *ball && left.has(link.from))
                || self.key == Some(*ball) && group.len() > 1
        };
        open.balls().filter(|ball| !waits(ball)).collect()
    }

    /// Those that the cue ball may meet first while `left` are left: in a group any of it.
    pub fn may_be_met(&self, left: BallSet) -> BallSet {
        match self.game {
            Game::Rotation => self.legal(left),
            Game::Group { group, last } => {
                let group = left.and(group);
                if group.is_empty() { BallSet::NONE.with(last) } else { group }
            }
        }
    }

    /// Whether a shot that pots `ball`, meets `n_rails` rails and leaves the cue ball at
    /// `stop` gives what is asked between it and the next ball, which lies at `at`.
    pub fn gives(
        &self,
        ball: BallId,
        n_rails: usize,
        stop: DVec2,
        at: impl Fn(BallId) -> DVec2,
    ) -> bool {
        self.links.iter().filter(|link| link.from == ball).all(|link| {
            let off = stop - at(link.to);
            let beside = link.side.is_none_or(|rail| match rail {
                Rail::Head => off.x < 0.0,
                Rail::Foot => off.x > 0.0,
                Rail::Right => off.y < 0.0,
                Rail::Left => off.y > 0.0,
            });
            n_rails >= usize::from(link.cushions) && beside
        })
    }
}
