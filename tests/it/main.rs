//! Everything that is tested through the public interface, in one binary.

mod grade;
mod hard_cases;
mod properties;
mod published;
mod support;
mod wire;
