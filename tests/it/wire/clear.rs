//! Clear: what the page asks for and gets, and links.

use super::{CLEARS, SHOT, clear_item, item, item_text};
use leaveline::Error;
use leaveline::wire::{
    AnyOpened, ClearGuide, Value, compact, deal_clear, decide, make, make_clear, make_link, open,
    open_any, open_any_as, open_clear, open_link, parse, play_clear, sum_of_runs, try_stroke,
    write_clear_item,
};
use serde_json::{Value as Json, json};

fn value(form: &Json) -> Value {
    parse(&form.to_string()).expect("JSON")
}

fn json(reply: &impl serde::Serialize) -> Json {
    serde_json::from_str(&compact(reply).expect("a reply is JSON")).expect("JSON")
}

fn form(text: &str) -> Json {
    serde_json::from_str(text).expect("JSON")
}

#[test]
fn an_item_comes_back_to_the_bit() {
    for text in CLEARS {
        let sound = clear_item(text).expect("a sound item");
        let again = compact(&write_clear_item(&sound)).expect("a form");
        assert_eq!(clear_item(&again), Ok(sound), "{again}");
    }
}

#[test]
fn a_link_carries_the_item_and_nothing_else() {
    for text in CLEARS {
        let item = clear_item(text).expect("a sound item");
        let link = make_clear(&item).expect("short enough");
        assert!(link.starts_with("clear=2.") && link.len() <= 160, "{link}");
        let opened = open_any(&format!("see https://example.org/#{link}!")).expect("whole");
        assert_eq!(opened, AnyOpened::Clear(item), "to the bit");
        let request = json!({"item": form(text)});
        assert_eq!(make_link(&value(&request)), Ok(link.clone()), "by the page's request");
        let shown = json(&open_link(&link).expect("whole"));
        assert_eq!(shown["kind"], json!("clear"));
        assert_eq!(shown["question"], json(&open_clear(&value(&request)).expect("sound")));
        assert!(open(&link).is_err(), "no Read link");
        assert!(open_any_as(2, &link).is_ok(), "a later model opens it");
    }
}

#[test]
fn any_one_altered_character_is_noticed() {
    let link = make_clear(&clear_item(CLEARS[1]).expect("a sound item")).expect("short enough");
    for (at, old) in link.char_indices() {
        assert!(open_any(&link[..at]).is_err(), "cut off after {at}");
        for new in "ABCabc019-_=.%#+/ ".chars().filter(|&new| new != old) {
            let mut altered = link.clone();
            altered.replace_range(at..=at, &new.to_string());
            assert!(open_any(&altered).is_err(), "{old:?} at {at} became {new:?}");
        }
    }
    let newer = link.replacen("clear=2", "clear=3", 1);
    assert!(matches!(open_any(&newer), Err(Error::Malformed { .. })), "altered, not newer");
}

#[test]
fn one_kind_of_link_is_not_taken_for_another() {
    let read = make(&item(&item_text(SHOT)).expect("sound"), None).expect("short enough");
    let clear = make_clear(&clear_item(CLEARS[0]).expect("sound")).expect("short enough");
    assert!(open_any(&clear.replacen("clear=", "read=", 1)).is_err(), "its check has its kind");
    assert!(open_any(&read.replacen("read=", "clear=", 1)).is_err(), "as that of Read");
}

#[test]
fn a_question_says_what_is_left_and_what_may_be_played() {
    let shown =
        |text: &str| json(&open_clear(&value(&json!({"item": form(text)}))).expect("sound"));
    let rotation = shown(CLEARS[0]);
    assert_eq!(rotation["left"], json!(["1", "2", "3"]));
    assert_eq!(rotation["open"], json!(["1"]));
    assert_eq!(rotation["notice"], json!(null), "its own version says nothing");
    let task = "Clear the 1, the 2 and the 3, lowest first. From the 1 to the 2 go off at least one rail, on its left side.";
    assert_eq!(rotation["task"], json!(task));
    let group = shown(CLEARS[1]);
    assert_eq!(group["left"], json!(["1", "2", "8"]), "the 9 is in the way");
    assert_eq!(group["open"], json!(["1"]), "the 2 is kept for just before the last");
}

