//! The default table against the published equipment specification.

use super::RADIUS;
use super::check::{check_between, check_exact, check_printed};
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{PlacedBall, Shot, Stroke};
use leaveline::table::{
    PocketId, Rail, SIGHT_SET_BACK, TableCard, TableShape, TableSize, point_at, sights,
};
use leaveline::units::{INCH, OUNCE, degrees};

fn nine_foot() -> TableCard {
    TableCard::of_size(TableSize::NineFoot)
}

/// Millimetres, as the specification's metric values are given.
fn mm(metres: f64) -> f64 {
    metres * 1000.0
}

/// Source: WPA Tournament Table and Equipment Specifications (November 2001),
/// section 5 (seen in the source): 100 by 50 and 92 by 46 inches, nose to nose.
#[test]
fn wpa_2001_section_5_playing_surface() {
    let card = nine_foot();
    check_printed("nine-foot length, mm", mm(card.length), 2540.0, 1e-9);
    check_printed("nine-foot width, mm", mm(card.width), 1270.0, 1e-9);
    check_exact("length over width", card.length / card.width, 2.0);
    let card = TableCard::of_size(TableSize::EightFoot);
    check_printed("eight-foot length, mm", mm(card.length), 2336.8, 1e-9);
    check_printed("eight-foot width, mm", mm(card.width), 1168.4, 1e-9);
}

/// Source: WPA Tournament Table and Equipment Specifications (November 2001),
/// section 6 (seen in the source): 18 sights, 12 1/2 in apart on a nine-foot and
/// 11 1/2 in on an eight-foot table, their centres 3 11/16 in behind the nose.
#[test]
fn wpa_2001_section_6_sights() {
    for (size, inches) in [(TableSize::NineFoot, 12.5), (TableSize::EightFoot, 11.5)] {
        let card = TableCard::of_size(size);
        assert_eq!(sights(&card).len(), 18, "sights of {size:?}");
        for k in 0..8u8 {
            let at = |k: u8| point_at(&card, Rail::Left, f64::from(k)).x;
            check_exact(
                &format!("{size:?}: diamond {k} to the next, in"),
                (at(k + 1) - at(k)) / INCH,
                inches,
            );
        }
    }
    check_printed("set-back, mm", mm(SIGHT_SET_BACK), 93.662_5, 5e-5);
}

/// Source: WPA Rules of Play 8.1 (seen in the source): sights mark quarters of the
/// width and eighths of the length, strings bound the quarters of the table next
/// to the short rails, and the spots lie on the long string. The spots' places in
/// our frame are derived.
#[test]
fn wpa_rules_8_1_strings_and_spots() {
    let card = nine_foot();
    for (name, diamond, x) in [("head", 2.0, 635.0), ("centre", 4.0, 1270.0), ("foot", 6.0, 1905.0)]
    {
        let along = point_at(&card, Rail::Right, diamond).x;
        let across = point_at(&card, Rail::Foot, 2.0).y;
        check_printed(&format!("{name} spot, x, mm"), mm(along), x, 1e-9);
        check_printed(&format!("{name} spot, y, mm"), mm(across), 635.0, 1e-9);
    }
}

/// Source: summary of the WPA specification, quoted by another (nose height
/// 62 1/2 to 64 1/2 % of the ball's diameter); 63 1/2 % also in a vendor's
/// statement (seen). About 0.26 R above centre: Physics Stack Exchange, question
/// 62619 (seen). Height, sine and angle are derived.
#[test]
fn nose_height() {
    let card = nine_foot();
    check_printed("height, mm", mm(card.cushion.nose_height), 36.290, 5e-4);
    check_between(
        "share of the diameter",
        card.cushion.nose_height / (2.0 * card.ball.radius),
        0.625,
        0.645,
    );
    check_printed("sine of the contact's angle", card.nose_sine(), 0.27, 1e-12);
    check_printed("angle of the contact, degrees", degrees(card.nose_sine().asin()), 15.664, 5e-4);
    check_printed("against the independent 0.26", card.nose_sine(), 0.26, 0.015);
    for (share, height, angle) in [(0.625, 35.719, 14.478), (0.645, 36.862, 16.858)] {
        let mut edge = card;
        edge.cushion.nose_height = share * 2.0 * RADIUS;
        check_printed(
            &format!("height at {share}, mm"),
            mm(edge.cushion.nose_height),
            height,
            5e-4,
        );
        check_printed(
            &format!("angle at {share}, degrees"),
            degrees(edge.nose_sine().asin()),
            angle,
            5e-4,
        );
    }
}

/// Source: WPA specification, quoted by another: 2 1/4 in (+0.005) across, 5 1/2
/// to 6 oz, which it rounds to 156 to 170 g.
#[test]
fn wpa_balls() {
    let ball = nine_foot().ball;
    check_printed("diameter, mm", mm(2.0 * ball.radius), 57.15, 1e-9);
    // 6 oz are 170.097 g; the default is that to a tenth of a gram.
    check_between("mass, g", ball.mass * 1000.0, 155.5, 170.5);
    check_printed("mass in force: 6 oz, kg", ball.mass, 6.0 * OUNCE, 5e-5);
}

