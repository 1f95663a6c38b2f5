//! What holds everywhere in the tree and no compiler checks: the invariants of
//! DEVELOPERS.md. Every failure names the file and the line.

use std::fs;
use std::path::{Path, PathBuf};

/// A file of the project, read whole.
struct File {
    /// From the project's folder on, with `/`.
    name: String,
    text: String,
}

impl File {
    fn is(&self, ending: &str) -> bool {
        self.name.ends_with(ending)
    }

    /// Lines of code with their numbers: no comments, and not the test module.
    fn code(&self) -> impl Iterator<Item = (usize, &str)> {
        let end = self.text.find("#[cfg(test)]\nmod ").unwrap_or(self.text.len());
        numbered(&self.text[..end])
            .map(|(number, line)| (number, line.split(" // ").next().unwrap_or(line)))
            .filter(|(_, line)| !line.trim_start().starts_with("//"))
    }
}

fn numbered(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.lines().enumerate().map(|(k, line)| (k + 1, line))
}

/// Every file below these folders of the project that somebody wrote.
fn files(folders: &[&str]) -> Vec<File> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    let mut open: Vec<PathBuf> = folders.iter().map(|folder| root.join(folder)).collect();
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of the project") {
            let path = entry.expect("an entry").path();
            let name = path.file_name().and_then(|name| name.to_str()).expect("a plain name");
            if ["pkg", "node_modules", "target", "Cargo.lock", "package-lock.json"].contains(&name)
            {
                continue;
            }
            if path.is_dir() {
                open.push(path);
            } else if let Ok(text) = fs::read_to_string(&path) {
                let inside = path.strip_prefix(root).expect("inside of the project");
                let name = inside.to_string_lossy().replace('\\', "/");
                found.push(File { name, text });
            }
        }
    }
    found.sort_by(|a, b| a.name.cmp(&b.name));
    assert!(!found.is_empty(), "{folders:?} hold files");
    found
}

/// The core: what runs natively and in the browser alike.
fn core() -> Vec<File> {
    let mut files = files(&["src"]);
    files.retain(|file| file.is(".rs") && !file.name.starts_with("src/wasm/"));
    files
}

/// Fails with every place found.
fn none_of(what: &str, places: Vec<String>) {
    assert!(places.is_empty(), "{what}:\n  {}", places.join("\n  "));
}

/// Every line of code of `files` that `is_wrong`.
fn lines(files: &[File], is_wrong: impl Fn(&File, &str) -> bool) -> Vec<String> {
    let place =
        |file: &File, number: usize, line: &str| format!("{}:{number}: {}", file.name, line.trim());
    files
        .iter()
        .flat_map(|file| file.code().map(move |(number, line)| (file, number, line)))
        .filter(|(file, _, line)| is_wrong(file, line))
        .map(|(file, number, line)| place(file, number, line))
        .collect()
}

/// Whether `word` stands in `line` and is no part of a longer one.
fn has_word(line: &str, word: &str) -> bool {
    let is_part = |c: char| c.is_alphanumeric() || c == '_';
    line.match_indices(word).any(|(at, _)| {
        !line[..at].ends_with(is_part) && !line[at + word.len()..].starts_with(is_part)
    })
}

#[test]
fn the_core_has_no_clock_no_files_no_threads_and_says_nothing() {
    let banned = [
        "std::time",
        "std::fs",
        "std::net",
        "std::env",
        "std::process",
        "std::thread",
        "std::sync",
        "std::cell",
        "Instant",
        "SystemTime",
        "println",
        "eprintln",
        "print",
        "eprint",
        "dbg",
        "static",
        "thread_local",
        "getrandom",
    ];
    // A borrowed text may be static; a variable may not.
    let plain = |line: &str| line.replace("&'static", "");
    let places = lines(&core(), |_, line| banned.iter().any(|word| has_word(&plain(line), word)));
    none_of("the core is pure", places);
}

