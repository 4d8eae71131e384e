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

/// Insertions, deletions, replacements and swaps of neighbours (optimal string alignment after Damerau).
fn distance(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let width = b.len() + 1;
    let mut table: Vec<usize> =
        (0..width * (a.len() + 1)).map(|i| if i < width { i } else { i / width }).collect();
    for i in 1..=a.len() {
        for j in 1..=b.len() {
            let at = |i: usize, j: usize| table[i * width + j];
            let same = a[i - 1] == b[j - 1];
            let mut best =
                (at(i - 1, j) + 1).min(at(i, j - 1) + 1).min(at(i - 1, j - 1) + usize::from(!same));
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(at(i - 2, j - 2) + 1);
            }
            table[i * width + j] = best;
        }
    }
    table[width * (a.len() + 1) - 1]
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
        assert_eq!(nearest("feild", &["field", "placeholder"]), Some("field"));
        assert_eq!(distance("kitten", "sitting"), 3); // Levenshtein's usual example, from memory.
        assert_eq!(distance("ca", "abc"), 3); // Differs from the unrestricted distance, which is 2; from memory.
    }
}
