//! Cushions, jaws and holes of one table, laid out from its card.

use super::{PocketId, PocketSpec, Rail, Surface, TableCard};
use glam::DVec2;
use std::f64::consts::{FRAC_1_SQRT_2, FRAC_PI_2, FRAC_PI_4, PI};

/// A straight piece of cushion: a nose line between two jaw points, or a facing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// What it is called.
    pub surface: Surface,
    /// Where it begins (a jaw point), m.
    pub from: DVec2,
    /// Unit vector along it.
    pub along: DVec2,
    /// Length, m.
    pub length: f64,
    /// Unit normal, toward the side where balls are.
    pub normal: DVec2,
}

impl Wall {
    fn between(surface: Surface, from: DVec2, to: DVec2, normal: DVec2) -> Self {
        let span = to - from;
        let length = span.length();
        Self { surface, from, along: span / length, length, normal }
    }

    /// Where it ends, m.
    pub fn to(&self) -> DVec2 {
        self.from + self.along * self.length
    }

    /// Distance of `point` from the whole line, positive on the balls' side, m.
    pub fn height_of(&self, point: DVec2) -> f64 {
        (point - self.from).dot(self.normal)
    }

    /// Distance along the wall of the foot of the perpendicular from `point`, m.
    pub fn foot_of(&self, point: DVec2) -> f64 {
        (point - self.from).dot(self.along)
    }

    /// Distance of `point` from the piece itself, ends included, m.
    pub fn distance(&self, point: DVec2) -> f64 {
        let foot = self.foot_of(point).clamp(0.0, self.length);
        (point - self.from - self.along * foot).length()
    }
}

/// The edge where a nose line turns into a facing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JawPoint {
    /// The pocket it guards.
    pub pocket: PocketId,
    /// Place of the point, m.
    pub position: DVec2,
}

/// One pocket: its mouth, its axis and its hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pocket {
    /// Which pocket.
    pub id: PocketId,
    /// Middle of the mouth line, m.
    pub mouth_middle: DVec2,
    /// Distance between the jaw points, m.
    pub mouth: f64,
    /// Unit vector along the pocket's axis, out of the table.
    pub axis: DVec2,
    /// Centre of the hole, m.
    pub hole: DVec2,
    /// Radius of the hole, m.
    pub hole_radius: f64,
}

impl Pocket {
    fn new(id: PocketId, spec: &PocketSpec, mouth_middle: DVec2, axis: DVec2) -> Self {
        Self {
            id,
            mouth_middle,
            mouth: spec.mouth,
            axis,
            hole: mouth_middle + axis * (spec.shelf + spec.hole_radius),
            hole_radius: spec.hole_radius,
        }
    }

    /// The jaw points, first the one to the right of a ball on its way in.
    fn jaws(&self) -> [DVec2; 2] {
        let right = DVec2::new(self.axis.y, -self.axis.x);
        [
            self.mouth_middle + right * (self.mouth / 2.0),
            self.mouth_middle - right * (self.mouth / 2.0),
        ]
    }

    /// The facings behind [`Pocket::jaws`], in the same order.
    fn facings(&self, spec: &PocketSpec) -> [Wall; 2] {
        let right = DVec2::new(self.axis.y, -self.axis.x);
        let closing = closing_angle(self.id, spec);
        let (sine, cosine) = (libm::sin(closing), libm::cos(closing));
        let jaws = self.jaws();
        [1.0, -1.0].map(|side: f64| {
            let from = jaws[usize::from(side < 0.0)];
            Wall {
                surface: Surface::Pocket(self.id),
                from,
                along: self.axis * cosine - right * (side * sine),
                length: spec.facing,
                normal: -right * (side * cosine) - self.axis * sine,
            }
        })
    }
}

/// By how much each facing leans toward the pocket's axis, rad: 7 degrees for a
/// corner cut at 142, 14 degrees for a side cut at 104.
pub(super) fn closing_angle(pocket: PocketId, spec: &PocketSpec) -> f64 {
    let axis_off_rail = if pocket.is_side() { FRAC_PI_2 } else { FRAC_PI_4 };
    axis_off_rail - (PI - spec.cut_angle)
}

