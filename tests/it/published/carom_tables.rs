//! Where the cue ball goes off an object ball, cut by cut: two whole tables.

use super::check::check_printed;
use super::{RADIUS, balls, cloth, direction, moving, rerolled};
use glam::DVec2;
use leaveline::BallMotion;
use leaveline::physics::collide;
use leaveline::table::BallContact;

/// What a cue ball of 1 m/s along +x with roll `roll` and an object ball at rest
/// do after a cut of `cut` degrees to the right of the shot: the cue ball, rolling
/// again, and the object ball as it leaves.
fn carom(cut: f64, roll: f64, contact: &BallContact) -> (DVec2, DVec2) {
    let line = DVec2::from_angle(-cut.to_radians());
    let before = moving(DVec2::X, roll, 0.0, RADIUS);
    let (one, two) = collide(&before, &BallMotion::default(), line, RADIUS, contact);
    (rerolled(&one, RADIUS, &cloth(0.2, 0.01)).velocity, two.velocity)
}

/// Cut; direction and speed at stun, at natural roll, at full reverse roll; speed
/// of the object ball.
#[allow(clippy::approx_constant, reason = "the digits are those of the table")]
const IDEAL: [[f64; 8]; 17] = [
    [5.0, 85.000, 0.0623, 12.025, 0.2977, 167.524, 0.2871, 0.9962],
    [10.0, 80.000, 0.1240, 21.681, 0.3306, 155.185, 0.2910, 0.9848],
    [15.0, 75.000, 0.1849, 28.162, 0.3784, 143.104, 0.2974, 0.9659],
    [20.0, 70.000, 0.2443, 31.868, 0.4348, 131.367, 0.3059, 0.9397],
    [25.0, 65.000, 0.3019, 33.504, 0.4956, 120.029, 0.3160, 0.9063],
    [30.0, 60.000, 0.3571, 33.670, 0.5579, 109.107, 0.3273, 0.8660],
    [35.0, 55.000, 0.4097, 32.802, 0.6195, 98.594, 0.3394, 0.8192],
    [40.0, 50.000, 0.4591, 31.196, 0.6790, 88.467, 0.3518, 0.7660],
    [45.0, 45.000, 0.5051, 29.055, 0.7354, 78.690, 0.3642, 0.7071],
    [50.0, 40.000, 0.5472, 26.518, 0.7878, 69.223, 0.3762, 0.6428],
    [55.0, 35.000, 0.5851, 23.687, 0.8354, 60.023, 0.3874, 0.5736],
    [60.0, 30.000, 0.6186, 20.633, 0.8777, 51.052, 0.3977, 0.5000],
    [65.0, 25.000, 0.6474, 17.411, 0.9143, 42.269, 0.4068, 0.4226],
    [70.0, 20.000, 0.6712, 14.063, 0.9448, 33.639, 0.4144, 0.3420],
    [75.0, 15.000, 0.6899, 10.622, 0.9688, 25.128, 0.4205, 0.2588],
    [80.0, 10.000, 0.7034, 7.116, 0.9861, 16.704, 0.4250, 0.1736],
    [85.0, 5.000, 0.7116, 3.568, 0.9965, 8.338, 0.4277, 0.0872],
];

/// Derived, two routes: ideal balls (restitution 1, no friction), directions in
/// degrees from the shot, speeds as shares of the cue ball's.
#[test]
fn carom_table_of_ideal_balls() {
    let contact = balls(1.0, 0.0);
    for row in &IDEAL {
        let cut = row[0];
        for (k, (name, roll)) in [("stun", 0.0), ("roll", 1.0), ("draw", -1.0)].iter().enumerate() {
            let (one, two) = carom(cut, *roll, &contact);
            let name = format!("cut {cut}, {name}");
            check_printed(&format!("{name}: direction"), direction(one), row[1 + 2 * k], 5e-4);
            check_printed(&format!("{name}: speed"), one.length(), row[2 + 2 * k], 5e-5);
            check_printed(&format!("{name}: object ball's speed"), two.length(), row[7], 5e-5);
        }
    }
}

/// Cut; direction at stun; direction and speed at natural roll; direction at full
/// reverse roll; throw at stun, and at roll or reverse roll; direction at natural
/// roll without friction.
const REAL: [[f64; 8]; 17] = [
    [5.0, 63.196, 12.516, 0.2776, 166.358, 0.738, 0.300, 10.899],
    [10.0, 68.773, 22.426, 0.3106, 152.984, 1.488, 0.597, 19.860],
    [15.0, 67.558, 28.929, 0.3581, 140.092, 2.260, 0.890, 26.101],
    [20.0, 64.507, 32.530, 0.4141, 127.811, 3.068, 1.176, 29.840],
    [25.0, 60.796, 34.015, 0.4744, 116.188, 3.434, 1.453, 31.628],
    [30.0, 56.693, 34.026, 0.5362, 105.206, 3.434, 1.718, 31.988],
    [35.0, 52.325, 33.013, 0.5975, 94.809, 3.434, 1.971, 31.316],
    [40.0, 47.800, 31.280, 0.6571, 84.924, 3.434, 2.209, 29.895],
    [45.0, 43.176, 29.031, 0.7139, 75.474, 3.434, 2.429, 27.926],
    [50.0, 38.484, 26.409, 0.7671, 66.384, 3.434, 2.632, 25.548],
    [55.0, 33.746, 23.513, 0.8160, 57.586, 3.434, 2.814, 22.863],
    [60.0, 28.973, 20.417, 0.8600, 49.022, 3.434, 2.975, 19.944],
    [65.0, 24.176, 17.174, 0.8988, 40.638, 3.434, 3.113, 16.849],
    [70.0, 19.361, 13.827, 0.9317, 32.389, 3.434, 3.227, 13.621],
    [75.0, 14.532, 10.410, 0.9586, 24.235, 3.434, 3.317, 10.295],
    [80.0, 9.694, 6.951, 0.9791, 16.140, 3.434, 3.382, 6.900],
    [85.0, 4.849, 3.473, 0.9929, 8.072, 3.434, 3.421, 3.461],
];

/// Derived, two routes: restitution 0.94 and a constant friction of 0.06 between
/// the balls; throw is the object ball's angle off the line of centres.
#[test]
fn carom_table_of_real_balls() {
    let contact = balls(0.94, 0.06);
    for row in &REAL {
        let cut = row[0];
        let (stun, thrown) = carom(cut, 0.0, &contact);
        check_printed(&format!("cut {cut}, stun: direction"), direction(stun), row[1], 5e-4);
        check_printed(&format!("cut {cut}, stun: throw"), cut + direction(thrown), row[5], 5e-4);
        let (roll, thrown) = carom(cut, 1.0, &contact);
        check_printed(&format!("cut {cut}, roll: direction"), direction(roll), row[2], 5e-4);
        check_printed(&format!("cut {cut}, roll: speed"), roll.length(), row[3], 5e-5);
        check_printed(&format!("cut {cut}, roll: throw"), cut + direction(thrown), row[6], 5e-4);
        let (draw, thrown) = carom(cut, -1.0, &contact);
        check_printed(&format!("cut {cut}, draw: direction"), direction(draw), row[4], 5e-4);
        check_printed(&format!("cut {cut}, draw: throw"), cut + direction(thrown), row[6], 5e-4);
        let (smooth, _) = carom(cut, 1.0, &balls(0.94, 0.0));
        check_printed(
            &format!("cut {cut}, roll, smooth: direction"),
            direction(smooth),
            row[7],
            5e-4,
        );
    }
}
