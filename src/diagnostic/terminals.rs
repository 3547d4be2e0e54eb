//! What terminals are called, for whoever named one that is not there.

/// How terminals are named.
pub(super) const TERMINAL_NAMES: &str = "batteries, alternators and loads have the terminals `NAME +` and \
    `NAME -`, devices `NAME in` and `NAME out`, converters `NAME in +`, `NAME out +` and `NAME -`; \
    buses and chassis points are one terminal, `NAME`";

/// What the names of terminals end in.
const TERMINAL_ENDS: [&str; 8] = [
    " in +", " in -", " out +", " out -", " +", " -", " in", " out",
];

/// What terminals the item has that a name of a terminal starts with, in words.
pub(super) fn of_same_item(name: &str, terminals: &[&str]) -> Option<String> {
    let item = |name: &str| {
        let mut ends = TERMINAL_ENDS.iter();
        let found = ends.find_map(|end| name.strip_suffix(end));
        found.unwrap_or(name).to_owned()
    };
    let own = item(name);
    let same = terminals.iter().filter(|terminal| item(terminal) == own);
    let same: Vec<String> = same.map(|terminal| format!("`{terminal}`")).collect();
    (!same.is_empty()).then(|| format!("`{own}` has the terminals {}", same.join(", ")))
}
