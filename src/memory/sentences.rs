//! What the calls say of the player, in sentences: only what the data carry.

use super::skill::Skill;
use super::summary::{Summary, Trend};
use crate::order::sort_by_number;

/// The share of players without any bias or trend who are ever told of one, at most, however
/// often they look.
pub const FALSE_ALARMS: f64 = 0.05;

/// Of fewer calls nothing is said of a bias (tuning choice).
const FEWEST: usize = 10;

/// More sentences than this help nobody (tuning choice).
const MOST: usize = 5;

/// A smaller change of the errors is not worth a sentence, as a share (tuning choice).
const CHANGE: f64 = 0.1;

/// What is tested of all skills: the bias and the trend of each.
const N_CLAIMS: usize = 2 * Skill::ALL.len();

/// Something that might be said.
struct Claim {
    /// A bound on the probability of ever seeing so much where there is nothing.
    chance: f64,
    /// How much it weighs against the others.
    weight: f64,
    words: Option<String>,
}

/// What can be said of the player by these summaries, what matters most first.
///
/// Each skill has a test of its bias (of the mean error) and one of its trend (of the sizes of
/// errors), whose chances hold over all looks. Holm's rule takes account of how many are tried
/// at once, which are always all of them, for a skill may come later: among all sentences of
/// all looks there is a false one for at most [`FALSE_ALARMS`] of the players, whatever is
/// true of the other skills. What is too small to matter is tested but not said.
///
/// # Source
/// Holm 1979, Scandinavian Journal of Statistics 6, 65 (from memory).
pub fn sentences(summaries: &[Summary]) -> Vec<String> {
    let mut claims: Vec<Claim> = summaries.iter().flat_map(claims_of).collect();
    sort_by_number(&mut claims, |claim| claim.chance);
    let sure = claims
        .iter()
        .enumerate()
        .take_while(|(k, claim)| claim.chance <= FALSE_ALARMS / (N_CLAIMS - k) as f64)
        .count();
    claims.truncate(sure);
    sort_by_number(&mut claims, |claim| -claim.weight);
    claims.into_iter().filter_map(|claim| claim.words).take(MOST).collect()
}

fn claims_of(summary: &Summary) -> impl Iterator<Item = Claim> {
    let bias = (summary.of >= FEWEST).then(|| bias_of(summary));
    let trend = summary.trend.map(|trend| trend_of(summary, &trend));
    bias.into_iter().chain(trend)
}

fn bias_of(summary: &Summary) -> Claim {
    let Summary { skill, bias, within, of, chance, .. } = *summary;
    let unit = skill.unit();
    let (size, within) = (bias.abs(), within.unwrap_or(0.0));
    let words = (size >= skill.least()).then(|| {
        format!(
            "{} ({} to {}; {of} calls).",
            skill.claim(bias),
            unit.number((size - within).max(0.0)),
            unit.number(size + within)
        )
    });
    Claim { chance, weight: size / skill.tolerance(4), words }
}

fn trend_of(summary: &Summary, trend: &Trend) -> Claim {
    let (name, unit) = (summary.skill.name(), summary.skill.unit());
    let change = trend.recent / trend.before - 1.0;
    let way = if change < 0.0 { "Better lately" } else { "Worse lately" };
    let words = (change.abs() >= CHANGE).then(|| {
        format!(
            "{way}: {}, off by {} on average, {} before.",
            name.to_ascii_lowercase(),
            unit.said(trend.recent),
            unit.said(trend.before)
        )
    });
    let weight = (trend.recent - trend.before).abs() / summary.skill.tolerance(4);
    Claim { chance: trend.chance, weight, words }
}
