//! Proposes a code for a colour that has none: letters from its name that nobody takes for figures.

use std::collections::BTreeSet;

/// From how many colours on a code is proposed with two signs.
const TWO_SIGNS_FROM: usize = 20;
/// Letters that are never proposed, since they are read as 1, 0, 0 and 2.
const NEVER: [char; 4] = ['I', 'O', 'Q', 'Z'];
/// Letters that are proposed last, since they are taken for 0 and I in many hands.
const LAST: [char; 2] = ['D', 'J'];

/// A code for the colour `name`, different from all `taken` ones also for a hasty reader.
///
/// `colours` is how many colours there will be in all: from 20 on the code has two signs.
/// `None` only when more than ten thousand codes are taken.
pub fn propose_code(name: &str, taken: &[&str], colours: usize) -> Option<String> {
    propose(name, &taken.iter().map(|c| plan::look_alike(c)).collect(), colours)
}

/// As [`propose_code`], with the taken codes already brought to their look-alike form.
pub(super) fn propose(name: &str, taken: &BTreeSet<String>, colours: usize) -> Option<String> {
    let own = letters_of(name);
    let all: Vec<char> = ordered(('A'..='Z').collect());
    let firsts: Vec<char> = chain_once(&own, &all);
    let free = |code: &String| !taken.contains(&plan::look_alike(code));
    if colours < TWO_SIGNS_FROM
        && let Some(code) = firsts.iter().map(char::to_string).find(free)
    {
        return Some(code);
    }
    let pairs = || firsts.iter().flat_map(|&a| firsts.iter().map(move |&b| (a, b)));
    let two = pairs().filter(|(a, b)| a != b).map(|(a, b)| format!("{a}{b}")).find(free);
    two.or_else(|| pairs().flat_map(|(a, b)| firsts.iter().map(move |c| format!("{a}{b}{c}"))).find(free))
}

/// The letters of a name that may stand in a code: the first of each word, then the others; the doubtful ones last.
fn letters_of(name: &str) -> Vec<char> {
    let words: Vec<Vec<char>> = name
        .split(|c: char| !c.is_alphanumeric())
        .map(|w| w.chars().filter_map(base_letter).collect())
        .collect();
    let initials = words.iter().filter_map(|w| w.first());
    let others = words.iter().flat_map(|w| w.iter().skip(1));
    let letters: Vec<char> = initials.chain(others).copied().collect();
    ordered(chain_once(&letters, &[]))
}

fn base_letter(c: char) -> Option<char> {
    let upper = c.to_uppercase().next()?;
    let base = match upper {
        'Ä' | 'À' | 'Á' | 'Â' | 'Å' => 'A',
        'Ö' | 'Ò' | 'Ó' | 'Ô' | 'Ø' => 'O',
        'Ü' | 'Ù' | 'Ú' | 'Û' => 'U',
        'È' | 'É' | 'Ê' | 'Ë' => 'E',
        'Ç' => 'C',
        'Ñ' => 'N',
        c => c,
    };
    base.is_ascii_uppercase().then_some(base)
}

fn ordered(letters: Vec<char>) -> Vec<char> {
    let usable = letters.into_iter().filter(|c| !NEVER.contains(c));
    let (last, mut first): (Vec<char>, Vec<char>) = usable.partition(|c| LAST.contains(c));
    first.extend(last);
    first
}

fn chain_once(a: &[char], b: &[char]) -> Vec<char> {
    let mut seen = BTreeSet::new();
    a.iter().chain(b).copied().filter(|c| seen.insert(*c)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_come_from_the_name_and_avoid_look_alikes() {
        assert_eq!(propose_code("Sky", &[], 5).unwrap(), "S");
        assert_eq!(propose_code("Sand", &["S"], 5).unwrap(), "A");
        assert_eq!(propose_code("Orange", &[], 5).unwrap(), "R");
        assert_eq!(propose_code("Dove", &[], 5).unwrap(), "V");
        assert_eq!(propose_code("Lime", &["1"], 5).unwrap(), "M", "an L is taken for a 1");
        assert_eq!(propose_code("Dark green", &[], 25).unwrap(), "GA");
        assert_eq!(propose_code("蓝", &[], 5).unwrap(), "A");
    }

    #[test]
    fn three_hundred_colours_get_three_hundred_codes() {
        let mut taken = BTreeSet::new();
        for i in 0..300 {
            let code = propose(&format!("Colour {i}"), &taken, 300).unwrap();
            assert!(!code.contains(NEVER), "{code}");
            assert!(taken.insert(plan::look_alike(&code)), "{code}");
        }
    }
}