/// Everything a ball can touch or fall into, in the table frame.
#[derive(Clone, Debug, PartialEq)]
pub struct TableShape {
    /// Nose to nose, along x and y, m.
    pub size: DVec2,
    /// Distance of a ball's centre from a nose that it touches, m.
    pub touch_distance: f64,
    /// Six noses, then twelve facings.
    pub walls: [Wall; 18],
    /// Twelve jaw points.
    pub jaw_points: [JawPoint; 12],
    /// Six pockets, in the order of [`PocketId::ALL`].
    pub pockets: [Pocket; 6],
    outline: [DVec2; 24],
}

/// How far a ball may stand inside a cushion before it is refused, m: room for
/// the rounding of typed coordinates, and what the model promises of overlaps.
const PLACING_SLACK: f64 = 1e-9;

impl TableShape {
    /// Lays out the table of `card`, which must have passed [`TableCard::check`].
    pub fn new(card: &TableCard) -> Self {
        let size = DVec2::new(card.length, card.width);
        let corner = card.corner_pocket.mouth * FRAC_1_SQRT_2;
        let pockets = PocketId::ALL.map(|id| {
            let (foot, left) = match id {
                PocketId::HeadRight | PocketId::SideRight => (-1.0, -1.0),
                PocketId::HeadLeft | PocketId::SideLeft => (-1.0, 1.0),
                PocketId::FootRight => (1.0, -1.0),
                PocketId::FootLeft => (1.0, 1.0),
            };
            let edge = DVec2::new(
                if foot > 0.0 { size.x } else { 0.0 },
                if left > 0.0 { size.y } else { 0.0 },
            );
            if id.is_side() {
                let middle = DVec2::new(size.x / 2.0, edge.y);
                Pocket::new(id, &card.side_pocket, middle, DVec2::new(0.0, left))
            } else {
                let axis = DVec2::new(foot, left);
                let middle = edge - axis * (corner / 2.0);
                Pocket::new(id, &card.corner_pocket, middle, axis * FRAC_1_SQRT_2)
            }
        });

        let side = card.side_pocket.mouth / 2.0;
        let middle = size.x / 2.0;
        let (far_x, far_y) = (size.x - corner, size.y - corner);
        let nose = |rail: Rail, from: (f64, f64), to: (f64, f64)| {
            Wall::between(Surface::Rail(rail), from.into(), to.into(), rail.inward())
        };
        let noses = [
            nose(Rail::Head, (0.0, corner), (0.0, far_y)),
            nose(Rail::Foot, (size.x, corner), (size.x, far_y)),
            nose(Rail::Right, (corner, 0.0), (middle - side, 0.0)),
            nose(Rail::Right, (middle + side, 0.0), (far_x, 0.0)),
            nose(Rail::Left, (corner, size.y), (middle - side, size.y)),
            nose(Rail::Left, (middle + side, size.y), (far_x, size.y)),
        ];

        let spec =
            |id: PocketId| if id.is_side() { &card.side_pocket } else { &card.corner_pocket };
        let facings = pockets.map(|pocket| pocket.facings(spec(pocket.id)));
        let mut walls = [noses[0]; 18];
        walls[..6].copy_from_slice(&noses);
        walls[6..].copy_from_slice(facings.as_flattened());

        let jaw_points = pockets
            .map(|pocket| pocket.jaws().map(|position| JawPoint { pocket: pocket.id, position }));
        let mut points = [jaw_points[0][0]; 12];
        points.copy_from_slice(jaw_points.as_flattened());

        Self {
            size,
            touch_distance: card.touch_distance(),
            walls,
            jaw_points: points,
            pockets,
            outline: outline(&facings),
        }
    }

    /// The pocket with this name.
    pub fn pocket(&self, id: PocketId) -> &Pocket {
        &self.pockets[id as usize]
    }

    /// Corners of the whole outline, anticlockwise: along the noses, and into
    /// every pocket along its facings, m.
    pub fn outline(&self) -> &[DVec2] {
        &self.outline
    }

