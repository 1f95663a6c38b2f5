//! Friction at the two contacts of a ball that meets a cushion: nose and cloth.
//!
//! All rates are for each unit of impulse at the nose and of the ball's mass. The
//! nose's second axis is the tangent (0, -sine, cosine) of the ball.

use glam::DVec2;

/// The two contacts, as far as one impact does not change them.
#[derive(Clone, Copy)]
pub(super) struct Contacts {
    pub sine: f64,
    pub cosine: f64,
    /// Coefficient of friction at the nose.
    pub nose_friction: f64,
    /// Coefficient of friction at the cloth.
    pub bed_friction: f64,
}

/// Slips of the ball's surface over nose and cloth, or their rates of change.
#[derive(Clone, Copy)]
pub(super) struct Slips {
    pub nose: DVec2,
    pub bed: DVec2,
}

/// What friction does at one contact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Grip {
    /// The surfaces slip, and friction pulls against this unit vector.
    Slips(DVec2),
    /// Friction is whatever makes the slip change at this rate; none, if the
    /// surfaces hold.
    Follows(DVec2),
}

/// The surfaces hold.
pub(super) const HOLDS: Grip = Grip::Follows(DVec2::ZERO);

/// Friction at nose and bed.
#[derive(Clone, Copy)]
pub(super) struct Frictions {
    pub nose: DVec2,
    pub bed: DVec2,
    /// Impulse between ball and bed.
    pub bed_press: f64,
}

impl Contacts {
    /// By how much friction at one contact slows the slip at the other.
    pub fn cross(&self) -> DVec2 {
        DVec2::new(1.0 - 2.5 * self.sine, 2.5 - self.sine)
    }

    /// By how much friction at the nose slows the nose's own slip.
    pub fn own(&self) -> DVec2 {
        DVec2::new(3.5, 2.5 + self.sine * self.sine)
    }

    /// The inverse of friction at the nose while it holds and the bed slips along u,
    /// as a share: `.0 + cosine * .1 * u.y`.
    pub fn nose_hold(&self) -> (f64, f64) {
        (self.own().y, self.cross().y * self.bed_friction)
    }

    /// What presses the ball on the bed while the nose slips along `direction`, as
    /// a share of the impulse: less than nothing where it is lifted off.
    pub fn press(&self, direction: DVec2) -> f64 {
        self.sine + self.cosine * self.nose_friction * direction.y
    }

    #[inline]
    fn bed_press(&self, nose: DVec2) -> f64 {
        (self.sine + self.cosine * nose.y).max(0.0)
    }

    /// How the slips change under these frictions.
    #[inline]
    pub fn slip_rates(&self, nose: DVec2, bed: DVec2) -> Slips {
        let push = DVec2::new(0.0, self.cosine);
        Slips {
            nose: push * self.sine - self.own() * nose - self.cross() * bed,
            bed: -push - self.cross() * nose - 3.5 * bed,
        }
    }

    /// The frictions under these grips.
    #[inline]
    pub fn frictions(&self, nose: Grip, bed: Grip) -> Frictions {
        let nose = match (nose, bed) {
            (Grip::Slips(direction), _) => direction * self.nose_friction,
            (Grip::Follows(rate), Grip::Slips(direction)) => self.nose_follows(rate, direction),
            (Grip::Follows(nose_rate), Grip::Follows(bed_rate)) => {
                self.both_follow(nose_rate, bed_rate)
            }
        };
        let bed_press = self.bed_press(nose);
        let bed = match bed {
            Grip::Slips(direction) => direction * (self.bed_friction * bed_press),
            Grip::Follows(rate) => self.slip_rates(nose, DVec2::ZERO).bed / 3.5 - rate / 3.5,
        };
        Frictions { nose, bed, bed_press }
    }

    /// Friction at the nose whose slip changes at `rate` while the bed slips
    /// along `direction`.
    fn nose_follows(&self, rate: DVec2, direction: DVec2) -> DVec2 {
        let (own, cross) = (self.own(), self.cross());
        let pull = cross.y * self.bed_friction * direction.y;
        let y = (self.sine * (self.cosine - pull) - rate.y) / (own.y + self.cosine * pull);
        if self.sine + self.cosine * y <= 0.0 {
            // The nose lifts the ball off the cloth, whose friction is gone.
            return (DVec2::new(0.0, self.sine * self.cosine) - rate) / own;
        }
        let bed = self.bed_friction * (self.sine + self.cosine * y) * direction.x;
        DVec2::new(-(cross.x * bed + rate.x) / own.x, y)
    }

    /// Friction at the nose where both slips change at given rates.
    fn both_follow(&self, nose_rate: DVec2, bed_rate: DVec2) -> DVec2 {
        let (own, cross) = (self.own(), self.cross());
        let push = DVec2::new(0.0, self.cosine);
        let (nose, bed) = (push * self.sine - nose_rate, -push - bed_rate);
        (3.5 * nose - cross * bed) / (3.5 * own - cross * cross)
    }

    /// Whether the nose, which follows, needs no more friction than it has.
    pub fn nose_spare(&self, frictions: &Frictions) -> f64 {
        self.nose_friction - frictions.nose.length()
    }

    /// The same for the bed.
    pub fn bed_spare(&self, frictions: &Frictions) -> f64 {
        self.bed_friction * frictions.bed_press - frictions.bed.length()
    }
}
