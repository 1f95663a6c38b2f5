//! A library of strokes at every ball over a grid of cue-ball places.

use super::foresight::Foresight;
use super::kept_stroke::{BYTES, Kept, Tried};
use super::rack::Rack;
use super::strokes::{TIPS, Tip};
use super::target::Target;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::Arena;
use crate::shot::{Grid, Hand, Series, Wobble};

/// Strokes of the hand by which one is tried (tuning choice).
const TRIED: u32 = 16;

/// How fine a guide is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fineness {
    /// Places of the cue ball along the table and across.
    pub columns: usize,
    /// See `columns`.
    pub rows: usize,
    /// Tips, of [`TIPS`].
    pub tips: usize,
    /// Speeds.
    pub speeds: u8,
}

impl Fineness {
    /// What plans are made of (tuning choice: a first one within two seconds for seven balls;
    /// with more tips and speeds quick decisions are no better).
    pub const PLANNED: Self = Self { columns: 24, rows: 12, tips: 5, speeds: 8 };
}

/// The strokes, shelf by shelf: one shelf for each ball and place. A guide is made empty
/// and filled in any order, by any number of workers. The shelves of every second place, as
/// the black squares of a chessboard lie, come first: they do for a [first](Self::n_first)
/// plan.
#[derive(Clone, Debug)]
pub struct Guide {
    rack: Rack,
    arena: Arena,
    hand: Hand,
    fineness: Fineness,
    grid: Grid,
    targets: Vec<Target>,
    /// The places in the order of their shelves, and where in that order each one stands.
    order: Vec<usize>,
    ranks: Vec<usize>,
    /// One for each target at the first place, then at the next; `None` is not worked out yet.
    shelves: Vec<Option<Box<[Kept]>>>,
}

impl Guide {
    /// The guide to `rack` for this hand, with nothing on its shelves.
    pub fn new(rack: &Rack, hand: &Hand, fineness: Fineness) -> Self {
        let arena = Arena::new(&rack.card);
        let grid = Grid::new(&rack.card, fineness.columns, fineness.rows);
        let loose = rack.targets();
        let targets: Vec<Target> = rack
            .balls
            .iter()
            .filter(|ball| loose.has(ball.id))
            .map(|ball| Target::new(&arena, &rack.balls, *ball, loose))
            .collect();
        let is_black = |cell: &usize| (cell % grid.columns + cell / grid.columns).is_multiple_of(2);
        let (mut order, white): (Vec<usize>, Vec<usize>) = (0..grid.n_cells()).partition(is_black);
        order.extend(white);
        let mut ranks = vec![0; order.len()];
        order.iter().enumerate().for_each(|(rank, cell)| ranks[*cell] = rank);
        let shelves = vec![None; targets.len() * order.len()];
        let rack = rack.clone();
        Self { rack, arena, hand: *hand, fineness, grid, targets, order, ranks, shelves }
    }

    /// Whether it is the guide to this rack for this hand, so fine.
    pub fn is_for(&self, rack: &Rack, hand: &Hand, fineness: Fineness) -> bool {
        (&self.rack, &self.hand, self.fineness) == (rack, hand, fineness)
    }

    /// The number of its shelves.
    pub fn n_shelves(&self) -> usize {
        self.shelves.len()
    }

    /// So many of its shelves do for a first plan: what is not known of the places between is
    /// foreseen as their neighbours are.
    pub fn n_first(&self) -> usize {
        self.targets.len() * self.order.len().div_ceil(2)
    }

    /// The number of a target's shelf for the place with number `cell`.
    fn shelf_of(&self, target: usize, cell: usize) -> usize {
        self.ranks[cell] * self.targets.len() + target
    }

    /// Works out the shelves `from` to `to` (excluded) and puts them where they belong.
    pub fn fill(&mut self, from: usize, to: usize) {
        for shelf in from..to.min(self.shelves.len()) {
            let target = &self.targets[shelf % self.targets.len()];
            let place = self.grid.place_of(self.order[shelf / self.targets.len()]);
            let entries = if target.leaves_free(&self.arena, place) {
                target.from(&self.arena, &self.hand, place, self.tips(), self.fineness.speeds)
            } else {
                Vec::new()
            };
            let pots = entries.iter().filter(|entry| entry.pot > 0.0);
            self.shelves[shelf] = Some(pots.map(Kept::of).collect());
        }
    }

