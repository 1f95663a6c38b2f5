//! Ends a proposed shot at the first thing that no dealt item may do: most
//! proposals fail early, and cushions are what playing on would cost.

use crate::physics::{Arena, Event, EventKind, Listen, Shot, at_the_strike};
use crate::table::Surface;

/// Hears whether a shot can still become an item.
struct Screen {
    most_cushions: u32,
    contacts: u32,
    cushions: u32,
    over: bool,
}

impl Listen for Screen {
    fn event(&mut self, event: Event) {
        match event.kind {
            EventKind::Contact(_) => {
                self.contacts += 1;
                self.over |= self.contacts > 1;
            }
            EventKind::Cushion(surface) => {
                self.cushions += 1;
                self.over |= !event.ball.is_cue()
                    || !matches!(surface, Surface::Rail(_))
                    || self.contacts == 0
                    || self.cushions > self.most_cushions;
            }
            EventKind::Pocketed(_) => self.over |= event.ball.is_cue(),
            EventKind::Strike | EventKind::Roll | EventKind::Stop => {}
        }
    }

    fn has_heard_enough(&self) -> bool {
        self.over
    }
}

/// Whether nothing in the shot rules it out: one contact, rails only and at most
/// `most_cushions` of them, all after the contact and by the cue ball, no scratch.
pub(super) fn is_promising(arena: &Arena, shot: &Shot, most_cushions: u32) -> bool {
    let Some(struck) = shot.struck().filter(|_| shot.check().is_ok()) else { return false };
    let mut screen = Screen { most_cushions, contacts: 0, cushions: 0, over: false };
    arena.run(&at_the_strike(&shot.balls, struck), &mut screen);
    !screen.over
}
