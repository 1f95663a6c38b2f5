//! Plane geometry and roots of polynomials, beyond what the libraries give.

mod roots;
mod vector;

pub use roots::{falling_root_quadratic, first_fall};
pub use vector::{
    angle_between, cross, heading, left_of, share_along, unit_from_angle, way_to_edge, wrap_angle,
};
