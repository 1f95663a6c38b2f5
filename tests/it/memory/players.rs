//! Simulated players of known bias and spread: what is said of them is true, and of those
//! without any nothing is said.

use leaveline::memory::{FALSE_ALARMS, Skill, sentences, summary};
use leaveline::shot::Wobble;

/// Players of each kind.
const PLAYERS: u32 = 1_000;

/// Calls of each skill.
const CALLS: u32 = 60;

/// Calls of a skill after which a bias of half the spread is told of.
const ENOUGH: u32 = 120;

/// Calls of a run, looked at after each.
const RUN: usize = 300;

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

/// All that is said of a player after so many `calls` of each skill, whose errors are those that
/// `error` makes of luck.
fn said(player: u32, calls: u32, error: impl Fn(Skill, f64) -> f64) -> Vec<String> {
    let summaries: Vec<_> = Skill::ALL
        .into_iter()
        .filter(|skill| !skill.is_cost())
        .filter_map(|skill| {
            let errors: Vec<f64> =
                luck(player, skill).take(calls as usize).map(|luck| error(skill, luck)).collect();
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

/// Whether a player who looks after every call was ever told anything in a run: each call tells
/// of every third skill.
fn ever_told(player: u32, error: impl Fn(Skill, f64) -> f64) -> bool {
    let skills: Vec<Skill> = Skill::ALL.into_iter().filter(|skill| !skill.is_cost()).collect();
    let mut luck: Vec<_> = skills.iter().map(|skill| luck(player, *skill)).collect();
    let mut errors = vec![vec![]; skills.len()];
    let mut summaries = vec![None; skills.len()];
    (0..RUN).any(|call| {
        for (k, skill) in skills.iter().enumerate().skip(call % 3).step_by(3) {
            errors[k].push(error(*skill, luck[k].next().expect("luck")));
            summaries[k] = summary(*skill, &errors[k]);
        }
        let told: Vec<_> = summaries.iter().flatten().copied().collect();
        !sentences(&told).is_empty()
    })
}

/// The share of players who were ever told anything, and three standard errors of one that is
/// really [`FALSE_ALARMS`].
fn ever_told_of(error: impl Fn(Skill, f64) -> f64) -> (f64, f64) {
    let players = 200_u32;
    let told = (0..players).filter(|player| ever_told(*player, &error)).count();
    let doubt = 3.0 * (FALSE_ALARMS * (1.0 - FALSE_ALARMS) / f64::from(players)).sqrt();
    (told as f64 / f64::from(players), doubt)
}

#[test]
fn who_has_no_bias_is_told_of_none_however_often_he_looks() {
    let (alarms, doubt) = ever_told_of(|skill, luck| spread(skill) * luck);
    println!("ever told something false: {alarms}");
    assert!(alarms <= FALSE_ALARMS + doubt, "{alarms} of the players were told something");
}

/// Errors with many small and few large ones, as calls have them.
#[test]
fn nor_is_who_is_far_off_at_times() {
    let (alarms, doubt) = ever_told_of(|skill, luck| spread(skill) * luck * luck * luck / 4.0);
    println!("ever told something false, with heavy tails: {alarms}");
    assert!(alarms <= FALSE_ALARMS + doubt, "{alarms} of the players were told something");
}

/// A single test at its own level, so that the bound is no matter of hiding behind many.
#[test]
fn the_test_of_a_bias_is_as_strict_as_it_says_and_no_stricter_by_far() {
    let skill = Skill::HeadingRoll;
    let found = share(|player| {
        let mut errors = vec![];
        luck(player, skill).take(RUN).any(|luck| {
            errors.push(luck);
            summary(skill, &errors).expect("calls").chance <= 0.2
        })
    });
    println!("found in a run, at a level of 0.2: {found}");
    assert!((0.03..0.2).contains(&found), "{found}");
}

#[test]
fn a_bias_is_told_and_nothing_else() {
    let biased = Skill::SecondRebound;
    let play = |player| {
        let bias = |skill| if skill == biased { 8.0 } else { 0.0 };
        said(player, ENOUGH, |skill, luck| spread(skill) * luck + bias(skill))
    };
    let told = |sentences: &[String]| {
        sentences.iter().any(|one| {
            one.starts_with("Off the second cushion you call ") && one.contains(" too long (")
        })
    };
    let right = share(|player| told(&play(player)));
    println!("told: {right}");
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
            let sentences = said(player, CALLS, |one, luck| {
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
        player(one, Skill::Side, 0.4)
            .iter()
            .any(|one| one.starts_with("Better lately: effect of side"))
    });
    assert!(better > 0.9, "only {better} were told");
    let worse = share(|one| {
        player(one, Skill::Side, 4.0)
            .iter()
            .any(|one| one.starts_with("Worse lately: effect of side"))
    });
    println!("told of getting better: {better}, of getting worse: {worse}");
    // Large errors bring a large spread of their own, so this is found later.
    assert!(worse > 0.75, "only {worse} were told");
    let same = share(|one| !player(one, Skill::Side, 1.0).is_empty());
    assert!(same <= FALSE_ALARMS + doubt(), "{same} of those who stayed were told something");
}
