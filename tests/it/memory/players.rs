//! Simulated players of known bias and spread: what is said of them is true, and of those
//! without any nothing is said.

use leaveline::memory::{FALSE_ALARMS, Skill, sentences, summary};
use leaveline::shot::Wobble;

/// Players of each kind.
const PLAYERS: u32 = 1_000;

/// Calls of each skill.
const CALLS: u32 = 60;

/// Standard normal numbers: those of a player and a skill, never the same twice.
fn luck(player: u32, skill: Skill) -> impl Iterator<Item = f64> {
    let from = 10_000 * u32::from(skill.code());
    (from..).flat_map(move |index| {
        let Wobble { azimuth, elevation, speed, side, height } = Wobble::drawn(player, index);
        [azimuth, elevation, speed, side, height]
    })
}

/// How much a simulated player's errors spread: as much as half of the calls succeed.
fn spread(skill: Skill) -> f64 {
    skill.tolerance(4) / 0.674
}

/// All that is said of a player whose errors are those that `error` makes of luck.
fn said(player: u32, error: impl Fn(Skill, f64) -> f64) -> Vec<String> {
    let summaries: Vec<_> = Skill::ALL
        .into_iter()
        .filter(|skill| !skill.is_cost())
        .filter_map(|skill| {
            let errors: Vec<f64> =
                luck(player, skill).take(CALLS as usize).map(|luck| error(skill, luck)).collect();
            summary(skill, &errors)
        })
        .collect();
    sentences(&summaries)
}

/// The share of the players for whom `is_so`.
fn share(is_so: impl Fn(u32) -> bool) -> f64 {
    (0..PLAYERS).filter(|player| is_so(*player)).count() as f64 / f64::from(PLAYERS)
}

/// Three standard errors of a share of so many players that is really [`FALSE_ALARMS`].
fn doubt() -> f64 {
    3.0 * (FALSE_ALARMS * (1.0 - FALSE_ALARMS) / f64::from(PLAYERS)).sqrt()
}

#[test]
fn of_players_without_bias_nothing_is_said() {
    let alarms = share(|player| !said(player, |skill, luck| spread(skill) * luck).is_empty());
    println!("false alarms: {alarms}");
    assert!(alarms <= FALSE_ALARMS + doubt(), "{alarms} of the players were told something");
    assert!(alarms > 0.01, "{alarms}: the tests of so many skills are not that strict");
}

/// Errors with many small and few large ones, as calls have them.
#[test]
fn nor_of_those_who_are_far_off_at_times() {
    let alarms = share(|player| {
        !said(player, |skill, luck| spread(skill) * luck * luck * luck / 4.0).is_empty()
    });
    println!("false alarms with heavy tails: {alarms}");
    assert!(alarms <= FALSE_ALARMS + doubt(), "{alarms} of the players were told something");
}

#[test]
fn a_bias_is_told_and_nothing_else() {
    let biased = Skill::SecondRebound;
    let play = |player| {
        said(player, |skill, luck| spread(skill) * luck + if skill == biased { 8.0 } else { 0.0 })
    };
    let told = |sentences: &[String]| {
        sentences.iter().any(|one| {
            one.starts_with("Off the second cushion you call ") && one.contains(" too long (")
        })
    };
    let right = share(|player| told(&play(player)));
    println!("told: {right}");
    // Half a spread in 60 calls: t is 3.7 on average, and 3.0 or so is asked for.
    assert!(right > 0.6, "only {right} of the players were told");
    let wrong = share(|player| {
        play(player).iter().any(|one| !one.starts_with("Off the second cushion you call "))
    });
    assert!(wrong <= FALSE_ALARMS + doubt(), "{wrong} of the players were told something wrong");
}

#[test]
fn a_large_bias_is_always_told_on_its_side() {
    for (skill, bias, part) in [
        (Skill::SecondRebound, 12.0, "Off the second cushion you call "),
        (Skill::HeadingDraw, -7.0, "too narrow ("),
        (Skill::Speed, -20.0, "% too short ("),
        (Skill::ZoneAcross, 3.0, "balls too far left ("),
        (Skill::ZoneSize, 60.0, "% too large ("),
    ] {
        for player in 0..100 {
            let sentences = said(player, |one, luck| {
                0.5 * spread(one) * luck + if one == skill { bias } else { 0.0 }
            });
            let told = sentences.iter().any(|one| one.contains(part));
            assert!(told, "{} off by {bias}: {sentences:?}", skill.id());
        }
    }
}

#[test]
fn intervals_hold_the_bias_as_often_as_they_say() {
    let skill = Skill::HeadingRoll;
    let held = share(|player| {
        let errors: Vec<f64> = luck(player, skill).take(25).map(|luck| 3.0 + 6.0 * luck).collect();
        let summed = summary(skill, &errors).expect("calls");
        (summed.bias - 3.0).abs() <= summed.within.expect("of several")
    });
    // Three standard errors of 95 % of 1,000.
    assert!((held - 0.95).abs() < 0.021, "{held}");
    let mean = |of: fn(&leaveline::memory::Summary) -> f64| {
        let all = (0..PLAYERS).map(|player| {
            let errors: Vec<f64> =
                luck(player, skill).take(100).map(|luck| 3.0 + 6.0 * luck).collect();
            of(&summary(skill, &errors).expect("calls"))
        });
        all.sum::<f64>() / f64::from(PLAYERS)
    };
    assert!((mean(|summed| summed.bias) - 3.0).abs() < 0.05, "the bias itself");
    assert!((mean(|summed| summed.spread.unwrap_or(0.0)) - 6.0).abs() < 0.05, "and the spread");
}

#[test]
fn who_gets_better_is_told_so_and_who_stays_is_not() {
    let player = |player: u32, skill: Skill, factor: f64| {
        let errors: Vec<f64> = luck(player, skill)
            .take(150)
            .enumerate()
            .map(|(k, luck)| spread(skill) * luck * if k < 120 { 1.0 } else { factor })
            .collect();
        sentences(&summary(skill, &errors).into_iter().collect::<Vec<_>>())
    };
    let better = share(|one| {
        player(one, Skill::Side, 0.4).iter().any(|one| one.starts_with("Better lately: what side"))
    });
    assert!(better > 0.9, "only {better} were told");
    let worse = share(|one| {
        player(one, Skill::Side, 2.0).iter().any(|one| one.starts_with("Worse lately: what side"))
    });
    assert!(worse > 0.9, "only {worse} were told");
    let same = share(|one| !player(one, Skill::Side, 1.0).is_empty());
    assert!(same <= FALSE_ALARMS + doubt(), "{same} of those who stayed were told something");
}