#[test]
fn transcendental_functions_come_from_libm() {
    let names = [
        "sin",
        "cos",
        "tan",
        "sin_cos",
        "asin",
        "acos",
        "atan",
        "atan2",
        "sinh",
        "cosh",
        "tanh",
        "exp",
        "exp2",
        "exp_m1",
        "ln",
        "ln_1p",
        "log",
        "log2",
        "log10",
        "powf",
        "powi",
        "cbrt",
        "hypot",
        "to_radians",
        "to_degrees",
        "mul_add",
        "angle_to",
        "to_angle",
        "from_angle",
        "angle_between",
        "rotate_towards",
        "slerp",
        "asinh",
        "acosh",
        "atanh",
    ];
    let system = |line: &str| {
        let from = |start: &str, name: &str| {
            line.match_indices(&format!("{start}{name}"))
                .any(|(at, text)| line[at + text.len()..].starts_with(['(', ')', ',', ';']))
        };
        let owners = [".", "f64::", "f32::", "DVec2::", "DVec3::"];
        names.iter().any(|name| owners.iter().any(|owner| from(owner, name)))
    };
    none_of("engines differ in their own mathematics", lines(&core(), |_, line| system(line)));
}

#[test]
fn only_the_boundary_knows_javascript() {
    let crates = ["web_sys", "js_sys", "wasm_bindgen", "serde_wasm_bindgen"];
    let places = lines(&core(), |_, line| crates.iter().any(|name| has_word(line, name)));
    none_of("JavaScript is known to src/wasm alone", places);
}

#[test]
fn only_the_forms_know_serde() {
    let mut files = core();
    files.retain(|file| !file.name.starts_with("src/wire/"));
    let words = ["serde", "serde_json", "Serialize", "Deserialize"];
    let places = lines(&files, |_, line| words.iter().any(|word| has_word(line, word)));
    none_of("serde is for src/wire", places);
}

/// The modules from the lowest to the highest; those in one row may know each other.
const ORDER: [&[&str]; 11] = [
    &["error", "normal", "order", "units"],
    &["geometry"],
    &["ball", "table"],
    &["physics"],
    &["shot"],
    &["plan"],
    &["practice"],
    &["layout"],
    &["memory"],
    &["wire"],
    &["wasm"],
];

#[test]
fn imports_point_down() {
    let height = |module: &str| ORDER.iter().position(|row| row.contains(&module));
    let mut places = Vec::new();
    for file in files(&["src"]).iter().filter(|file| file.is(".rs") && !file.is("/lib.rs")) {
        let module = file.name["src/".len()..].split(['/', '.']).next().expect("a module");
        let own = height(module);
        assert!(own.is_some(), "{}: {module} has no place in the order", file.name);
        // Test modules as well: they are read to learn how a module is used.
        for (number, line) in numbered(&file.text) {
            for (at, start) in line.match_indices("crate::") {
                let rest = &line[at + start.len()..];
                assert!(!rest.starts_with('{'), "{}:{number}: one line a module", file.name);
                let other = rest.split(|c: char| !c.is_alphanumeric() && c != '_').next();
                // A crate's root holds types by their own names, too.
                let other = other.filter(|name| name.starts_with(char::is_lowercase));
                if other.is_some_and(|name| height(name) > own || height(name).is_none()) {
                    places.push(format!("{}:{number}: {}", file.name, line.trim()));
                }
            }
        }
    }
    none_of("a module knows only what lies below it", places);
}

#[test]
fn nothing_is_unsafe() {
    let manifest = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml"));
    let manifest = manifest.expect("the manifest");
    assert!(manifest.contains("unsafe_code = \"deny\""), "Cargo.toml: the lint is on");
    let mut files = files(&["src"]);
    files.retain(|file| file.is(".rs"));
    let words = ["unsafe", "unsafe_code"];
    let places = lines(&files, |_, line| words.iter().any(|word| has_word(line, word)));
    none_of("safe code only", places);
}

#[test]
fn files_are_short() {
    // Golden files are written by tests, and read by nobody else.
    let places = files(&["src", "tests", "scripts", "www"])
        .iter()
        .filter(|file| !file.name.starts_with("tests/golden/"))
        .filter(|file| file.text.lines().count() > 600)
        .map(|file| format!("{}:601: of {} lines", file.name, file.text.lines().count()))
        .collect();
    none_of("no file is longer than 600 lines", places);
}

