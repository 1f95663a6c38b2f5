//! Zones graded over strokes that were really played.

use crate::harness::on_every_core;
use leaveline::layout::deal_leave;
use leaveline::practice::leave::{Playing, ZONE_STROKES, hand_of_level, judge_leave};
use leaveline::practice::{LeaveAnswer, LeaveItem};
use leaveline::shot::Zone;
use leaveline::table::TableSize;

/// Dealt items of all levels.
fn items() -> Vec<LeaveItem> {
    (0..12)
        .map(|k| deal_leave(1 + k % 6, 31 + u32::from(k), TableSize::NineFoot).expect("dealt"))
        .collect()
}

fn judged(item: &LeaveItem, zone: Zone) -> leaveline::practice::leave::LeaveJudgement {
    let answer = LeaveAnswer { zone, stroke: item.shot.stroke, call: None };
    let hand = hand_of_level(item.level).hand;
    judge_leave(item, &answer, &Playing { hand, wobble: None }).expect("a sound answer")
}

#[test]
fn on_dealt_items_the_zone_where_stops_fall_beats_every_other() {
    on_every_core(&items(), |item| {
        let name = format!("level {}, seed {:?}", item.level, item.seed);
        let size = glam::DVec2::new(item.shot.card.length, item.shot.card.width);
        let table = Zone { centre: size / 2.0, half: size * 0.5_f64.sqrt(), turn: 0.0 };
        let whole = judged(item, table);
        assert_eq!(whole.zone.mark, 0.0, "{name}: the whole table");
        let stops = &whole.zone.stops;
        assert_eq!(stops.places.len() as u32 + stops.scratches, ZONE_STROKES, "{name}");
        let best = whole.zone.rule.expect("the hand stops").best;
        let right = judged(item, best);
        let clean = 1.0 - stops.share_scratched();
        // Four of five, and a share of them more where a ball's width is the least.
        assert!(right.zone.share >= 0.8 * clean - 1e-9, "{name}: holds {}", right.zone.share);
        let best_mark = right.zone.mark;
        assert!(best_mark >= 100.0 - 250.0 * (1.0 - clean), "{name}: earns {best_mark}");
        let dot = judged(item, Zone { half: glam::DVec2::splat(0.001), ..best });
        assert!(dot.zone.mark < 5.0, "{name}: a dot earns {}", dot.zone.mark);
        for by in [0.25, 4.0] {
            let other = judged(item, Zone { half: best.half * by, ..best });
            assert!(other.zone.mark < best_mark, "{name}: {by} times as large");
        }
        let off = Zone { centre: best.centre + 2.5 * best.half.y, ..best };
        assert!(judged(item, off).zone.mark < best_mark, "{name}: moved aside");
        let worth = right.worth.expect("there is a next ball");
        assert!(worth.both <= worth.stops + 1e-12, "{name}: {worth:?}");
        assert!(!right.sentence.is_empty() && right.sentence.ends_with('.'), "{name}");
    });
}
