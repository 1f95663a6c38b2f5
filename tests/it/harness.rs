//! What tests do that is not theirs: work on every core, read recorded files and write them anew.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

/// What `work` makes of each of `tasks`, in their order.
pub fn on_every_core<T: Sync, R: Send>(tasks: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let cores = std::thread::available_parallelism().map_or(1, |n| n.get());
    let mut done: Vec<(usize, R)> = std::thread::scope(|scope| {
        let run = || {
            let take = || Some(next.fetch_add(1, Ordering::Relaxed)).filter(|&k| k < tasks.len());
            std::iter::from_fn(take).map(|k| (k, work(&tasks[k]))).collect::<Vec<_>>()
        };
        let workers: Vec<_> = (0..cores).map(|_| scope.spawn(run)).collect();
        workers.into_iter().flat_map(|worker| worker.join().expect("no task fails")).collect()
    });
    done.sort_by_key(|(k, _)| *k);
    done.into_iter().map(|(_, result)| result).collect()
}

/// Whether what is recorded is to be written anew: `LEAVELINE_PUBLISH=1 cargo test`.
pub fn is_publishing() -> bool {
    std::env::var_os("LEAVELINE_PUBLISH").is_some()
}

/// Writes `text` to a file of the project, if what is recorded there is to be
/// written anew.
pub fn publish(file: &str, text: &str) {
    if is_publishing() {
        std::fs::write(in_project(file), text).unwrap_or_else(|error| panic!("{file}: {error}"));
    }
}

/// The text of a file of the project.
pub fn published(file: &str) -> String {
    std::fs::read_to_string(in_project(file)).unwrap_or_else(|error| panic!("{file}: {error}"))
}

fn in_project(file: &str) -> PathBuf {
    // A package of its own below the project's may use this module, too.
    let mut above = Path::new(env!("CARGO_MANIFEST_DIR")).ancestors();
    let project = above.find(|folder| folder.join("tests/golden").is_dir());
    project.expect("the project's folder").join(file)
}
