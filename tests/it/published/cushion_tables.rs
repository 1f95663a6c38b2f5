//! Rebounds by angle, spin and side: three whole tables.

use super::check::{check_missed, check_printed};
use super::{RADIUS, cloth, direction, moving, rerolled};
use glam::DVec2;
use leaveline::BallMotion;
use leaveline::physics::CushionLaw;

/// An integrated impact is good to this share of the ball's speed; what is printed
/// is good to half its last digit besides.
const IMPACT: f64 = 1e-4;

/// The same as an angle, degrees.
const TURN: f64 = IMPACT * 180.0 / std::f64::consts::PI;

/// Pool geometry, with a cushion of the given restitution and friction.
fn pool(restitution: f64, nose_friction: f64) -> CushionLaw {
    CushionLaw { radius: RADIUS, sine: 0.27, restitution, nose_friction, bed_friction: 0.2 }
}

/// A ball that goes +x into a cushion on its left at `angle` degrees to the
/// cushion line: after the impact, and once it rolls again.
fn rebound(law: &CushionLaw, speed: f64, angle: f64, roll: f64, side: f64) -> [BallMotion; 2] {
    let velocity = DVec2::from_angle(angle.to_radians()) * speed;
    let after = law.rebound(&moving(velocity, roll, side, law.radius), DVec2::NEG_Y);
    [after, rerolled(&after, law.radius, &cloth(law.bed_friction, 0.01))]
}

/// Angle to the cushion line at which a rebounding ball leaves, degrees.
fn leaving(motion: &BallMotion) -> f64 {
    -direction(motion.velocity)
}

/// Angle in; speed and angle after the impact, and again when it rolls: without
/// spin, then at natural roll.
const SNOOKER: [[f64; 9]; 10] = [
    [10.0, 0.9167, 10.544, 0.6623, 10.428, 0.9433, 10.335, 0.9332, 6.095],
    [20.0, 0.8428, 22.671, 0.6152, 22.183, 0.8947, 21.744, 0.8546, 13.483],
    [30.0, 0.7876, 36.173, 0.5779, 35.035, 0.8614, 34.000, 0.7734, 22.578],
    [40.0, 0.7590, 49.938, 0.5534, 47.822, 0.8474, 46.545, 0.7002, 33.653],
    [45.0, 0.7564, 56.220, 0.5468, 53.515, 0.8476, 52.677, 0.6696, 39.875],
    [50.0, 0.7614, 61.774, 0.5448, 58.524, 0.8516, 58.558, 0.6439, 46.378],
    [60.0, 0.7850, 70.852, 0.5500, 67.025, 0.8672, 68.824, 0.6068, 58.919],
    [70.0, 0.8114, 78.209, 0.5574, 74.753, 0.8883, 76.588, 0.5896, 69.547],
    [80.0, 0.8305, 84.512, 0.5696, 82.492, 0.9046, 83.386, 0.5839, 79.721],
    [90.0, 0.8373, 90.000, 0.5757, 90.000, 0.9107, 90.000, 0.5833, 90.000],
];

/// Source: Mathavan, Jackson and Parkin 2010, Proc. IMechE C 224(9), 1863:
/// restitution 0.98 and friction 0.14 (seen in the source's abstract), ball of
/// 26.25 mm, nose at 7R/5 and cloth friction 0.212 (from memory). The numbers are
/// derived from its model by two routes, not read from its plots.
#[test]
fn mathavan_2010_snooker_table() {
    let law = CushionLaw {
        radius: 0.026_25,
        sine: 0.4,
        restitution: 0.98,
        nose_friction: 0.14,
        bed_friction: 0.212,
    };
    for row in &SNOOKER {
        for (name, roll, column) in [("no spin", 0.0, 1), ("natural roll", 1.0, 5)] {
            let found = rebound(&law, 1.0, row[0], roll, 0.0);
            for (k, when) in ["at once", "rolling again"].into_iter().enumerate() {
                let name = format!("{name} in at {}, {when}", row[0]);
                let at = column + 2 * k;
                check_printed(
                    &format!("{name}: speed"),
                    found[k].velocity.length(),
                    row[at],
                    IMPACT + 5e-5,
                );
                check_printed(
                    &format!("{name}: angle"),
                    leaving(&found[k]),
                    row[at + 1],
                    TURN + 5e-4,
                );
            }
        }
    }
}

/// Speed, angle, roll, side, restitution, friction of the nose.
const WORKED_IN: [[f64; 6]; 7] = [
    [1.0, 90.0, 1.0, 0.0, 0.98, 0.14],
    [1.0, 45.0, 0.0, 0.0, 0.98, 0.14],
    [1.0, 45.0, 1.0, 0.0, 0.98, 0.14],
    [1.0, 45.0, 1.0, 1.0, 0.98, 0.14],
    [1.0, 45.0, 1.0, -1.0, 0.98, 0.14],
    [1.5, 30.0, 1.0, 0.5, 0.85, 0.2],
    [1.0, 60.0, -1.0, 0.0, 0.85, 0.14],
];

/// Velocity (x, y), spin (x, y, z); speed and angle at once; the same rolling.
const WORKED_OUT: [[f64; 9]; 7] = [
    [0.0, -0.959956, -8.588844, 0.0, 0.0, 0.9600, 90.0, 0.6156, 90.0],
    [0.458367, -0.654860, -1.651383, 1.688464, 15.218921, 0.7993, 55.010, 0.5681, 53.091],
    [0.542153, -0.686871, -9.514455, 20.561788, 14.113500, 0.8751, 51.716, 0.6919, 36.645],
    [0.725390, -0.679002, -6.082158, 25.206993, 33.433141, 0.9936, 43.108, 0.8448, 31.021],
    [0.511835, -0.688574, -12.960631, 19.755821, -18.260107, 0.8580, 53.376, 0.6532, 36.228],
    [1.077284, -0.630424, -7.276629, 39.870209, 45.194202, 1.2482, 30.336, 1.1627, 19.646],
    [0.319186, -0.703370, 7.464729, -10.362616, 6.583889, 0.7724, 65.592, 0.5813, 75.720],
];