#[test]
fn nothing_is_left_for_later() {
    let marks =
        ["TODO", "FIXME", "XXX", "todo!", "unimplemented!", "#[ignore", "test.skip", "test.todo"];
    let mut places = Vec::new();
    for file in files(&["src", "tests", "scripts", "www"]) {
        if file.name == "tests/it/tidy.rs" {
            continue;
        }
        for (number, line) in numbered(&file.text) {
            if marks.iter().any(|mark| line.contains(mark)) {
                places.push(format!("{}:{number}: {}", file.name, line.trim()));
            }
        }
    }
    none_of("stubs and skipped tests", places);
}

#[test]
fn the_page_has_no_inline_style_or_script() {
    let mut places = Vec::new();
    for file in files(&["www"]) {
        let is_page = file.is(".html") || file.is(".svg");
        for (number, line) in numbered(&file.text) {
            let handler = line.split(" on").skip(1).any(|rest| {
                let name = rest.trim_start_matches(|c: char| c.is_ascii_lowercase());
                name.len() < rest.len() && name.starts_with("=\"")
            });
            let in_page = line.contains("<style")
                || has_word(line, "style") && line.contains("style=")
                || line.contains("<script") && !line.contains(" src=\"")
                || line.contains("javascript:")
                || handler;
            let in_script = [
                "innerHTML",
                "outerHTML",
                "insertAdjacentHTML",
                "document.write",
                "eval(",
                "new Function",
                "cssText",
                "'style'",
                "\"style\"",
            ]
            .iter()
            .any(|word| line.contains(word));
            if is_page && in_page || file.is(".js") && in_script {
                places.push(format!("{}:{number}: {}", file.name, line.trim()));
            }
        }
    }
    none_of("style by class, build by element", places);
}

#[test]
fn the_page_and_the_server_state_one_policy() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let read = |name: &str| fs::read_to_string(root.join(name)).expect(name);
    let (page, server) = (read("www/index.html"), read("scripts/serve.mjs"));
    let between = |text: &str, start: &str, end: &str| {
        let (_, rest) = text.split_once(start).expect(start);
        rest.split_once(end).expect(end).0.to_owned()
    };
    let meta = between(&page, "http-equiv=\"Content-Security-Policy\"", "/>");
    let stated = between(&meta, "content=\"", "\"");
    let served: String =
        between(&server, "export const POLICY =", "\";\n").split('"').skip(1).step_by(2).collect();
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(served.starts_with("default-src 'none';"), "scripts/serve.mjs: {served}");
    assert_eq!(words(&stated), words(&served), "www/index.html and scripts/serve.mjs");
    assert!(!stated.contains("unsafe"), "www/index.html: {stated}");
}

#[test]
fn no_part_of_the_page_imports_from_another() {
    let parts = ["read", "leave", "clear", "eye", "bench", "sets", "log"];
    let all = files(&["www/js"]);
    for part in parts {
        let folder = format!("www/js/{part}/");
        assert!(all.iter().any(|file| file.name.starts_with(&folder)), "{folder} is a part");
    }
    let places = lines(&all, |file, line| {
        let own = file.name["www/js/".len()..].split('/').next().unwrap_or_default();
        let import = line.starts_with("import ") || line.starts_with("export ");
        let others = parts.iter().filter(|&&part| part != own);
        let from = |part: &str| {
            import && line.contains(&format!("from '../{part}/"))
                || line.contains(&format!(" import('../{part}/"))
        };
        parts.contains(&own) && others.into_iter().any(|part| from(part))
    });
    none_of("what two parts share has a folder of its own", places);
}

#[test]
fn the_page_names_no_host() {
    let known = ["http://www.w3.org/", "https://json-schema.org/"];
    let mut places = Vec::new();
    for file in files(&["www"]) {
        for (number, line) in numbered(&file.text) {
            for scheme in ["http://", "https://", "ws://", "wss://"] {
                let foreign = line
                    .match_indices(scheme)
                    .any(|(at, _)| !known.iter().any(|host| line[at..].starts_with(host)));
                if foreign {
                    places.push(format!("{}:{number}: {}", file.name, line.trim()));
                }
            }
        }
    }
    none_of("the page speaks to nobody else", places);
}
