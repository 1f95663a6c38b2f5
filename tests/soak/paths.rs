//! Legs of balls, and how near two of them come: exactly, from the polynomials,
//! and with none of the core's own root finding.

use glam::DVec2;
use leaveline::Phase;
use leaveline::physics::Course;
use leaveline::table::{TableShape, Wall};

/// One ball's course from one moment to another, s.
#[derive(Clone, Copy, Debug)]
pub struct Leg {
    pub course: Course,
    pub since: f64,
    pub until: f64,
}

impl Leg {
    /// The centre at the moment `time`, m.
    pub fn position(&self, time: f64) -> DVec2 {
        self.course.position(time - self.since)
    }

    pub fn end(&self) -> DVec2 {
        self.position(self.until)
    }

    pub fn length(&self) -> f64 {
        self.until - self.since
    }

    /// Its motion against `other`, from the moment `time` on.
    fn against(&self, other: &Leg, time: f64) -> Parabola {
        let (own, others) = (time - self.since, time - other.since);
        Parabola {
            at: self.course.position(own) - other.course.position(others),
            velocity: self.course.velocity(own) - other.course.velocity(others),
            acceleration: self.course.acceleration - other.course.acceleration,
        }
    }

    fn parabola(&self) -> Parabola {
        let Course { start, acceleration, .. } = self.course;
        Parabola { at: start.position, velocity: start.velocity, acceleration }
    }
}

/// Where a point is, was going and is drawn to.
#[derive(Clone, Copy)]
struct Parabola {
    at: DVec2,
    velocity: DVec2,
    acceleration: DVec2,
}

impl Parabola {
    fn position(&self, time: f64) -> DVec2 {
        self.at + (self.velocity + self.acceleration * (0.5 * time)) * time
    }

    fn from(mut self, origin: DVec2) -> Self {
        self.at -= origin;
        self
    }

    /// Least distance from the origin within `span`; `None` if it surely stays
    /// farther away than `reach`.
    fn least_distance(&self, span: f64, reach: f64) -> Option<f64> {
        let first = self.at.length();
        let way = (self.velocity.length() + 0.5 * self.acceleration.length() * span) * span;
        if first - way > reach {
            return None;
        }
        let mut least = first.min(self.position(span).length());
        // Half the derivative of the distance's square, a cubic.
        let cubic = [
            self.at.dot(self.velocity),
            self.velocity.length_squared() + self.at.dot(self.acceleration),
            1.5 * self.velocity.dot(self.acceleration),
            0.5 * self.acceleration.length_squared(),
        ];
        let value = |t: f64| ((cubic[3] * t + cubic[2]) * t + cubic[1]) * t + cubic[0];
        let mut cuts = vec![0.0];
        cuts.extend(turns([cubic[1], 2.0 * cubic[2], 3.0 * cubic[3]], span));
        cuts.push(span);
        for pair in cuts.windows(2) {
            if value(pair[0]) < 0.0 && value(pair[1]) > 0.0 {
                least = least.min(self.position(bisected(pair[0], pair[1], value)).length());
            }
        }
        Some(least)
    }
}

/// The roots of `a + b t + c t²` inside `0..span`, in order.
fn turns([a, b, c]: [f64; 3], span: f64) -> Vec<f64> {
    let mut roots = Vec::new();
    if c == 0.0 {
        roots.push(-a / b);
    } else {
        let under = b * b - 4.0 * a * c;
        if under > 0.0 {
            let half = -0.5 * (b + under.sqrt().copysign(b));
            roots.extend([half / c, a / half]);
        }
    }
    roots.retain(|root| *root > 0.0 && *root < span);
    roots.sort_by(f64::total_cmp);
    roots
}

