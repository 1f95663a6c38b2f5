//! Everything that is tested through the public interface, in one binary.

mod grade;
mod properties;
mod published;
mod support;
mod wire;
