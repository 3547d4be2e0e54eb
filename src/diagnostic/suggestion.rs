//! The nearest right word.

/// The candidate most like `word`, if any is like it at all.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    const ALIKE: f64 = 0.78;
    let wanted = word.to_lowercase();
    candidates
        .into_iter()
        .map(|candidate| {
            let likeness = strsim::jaro_winkler(&wanted, &candidate.to_lowercase());
            (likeness, candidate)
        })
        .filter(|(likeness, _)| *likeness >= ALIKE)
        // On a tie the first candidate wins, so that the answer does not depend on sorting.
        .reduce(|best, next| if next.0 > best.0 { next } else { best })
        .map(|(_, candidate)| candidate)
}