    /// Lets the hand try the strokes on which `foresight` rests at the places `from` to `to`
    /// (excluded), and gives what came of it for other workers: nothing if all had been tried.
    /// A foresight after that sees their true stops, and may rest on others: a few rounds
    /// settle it.
    pub fn try_out(&mut self, foresight: &Foresight, from: usize, to: usize) -> Vec<u8> {
        let wobbles: Vec<Wobble> =
            (0..TRIED).map(|k| Wobble::drawn(Series::Guide.number(), k)).collect();
        let mut bytes = Vec::new();
        for cell in from..to.min(self.grid.n_cells()) {
            let place = self.grid.place_of(cell);
            for (ball, number) in foresight.untried(self, cell) {
                let Some(at) = self.targets.iter().position(|t| t.ball().id == ball) else {
                    continue;
                };
                let shelf = self.shelf_of(at, cell);
                let Some(kept) = self.shelves[shelf].as_mut().and_then(|of| of.get_mut(number))
                else {
                    continue;
                };
                let (target, stroke) = (&self.targets[at], kept.stroke(self.fineness.speeds));
                let tried =
                    target.tried(&self.arena, &self.hand, place, &stroke, kept.pocket, &wobbles);
                bytes.extend((shelf as u32).to_le_bytes());
                bytes.extend((number as u32).to_le_bytes());
                tried.write(&mut bytes);
                kept.tried = Some(Box::new(tried));
            }
        }
        bytes
    }

    /// Takes what [`try_out`](Self::try_out) of another worker gave.
    ///
    /// # Errors
    /// [`Error::Malformed`] naming `bytes` if they are not such.
    pub fn take_trials(&mut self, bytes: &[u8]) -> Result<(), Error> {
        let malformed = || Error::malformed("bytes", "must be trials of the same guide");
        let mut rest = bytes;
        while let Some((head, after)) = rest.split_first_chunk::<8>() {
            let [a, b, c, d, e, f, g, h] = *head;
            let shelf = u32::from_le_bytes([a, b, c, d]) as usize;
            let number = u32::from_le_bytes([e, f, g, h]) as usize;
            let (tried, after) = Tried::read(after).ok_or_else(malformed)?;
            let shelf = self.shelves.get_mut(shelf).and_then(Option::as_mut);
            let kept = shelf.and_then(|shelf| shelf.get_mut(number));
            kept.ok_or_else(malformed)?.tried = Some(Box::new(tried));
            rest = after;
        }
        if rest.is_empty() { Ok(()) } else { Err(malformed()) }
    }

    /// The shelves `from` to `to` (excluded) in bytes, for a guide to the same in another
    /// worker.
    pub fn bytes(&self, from: usize, to: usize) -> Vec<u8> {
        let mut bytes = Vec::new();
        for shelf in &self.shelves[from..to.min(self.shelves.len())] {
            let shelf = shelf.as_deref().unwrap_or_default();
            bytes.extend((shelf.len() as u32).to_le_bytes());
            shelf.iter().for_each(|kept| kept.write(&mut bytes));
        }
        bytes
    }

    /// Takes what [`bytes`](Self::bytes) gave, for the shelves from `from` on.
    ///
    /// # Errors
    /// [`Error::Malformed`] naming `bytes` if they are not such.
    pub fn take(&mut self, from: usize, bytes: &[u8]) -> Result<(), Error> {
        let malformed = || Error::malformed("bytes", "must be shelves of the same guide");
        let mut rest = bytes;
        let mut shelf = from;
        while let Some((n, after)) = rest.split_first_chunk::<4>() {
            let n = u32::from_le_bytes(*n) as usize;
            let size = n.checked_mul(BYTES).filter(|size| *size <= after.len());
            let (strokes, after) = after.split_at(size.ok_or_else(malformed)?);
            let into = self.shelves.get_mut(shelf).ok_or_else(malformed)?;
            *into = Some(strokes.as_chunks::<BYTES>().0.iter().map(Kept::read).collect());
            (rest, shelf) = (after, shelf + 1);
        }
        if rest.is_empty() { Ok(()) } else { Err(malformed()) }
    }

    /// What is to be cleared.
    pub fn rack(&self) -> &Rack {
        &self.rack
    }

    /// The table.
    pub fn arena(&self) -> &Arena {
        &self.arena
    }

    /// The hand.
    pub fn hand(&self) -> &Hand {
        &self.hand
    }

    /// The places of the cue ball.
    pub fn grid(&self) -> &Grid {
        &self.grid
    }

    /// The tips that strokes are made of.
    pub fn tips(&self) -> &'static [Tip] {
        &TIPS[..self.fineness.tips.min(TIPS.len())]
    }

    /// How many speeds they are made of.
    pub fn n_speeds(&self) -> u8 {
        self.fineness.speeds
    }

    /// The ball among the others, where the rack has it.
    pub fn target(&self, ball: BallId) -> Option<&Target> {
        self.targets.iter().find(|target| target.ball().id == ball)
    }

    /// Strokes at `ball` from the place with number `cell`; none where that is not worked out.
    pub fn shelf(&self, ball: BallId, cell: usize) -> &[Kept] {
        self.worked_out(ball, cell).unwrap_or_default()
    }

    /// Strokes at `ball` from the place with number `cell`, if that is worked out.
    pub fn worked_out(&self, ball: BallId, cell: usize) -> Option<&[Kept]> {
        let target = self.targets.iter().position(|target| target.ball().id == ball)?;
        self.shelves.get(self.shelf_of(target, cell))?.as_deref()
    }
}
