//! Everything that is tested through the public interface, in one binary.

mod aim;
mod claims;
mod corpus;
mod deals;
mod digest;
mod eye;
mod grade;
mod hands;
mod hard_cases;
mod harness;
mod leave;
mod leave_deals;
mod map;
mod memory;
mod plan;
mod plan_clusters;
mod plan_exact;
mod pressed;
mod properties;
mod published;
mod sets;
mod support;
mod tidy;
mod truth;
mod why;
mod wire;