    /// Why a ball's centre cannot stand at `point`, or `None` if it can.
    pub fn refusal(&self, point: DVec2) -> Option<&'static str> {
        let hole =
            self.pockets.iter().any(|pocket| (point - pocket.hole).length() < pocket.hole_radius);
        if hole {
            return Some("the ball's centre is over a pocket's hole");
        }
        if !contains(&self.outline, point) {
            return Some("the ball is not on the table");
        }
        let least = self.touch_distance - PLACING_SLACK;
        self.walls
            .iter()
            .any(|wall| wall.distance(point) < least)
            .then_some("the ball stands inside a cushion")
    }
}

/// The closed line around cloth and pockets, anticlockwise from the head-right
/// corner.
fn outline(facings: &[[Wall; 2]; 6]) -> [DVec2; 24] {
    let around = [
        PocketId::HeadRight,
        PocketId::SideRight,
        PocketId::FootRight,
        PocketId::FootLeft,
        PocketId::SideLeft,
        PocketId::HeadLeft,
    ];
    let mut corners = [DVec2::ZERO; 24];
    for (slot, id) in corners.chunks_exact_mut(4).zip(around) {
        let [right, left] = facings[id as usize];
        // A ball on its way in has the jaw first met by an anticlockwise walk on its right.
        slot.copy_from_slice(&[right.from, right.to(), left.to(), left.from]);
    }
    corners
}

/// Whether `point` lies inside the polygon (even-odd rule).
fn contains(polygon: &[DVec2], point: DVec2) -> bool {
    let mut inside = false;
    let mut before = polygon[polygon.len() - 1];
    for &corner in polygon {
        if (corner.y > point.y) != (before.y > point.y) {
            let share = (point.y - corner.y) / (before.y - corner.y);
            if point.x < corner.x + share * (before.x - corner.x) {
                inside = !inside;
            }
        }
        before = corner;
    }
    inside
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::TableSize;

    fn nine_foot() -> TableShape {
        TableShape::new(&TableCard::of_size(TableSize::NineFoot))
    }

    #[test]
    fn noses_end_where_the_jaws_stand() {
        let shape = nine_foot();
        for wall in &shape.walls[..6] {
            for end in [wall.from, wall.to()] {
                let nearest = shape
                    .jaw_points
                    .iter()
                    .map(|jaw| (jaw.position - end).length())
                    .fold(f64::INFINITY, f64::min);
                assert!(nearest < 1e-12, "{:?} ends {nearest} m from a jaw point", wall.surface);
            }
        }
    }

    #[test]
    fn facings_start_at_jaws_and_look_at_the_axis() {
        let shape = nine_foot();
        for wall in &shape.walls[6..] {
            let Surface::Pocket(id) = wall.surface else { panic!("a facing has a pocket") };
            let pocket = shape.pocket(id);
            let ahead = pocket.mouth_middle + pocket.axis * 0.03;
            assert!(wall.height_of(ahead) > 0.0, "the axis is in front of the facing of {id}");
            assert!(wall.along.dot(pocket.axis) > 0.9, "the facing of {id} leads into the pocket");
        }
    }

    #[test]
    fn outline_is_anticlockwise_and_holds_the_cloth() {
        let shape = nine_foot();
        let corners = shape.outline();
        let area: f64 = (0..24).map(|k| corners[k].perp_dot(corners[(k + 1) % 24]) / 2.0).sum();
        assert!(area > shape.size.x * shape.size.y * 0.99, "anticlockwise and whole: {area}");
        assert!(contains(corners, shape.size / 2.0), "the middle is on the table");
    }

    #[test]
    fn places_are_refused_with_a_reason() {
        let shape = nine_foot();
        assert_eq!(shape.refusal(DVec2::new(0.6, 0.4)), None, "on the open cloth");
        assert_eq!(shape.refusal(DVec2::new(shape.touch_distance, 0.6)), None, "frozen to a rail");
        assert!(shape.refusal(DVec2::new(0.02, 0.6)).is_some(), "inside the head cushion");
        assert!(shape.refusal(DVec2::new(-0.5, 0.6)).is_some(), "beside the table");
        assert!(shape.refusal(DVec2::new(-0.01, -0.01)).is_some(), "over the corner's hole");
        let jaws = shape.pocket(PocketId::FootLeft).mouth_middle;
        assert_eq!(shape.refusal(jaws), None, "a ball may hang in the jaws");
    }
}
