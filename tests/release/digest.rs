//! The digest as natively, from a release build.
#![allow(dead_code, reason = "the shared modules serve more tests than this")]

#[path = "../it/corpus.rs"]
mod corpus;
#[path = "../it/digest.rs"]
mod digest;
#[path = "../it/harness.rs"]
mod harness;
#[path = "../it/support.rs"]
mod support;