/// Printed spins that the model misses by more than an integration may err (row,
/// name, today's value): there the nose's slip changes sense so gently that friction
/// rounded off below 1e-4 of the speed, as in both routes of the derivation, lags
/// behind. The first row has a closed form, and the spring of
/// `second_route_impacts` agrees with the model as its rounding is made finer.
const ROUNDED: [(usize, &str, f64); 2] = [(0, "x spin", -8.594_642), (3, "x spin", -6.087_643)];

/// Derived, two routes to six digits (impulse space; the nose as a spring, in
/// time): impacts in pool geometry.
#[test]
fn worked_impacts_in_pool_geometry() {
    for (k, (given, expected)) in WORKED_IN.iter().zip(&WORKED_OUT).enumerate() {
        let [speed, angle, roll, side, restitution, friction] = *given;
        let law = pool(restitution, friction);
        let [after, rolling] = rebound(&law, speed, angle, roll, side);
        let case = format!("{speed} m/s at {angle}, roll {roll}, side {side}, e {restitution}");
        for (name, got, expected, half) in [
            ("x velocity", after.velocity.x, expected[0], IMPACT * speed),
            ("y velocity", after.velocity.y, expected[1], IMPACT * speed),
            ("x spin", after.spin.x, expected[2], IMPACT * speed / RADIUS),
            ("y spin", after.spin.y, expected[3], IMPACT * speed / RADIUS),
            ("z spin", after.spin.z, expected[4], IMPACT * speed / RADIUS),
            ("speed", after.velocity.length(), expected[5], IMPACT * speed + 5e-5),
            ("angle", leaving(&after), expected[6], TURN + 5e-4),
            ("speed rolling", rolling.velocity.length(), expected[7], IMPACT * speed + 5e-5),
            ("angle rolling", leaving(&rolling), expected[8], TURN + 5e-4),
        ] {
            let missed = ROUNDED.iter().find(|(row, which, _)| (*row, *which) == (k, name));
            if let Some((_, _, today)) = missed {
                check_missed(&format!("{case}: {name}"), got, *today, expected, half);
                continue;
            }
            check_printed(&format!("{case}: {name}"), got, expected, half);
        }
    }
}

/// Angles in, degrees.
const ANGLES: [f64; 6] = [20.0, 30.0, 45.0, 60.0, 75.0, 90.0];

/// For each side spin and angle: speed and angle at once, the same rolling.
const SIDES: [(f64, [[f64; 4]; 6]); 5] = [
    (
        -1.0,
        [
            [0.894, 18.91, 0.865, 9.56],
            [0.845, 30.05, 0.773, 16.18],
            [0.796, 48.69, 0.625, 30.36],
            [0.787, 68.28, 0.506, 52.56],
            [0.816, 86.71, 0.469, 82.22],
            [0.865, 102.71, 0.529, 109.34],
        ],
    ),
    (
        -0.5,
        [
            [0.895, 18.88, 0.866, 9.68],
            [0.848, 29.92, 0.776, 16.44],
            [0.801, 48.16, 0.637, 30.74],
            [0.795, 66.84, 0.531, 51.97],
            [0.820, 83.83, 0.500, 78.24],
            [0.855, 98.15, 0.540, 101.90],
        ],
    ),
    (
        0.0,
        [
            [0.897, 18.82, 0.869, 9.88],
            [0.853, 29.68, 0.784, 16.85],
            [0.815, 47.07, 0.662, 31.12],
            [0.815, 63.87, 0.578, 50.18],
            [0.836, 78.24, 0.548, 71.07],
            [0.846, 90.00, 0.540, 90.00],
        ],
    ),
    (
        0.5,
        [
            [0.902, 18.66, 0.876, 10.29],
            [0.869, 29.05, 0.805, 17.54],
            [0.852, 44.54, 0.718, 30.93],
            [0.864, 58.10, 0.656, 45.47],
            [0.872, 69.73, 0.601, 60.22],
            [0.855, 81.85, 0.540, 78.10],
        ],
    ),
    (
        1.0,
        [
            [0.933, 18.05, 0.908, 11.21],
            [0.930, 27.11, 0.874, 17.99],
            [0.940, 39.51, 0.818, 27.80],
            [0.939, 51.36, 0.742, 38.61],
            [0.911, 63.59, 0.636, 51.79],
            [0.865, 77.29, 0.529, 70.66],
        ],
    ),
];

/// Derived, two routes: a rolling ball with side, restitution 0.85, friction 0.14.
/// Positive side is running side.
#[test]
fn rolling_rebounds_by_side() {
    for (side, row) in &SIDES {
        for (angle, expected) in ANGLES.iter().zip(row) {
            let [after, rolling] = rebound(&pool(0.85, 0.14), 1.0, *angle, 1.0, *side);
            let case = format!("side {side} in at {angle}");
            check_printed(
                &format!("{case}: speed"),
                after.velocity.length(),
                expected[0],
                IMPACT + 5e-4,
            );
            check_printed(&format!("{case}: angle"), leaving(&after), expected[1], TURN + 5e-3);
            let speed = rolling.velocity.length();
            check_printed(&format!("{case}, rolling: speed"), speed, expected[2], IMPACT + 5e-4);
            check_printed(
                &format!("{case}, rolling: angle"),
                leaving(&rolling),
                expected[3],
                TURN + 5e-3,
            );
        }
    }
}
