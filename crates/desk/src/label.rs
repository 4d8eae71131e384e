//! What a step is called: words, and how they are said in other languages.

use std::fmt;

use sayings::Said;

/// Between the words of a step and what is said with them, where the journal keeps both as one text.
const BETWEEN: char = '\u{1f}';

/// What a step is called. It displays as English, or as whoever took the step called it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Label {
    words: String,
    said: Option<String>,
}

impl Label {
    /// In English, or as whoever took the step called it.
    pub fn words(&self) -> &str {
        &self.words
    }

    /// The key of the words and their figures, as JSON; `None` when whoever took the step chose the words.
    pub fn said(&self) -> Option<&str> {
        self.said.as_deref()
    }

    /// As the journal keeps it: the words, and behind a sign that no name has what is said with them.
    pub(crate) fn kept(&self) -> String {
        match &self.said {
            Some(said) => format!("{}{BETWEEN}{said}", self.words),
            None => self.words.clone(),
        }
    }

    /// As it was before it was kept.
    pub(crate) fn of_kept(text: &str) -> Self {
        match text.split_once(BETWEEN) {
            Some((words, said)) => Self { words: words.to_owned(), said: Some(said.to_owned()) },
            None => Self::from(text),
        }
    }
}

impl From<Said> for Label {
    fn from(said: Said) -> Self {
        let words = said.to_string().replace(BETWEEN, "");
        Self { words, said: serde_json::to_string(&said).ok() }
    }
}

impl From<&str> for Label {
    fn from(words: &str) -> Self {
        Self { words: words.replace(BETWEEN, ""), said: None }
    }
}

impl From<String> for Label {
    fn from(words: String) -> Self {
        Self::from(words.as_str())
    }
}

impl fmt::Display for Label {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)
    }
}

impl PartialEq<str> for Label {
    fn eq(&self, other: &str) -> bool {
        self.words == other
    }
}

impl PartialEq<&str> for Label {
    fn eq(&self, other: &&str) -> bool {
        self.words == *other
    }
}

#[cfg(test)]
mod tests {
    use sayings::{doing, say};

    use super::*;

    #[test]
    fn the_journal_gives_back_what_was_said_and_words_that_somebody_chose() {
        let said = Label::from(say!(doing::MOVE, names = "Mill \u{1f}{\"}"));
        let back = Label::of_kept(&said.kept());
        assert_eq!(back, said);
        assert_eq!(back, "Move Mill {\"}");
        assert!(back.said().unwrap().contains("doing.move"), "{back:?}");
        for words in ["Mühle verschieben", "", "Move\u{1f}{}"] {
            let own = Label::from(words);
            assert_eq!((own.said(), own.words()), (None, words.replace('\u{1f}', "").as_str()));
            assert_eq!(Label::of_kept(&own.kept()), own);
        }
    }
}
