//! Licence expressions in the SPDX grammar, judged against a list of licences we accept.
//!
//! The grammar is annex "SPDX license expressions" of the SPDX specification 2.3:
//! `OR` binds weaker than `AND`, `AND` weaker than `WITH`; brackets group.
//! The old notation of Cargo, `MIT/Apache-2.0`, means `OR`.

use anyhow::{Result, bail};

/// Whether the expression can be met with licences of the list alone.
/// `A WITH E` is met when the list holds `A WITH E`, or `A` itself, since an exception only adds freedom.
pub(crate) fn allowed(expression: &str, list: &[&str]) -> Result<bool> {
    let spaced = expression.replace('(', " ( ").replace(')', " ) ").replace('/', " OR ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut reader = Reader { words: &words, list };
    let verdict = reader.either()?;
    match reader.words.first() {
        None => Ok(verdict),
        Some(word) => bail!("The licence expression \"{expression}\" cannot be read at \"{word}\"."),
    }
}

struct Reader<'a> {
    words: &'a [&'a str],
    list: &'a [&'a str],
}

impl<'a> Reader<'a> {
    fn either(&mut self) -> Result<bool> {
        let mut verdict = self.both()?;
        while self.takes("OR") {
            verdict |= self.both()?;
        }
        Ok(verdict)
    }

    fn both(&mut self) -> Result<bool> {
        let mut verdict = self.single()?;
        while self.takes("AND") {
            verdict &= self.single()?;
        }
        Ok(verdict)
    }

    fn single(&mut self) -> Result<bool> {
        if self.takes("(") {
            let verdict = self.either()?;
            if !self.takes(")") {
                bail!("A bracket of a licence expression is never closed.");
            }
            return Ok(verdict);
        }
        let name = self.name()?;
        if self.takes("WITH") {
            let whole = format!("{name} WITH {}", self.name()?);
            return Ok(self.list.contains(&name) || self.list.contains(&whole.as_str()));
        }
        Ok(self.list.contains(&name))
    }

    fn name(&mut self) -> Result<&'a str> {
        match self.words.split_first() {
            Some((word, rest)) if !["OR", "AND", "WITH", "(", ")"].contains(word) => {
                self.words = rest;
                Ok(word)
            }
            Some((word, _)) => bail!("A licence expression has \"{word}\" where a licence should stand."),
            None => bail!("A licence expression ends where a licence should stand."),
        }
    }

    fn takes(&mut self, wanted: &str) -> bool {
        match self.words.split_first() {
            Some((word, rest)) if word.eq_ignore_ascii_case(wanted) => {
                self.words = rest;
                true
            }
            _ => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LIST: [&str; 4] = ["MIT", "Zlib", "Unicode-3.0", "Apache-2.0 WITH LLVM-exception"];

    #[track_caller]
    fn check(expression: &str, expected: bool) {
        assert_eq!(allowed(expression, &LIST).unwrap(), expected, "{expression}");
    }

    #[test]
    fn one_licence_of_a_choice_is_enough() {
        check("MIT", true);
        check("GPL-3.0-only", false);
        check("GPL-3.0-only OR MIT", true);
        check("MIT/GPL-2.0", true);
    }

    #[test]
    fn every_licence_of_a_sum_is_needed() {
        check("MIT AND Zlib", true);
        check("MIT AND GPL-3.0-only", false);
    }

    #[test]
    fn and_binds_tighter_than_or_and_brackets_group() {
        check("MIT OR Zlib AND GPL-3.0-only", true);
        check("(MIT OR Zlib) AND GPL-3.0-only", false);
        check("(MIT OR Apache-2.0) AND Unicode-3.0", true);
        check("((GPL-2.0-only))", false);
    }

    #[test]
    fn an_exception_belongs_to_its_licence() {
        check("Apache-2.0 WITH LLVM-exception", true);
        check("Apache-2.0", false);
        check("MIT WITH Any-exception", true);
        check("GPL-2.0-only WITH Classpath-exception-2.0", false);
    }

    #[test]
    fn a_broken_expression_is_an_error() {
        for text in ["", "MIT OR", "MIT Zlib", "(MIT", "MIT)", "AND MIT", "MIT WITH"] {
            assert!(allowed(text, &LIST).is_err(), "{text}");
        }
    }
}