/// Derived: all balls weighing the same, no path depends on how much.
#[test]
fn mass_does_not_matter() {
    let play = |mass: f64| {
        let mut card = nine_foot();
        card.ball.mass = mass;
        let placed = |id, x, y| PlacedBall { id, position: DVec2::new(x, y) };
        let object = BallId::object(1).expect("it has a number");
        let balls = vec![placed(BallId::CUE, 0.6, 0.4), placed(object, 1.2, 0.7)];
        let stroke = Stroke { azimuth: 0.45, elevation: 0.0, speed: 2.5, side: 0.2, height: -0.1 };
        leaveline::physics::play(&Shot { card, balls, stroke }).expect("a legal shot")
    };
    let light = play(5.5 * OUNCE);
    assert!(light.events.len() > 6, "the balls meet and touch rails");
    assert_eq!(light, play(6.0 * OUNCE), "to the last bit");
}

/// Source: WPA Tournament Table and Equipment Specifications (November 2001),
/// section 9 (seen in the source): mouths of 4.5 to 4.625 and 5 to 5.125 in; cut
/// angles 142 (+1) degrees at the corners, seen, and 104 (+1) at the sides, from
/// memory (the BCA's list, seen, has 142 +/- 1 and 103 +/- 2); shelves of 1 to
/// 2 1/4 and 0 to 3/8 in, quoted by another. The defaults are the middles of the
/// tolerances rounded to a tenth of a millimetre.
#[test]
fn wpa_2001_section_9_pockets() {
    let card = nine_foot();
    let (corner, side) = (card.corner_pocket, card.side_pocket);
    for (name, got, least, most) in [
        ("corner mouth, in", corner.mouth, 4.5, 4.625),
        ("side mouth, in", side.mouth, 5.0, 5.125),
        ("corner shelf, in", corner.shelf, 1.0, 2.25),
        ("side shelf, in", side.shelf, 0.0, 0.375),
    ] {
        check_between(name, got / INCH, least, most);
        check_printed(&format!("{name}: middle"), got / INCH, (least + most) / 2.0, 0.05e-3 / INCH);
    }
    check_printed("corner cut angle, degrees", degrees(corner.cut_angle), 142.0, 1e-9);
    check_printed("side cut angle, degrees", degrees(side.cut_angle), 104.0, 1e-9);
    check_between("side cut angle, BCA, degrees", degrees(side.cut_angle), 101.0, 105.0);
}

/// Derived by one route: where the corner's points stand, how the jaws close, and
/// how wide the throat is at the shelf.
#[test]
fn corner_geometry_that_follows() {
    for (mouth, from_corner) in [(4.5, 80.822), (4.562_5, 81.945), (4.625, 83.067)] {
        let mut card = nine_foot();
        card.corner_pocket.mouth = mouth * INCH;
        let shape = TableShape::new(&card);
        let corner = |p: &&leaveline::table::JawPoint| p.pocket == PocketId::HeadRight;
        for jaw in shape.jaw_points.iter().filter(corner) {
            check_printed(
                &format!("mouth {mouth} in: point from the corner, mm"),
                mm(jaw.position.length()),
                from_corner,
                5e-4,
            );
        }
    }
    let mut card = nine_foot();
    card.corner_pocket.mouth = 4.562_5 * INCH;
    let shape = TableShape::new(&card);
    for (id, closing) in [(PocketId::FootLeft, 7.0), (PocketId::SideLeft, 14.0)] {
        for facing in facings(&shape, id) {
            let lean = facing.along.angle_to(shape.pocket(id).axis).to_degrees().abs();
            check_exact(&format!("{id}: facing closes, degrees"), lean, closing);
        }
    }
    let depth = 1.625 * INCH;
    let pocket = shape.pocket(PocketId::FootLeft);
    let across: f64 = facings(&shape, pocket.id)
        .map(|facing| {
            let reach = depth / facing.along.dot(pocket.axis);
            (facing.from + facing.along * reach - pocket.mouth_middle).perp_dot(pocket.axis).abs()
        })
        .sum();
    check_printed("throat at the shelf, in", across / INCH, 4.163_5, 5e-5);
    check_printed("throat at the shelf, mm", mm(across), 105.75, 5e-3);
    check_printed("free play each side of a ball, mm", mm(across / 2.0 - RADIUS), 24.30, 5e-3);
}

/// The two facings of a pocket.
fn facings(shape: &TableShape, id: PocketId) -> impl Iterator<Item = &leaveline::table::Wall> {
    shape.walls.iter().filter(move |wall| wall.surface == leaveline::table::Surface::Pocket(id))
}
