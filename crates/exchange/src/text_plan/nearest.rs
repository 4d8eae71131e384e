//! The nearest known word to a misspelt one.

/// The known word that differs in the fewest signs, if it differs in at most a third of them.
pub(super) fn nearest<'a>(word: &str, known: &[&'a str]) -> Option<&'a str> {
    // Nobody misspells so long a word, and the comparison below is quadratic.
    if word.len() > 64 {
        return None;
    }
    let best = known.iter().map(|k| (distance(word, k), *k)).min()?;
    (best.0 * 3 <= best.1.len().max(3)).then_some(best.1)
}

/// Levenshtein's distance: insertions, deletions and replacements of one sign.
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, y) in b.iter().enumerate() {
            let above = row[j + 1];
            row[j + 1] = (diagonal + usize::from(x != *y)).min(row[j] + 1).min(above + 1);
            diagonal = above;
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_its_word_and_nonsense_does_not() {
        let known = ["pitch_along", "pitch_across", "name"];
        assert_eq!(nearest("pich_along", &known), Some("pitch_along"));
        assert_eq!(nearest("nam", &known), Some("name"));
        assert_eq!(nearest("shelf", &known), None);
        assert_eq!(distance("kitten", "sitting"), 3); // Levenshtein's usual example, from memory.
    }
}