#[test]
fn a_shot_is_played_and_the_run_goes_on_or_is_over() {
    let mut item = form(CLEARS[1]);
    let mut leave = item.clone();
    leave["kind"] = json!("leave");
    leave["demand"] = json!({"on": "1", "pocket": "foot-left"});
    for name in ["game", "key"] {
        leave.as_object_mut().expect("fields").remove(name);
    }
    let trial = json(&try_stroke(&value(&json!({"item": leave, "aim": true}))).expect("sound"));
    item["shot"]["stroke"] = trial["item"]["shot"]["stroke"].clone();
    let request = |called: &Json, more: &Json| {
        let mut request = json!({"item": item, "called": called});
        for (name, field) in more.as_object().expect("fields") {
            request[name] = field.clone();
        }
        play_clear(&value(&request)).map(|played| json(&played))
    };
    let called = json!({"ball": "1", "pocket": "foot-left"});
    let played = request(&called, &json!({})).expect("sound");
    assert_eq!((&played["over"], &played["cleared"]), (&json!(null), &json!(false)), "{played}");
    assert_eq!(played["words"], json!("The 1 in the foot-left pocket: potted."));
    assert_eq!(played["next"]["left"], json!(["2", "8"]));
    let cue = &played["next"]["item"]["shot"]["balls"][0];
    for name in ["x", "y"] {
        let [stop, next] = [&played["stop"][name], &cue[name]].map(|x| x.as_f64().expect("m"));
        assert_eq!(next, (1e4 * stop).round() / 1e4, "{name}: from where it stopped, in tenths");
    }
    let other = json!({"ball": "1", "pocket": "head-left"});
    assert_eq!(request(&other, &json!({})).expect("sound")["over"], json!("missed"));
    let drawn = |index: u32| {
        let more = json!({"hand": "makes-35", "seed": 5, "index": index});
        request(&called, &more).expect("sound")
    };
    assert_eq!(drawn(0), drawn(0), "the same again");
    assert_ne!(drawn(0)["stop"], drawn(1)["stop"], "another stroke");
    for (called, more, message) in [
        (
            json!({"ball": "9", "pocket": "foot-left"}),
            json!({}),
            "called.ball: must be a ball that may be played now: 1",
        ),
        (called.clone(), json!({"hand": "makes-35", "index": 0}), "seed: must be given"),
    ] {
        assert_eq!(request(&called, &more).expect_err(message).to_string(), message);
    }
}

#[test]
fn a_deal_has_what_was_wished_for() {
    let wish = json!({"level": 1, "seed": 3, "game": "group", "balls": 1});
    let question = json(&deal_clear(&value(&wish)).expect("dealt"));
    assert_eq!(question["left"], json!(["1", "8"]));
    assert_eq!(question["item"]["seed"], json!(3));
    let none = deal_clear(&value(&json!({"level": 1, "seed": 3, "game": "rotation", "balls": 2})));
    assert_eq!(none.expect_err("too few").to_string(), "balls is 2: must lie from 3 to 9");
}

#[test]
fn runs_of_several_workers_are_told_together() {
    let told = |form: &Json| sum_of_runs(&value(form)).map(|runs| json(&runs));
    let sum = told(&json!({"runs": 200, "cleared": 100})).expect("sound");
    assert_eq!(sum["chance"]["share"], json!(0.5));
    let [low, high] = ["low", "high"].map(|end| sum["chance"][end].as_f64().expect("a chance"));
    assert!(low > 0.42 && low < 0.5 && high > 0.5 && high < 0.58, "{sum}");
    assert_eq!(
        sum["words"],
        json!("At least 43 %: played out, 100 of 200 were cleared (43 % to 57 %).")
    );
    let error = told(&json!({"runs": 3, "cleared": 4})).expect_err("too many");
    assert_eq!(error.field(), "cleared", "{error}");
}

#[test]
fn where_a_run_was_decided_is_told() {
    let shots = json!({"shots": [{"best": 0.6, "own": 0.5, "after": 0.0}]});
    let told = json(&decide(&value(&shots)).expect("sound"));
    assert_eq!((&told["choice"], &told["stroke"]), (&json!(0), &json!(0)), "{told}");
    let wrong = json!({"shots": [{"best": 1.5, "own": 0.5, "after": 0.0}]});
    let error = decide(&value(&wrong)).expect_err("no chance");
    assert_eq!(error.field(), "shots[0].best", "{error}");
}

