//! Everything that is tested through the public interface, in one binary.

mod properties;
mod support;
mod wire;
