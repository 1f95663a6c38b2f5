//! Everything that is tested through the public interface, in one binary.

mod deals;
mod grade;
mod hard_cases;
mod properties;
mod published;
mod support;
mod tidy;
mod wire;