#[test]
fn a_plan_says_one_chance_and_who_plays_it_out_begins_with_its_shot() {
    let item = form(CLEARS[1]);
    let request =
        |ask: Json| value(&json!({"item": item, "hand": "makes-85", "fine": false, "ask": ask}));
    let mut guide =
        ClearGuide::new(&request(json!({"kind": "fill", "from": 0, "to": 0})), &[]).expect("sound");
    let mut ask = |ask: Json| {
        guide.turn(&request(ask), &[]).expect("sound");
        loop {
            let progress = json(&guide.step(1 << 16));
            if progress["done"].as_f64() == Some(1.0) {
                return progress;
            }
        }
    };
    let empty = ask(json!({"kind": "fill", "from": 0, "to": 0}));
    ask(json!({"kind": "fill", "from": 0, "to": empty["shelves"]}));
    ask(json!({"kind": "try", "from": 0, "to": empty["cells"]}));
    let plan = ask(json!({"kind": "plan", "now": item}))["plan"].clone();
    let shots = plan["shots"].as_array().expect("shots");
    assert_eq!(shots.len(), 3, "a shot for each ball: {plan}");
    assert_eq!(plan["chance"], shots[0]["chance"], "one chance for the plan and its first shot");
    assert_eq!(shots[0]["breaks"], json!(null), "nothing is tied up");
    let others = plan["others"].as_array().expect("others");
    let chance = |shot: &Json| shot["chance"].as_f64().expect("a chance");
    let called = |shot: &Json| (shot["ball"].clone(), shot["pocket"].clone());
    assert!(others.iter().all(|other| chance(other) <= chance(&shots[0])), "best first: {plan}");
    assert!(others.iter().all(|other| called(other) != called(&shots[0])), "others: {plan}");
    let runs = json!({"kind": "runs", "now": item, "seed": 3, "from": 0, "to": 8});
    let once = ask(runs.clone())["runs"].clone();
    assert_eq!(once["runs"], json!(8));
    assert_eq!(ask(runs)["runs"], once, "the same runs again");
}

/// Asks `guide` to the end.
fn asked(guide: &mut ClearGuide, request: &Value, bytes: &[u8]) -> (Json, Vec<u8>) {
    guide.turn(request, bytes).expect("sound");
    loop {
        let progress = guide.step(2048);
        let form = json(&progress);
        if form["done"].as_f64() == Some(1.0) {
            return (form, progress.bytes().to_vec());
        }
    }
}

/// The race over so many workers, each of which plays some of the runs: what it comes to, and
/// the plan and the runs of who takes it.
fn raced(n_workers: u64) -> [Json; 3] {
    let item = form(CLEARS[1]);
    let request =
        |ask: Json| value(&json!({"item": item, "hand": "makes-60", "fine": false, "ask": ask}));
    let empty = request(json!({"kind": "fill", "from": 0, "to": 0}));
    let mut first = ClearGuide::new(&empty, &[]).expect("sound");
    let shelves = asked(&mut first, &empty, &[]).0["shelves"].clone();
    asked(&mut first, &request(json!({"kind": "fill", "from": 0, "to": shelves})), &[]);
    let mut workers: Vec<ClearGuide> = (0..n_workers).map(|_| first.clone()).collect();
    let (begun, _) = asked(&mut workers[0], &request(json!({"kind": "race", "now": item})), &[]);
    let mut race = begun["race"].clone();
    while race["over"] == json!(false) {
        let (from, to) =
            (race["from"].as_u64().expect("a run"), race["to"].as_u64().expect("a run"));
        let mut bytes = Vec::new();
        for k in 0..n_workers {
            let at = |k: u64| from + k * (to - from) / n_workers;
            let lap = json!({"kind": "lap", "now": item, "ways": race["ways"], "from": at(k), "to": at(k + 1)});
            bytes.extend(asked(&mut workers[k as usize], &request(lap), &[]).1);
        }
        let pass = request(json!({"kind": "pass", "now": item}));
        workers[0].turn(&pass, &bytes[1..]).expect_err("a lap is missing");
        race = asked(&mut workers[0], &pass, &bytes).0["race"].clone();
    }
    let last = workers.last_mut().expect("a worker");
    let plan = request(json!({"kind": "plan", "now": item, "way": race["taken"]}));
    let runs = request(
        json!({"kind": "runs", "now": item, "seed": 3, "from": 0, "to": 24, "way": race["taken"]}),
    );
    let (plan, runs) = (asked(last, &plan, &[]).0, asked(last, &runs, &[]).0);
    [race, plan["plan"].clone(), runs["runs"].clone()]
}

#[test]
fn a_race_over_any_number_of_workers_ends_the_same() {
    let alone = raced(1);
    assert!(alone[0]["words"].as_str().expect("words").contains(" of "), "{}", alone[0]);
    assert_eq!(alone[1]["shots"].as_array().map(Vec::len), Some(3), "{}", alone[1]);
    for n in [2, 3] {
        assert_eq!(raced(n), alone, "over {n} workers");
    }
}