/// Where `value` changes sign between `low` and `high`.
fn bisected(mut low: f64, mut high: f64, value: impl Fn(f64) -> f64) -> f64 {
    let falls = value(low) > value(high);
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if (value(middle) < 0.0) != falls { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// The least distance of two balls' centres over the span that their legs share, m;
/// `None` if they share none or surely stay farther apart than `reach`.
///
/// Where one leg ends as the other begins, there is no moment at which both were
/// gone: balls that are put side by side begin new legs together.
pub fn least_distance(one: &Leg, two: &Leg, reach: f64) -> Option<f64> {
    let (from, to) = (one.since.max(two.since), one.until.min(two.until));
    if from >= to {
        return None;
    }
    one.against(two, from).least_distance(to - from, reach)
}

/// What a leg does to the table's edges.
#[derive(Clone, Copy, Debug, Default)]
pub struct Trespass {
    /// How deep the ball was in a cushion, m.
    pub cushion: f64,
    /// How far its centre was past the rim of a hole, m.
    pub hole: f64,
    /// Whether its centre left the cloth and the pockets.
    pub outside: bool,
}

impl Trespass {
    pub fn of(shape: &TableShape, leg: &Leg) -> Self {
        let (path, span) = (leg.parabola(), leg.length());
        let mut worst = Self::default();
        if is_clear(shape, &path, span) {
            return worst;
        }
        let reach = shape.touch_distance;
        for wall in &shape.walls {
            for time in turning_times(wall, &path, span) {
                worst.cushion = worst.cushion.max(reach - wall.distance(path.position(time)));
            }
            for end in [wall.from, wall.to()] {
                if let Some(distance) = path.from(end).least_distance(span, reach) {
                    worst.cushion = worst.cushion.max(reach - distance);
                }
            }
        }
        for pocket in &shape.pockets {
            let distance = path.from(pocket.hole).least_distance(span, pocket.hole_radius);
            worst.hole = worst.hole.max(pocket.hole_radius - distance.unwrap_or(f64::INFINITY));
        }
        // The outline is made of walls, so nothing leaves it between these but by
        // crossing one, or over the holes.
        worst.outside = [0.0, span].iter().any(|t| !contains(shape.outline(), path.position(*t)));
        worst
    }
}

/// Whether the whole path stays where a ball touches nothing.
fn is_clear(shape: &TableShape, path: &Parabola, span: f64) -> bool {
    let inside = |time: f64| {
        let at = path.position(time);
        let least = DVec2::splat(shape.touch_distance);
        at.cmpge(least).all() && at.cmple(shape.size - least).all()
    };
    let turn = |speed: f64, acceleration: f64| (-speed / acceleration).clamp(0.0, span);
    inside(0.0)
        && inside(span)
        && (path.acceleration.x == 0.0 || inside(turn(path.velocity.x, path.acceleration.x)))
        && (path.acceleration.y == 0.0 || inside(turn(path.velocity.y, path.acceleration.y)))
}

/// The moments at which a path can be nearest to the inside of a wall: its ends,
/// where it turns, and where it crosses.
fn turning_times(wall: &Wall, path: &Parabola, span: f64) -> Vec<f64> {
    let height = wall.height_of(path.at);
    let (speed, bend) = (path.velocity.dot(wall.normal), path.acceleration.dot(wall.normal));
    let mut times = vec![0.0, span];
    times.extend(turns([speed, bend, 0.0], span));
    times.extend(turns([height, speed, 0.5 * bend], span));
    times
}

/// Whether `point` lies inside the polygon (even-odd rule).
pub fn contains(polygon: &[DVec2], point: DVec2) -> bool {
    let edges = polygon.iter().zip(polygon.iter().cycle().skip(1));
    let crossed = edges.filter(|(from, to)| {
        (from.y > point.y) != (to.y > point.y)
            && point.x < from.x + (point.y - from.y) / (to.y - from.y) * (to.x - from.x)
    });
    crossed.count() % 2 == 1
}

/// Whether the ball does not move on this leg, nor spin.
pub fn rests(leg: &Leg) -> bool {
    leg.course.phase == Phase::AtRest
}
