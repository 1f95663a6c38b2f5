//! Plane geometry and roots of polynomials, beyond what the libraries give.

mod vector;

pub use vector::{angle_between, cross, heading, left_of, unit_from_angle, wrap_angle};
