//! Colours of lines as text: `"B"`, or a table that says how they take turns.

use plan::{ColourId, Pattern, Stretch};

use super::{Names, colour_of};
use crate::text_plan::lanes;
use crate::text_plan::source::{Section, Value};
use crate::text_plan::write::{Out, quote, row};

/// Reads `colours = "B"`, `{ repeat = "B3 W1" }`, `{ blend = "B T W" }` or `{ spread = "B120 W40" }`.
pub(super) fn read(s: &Section<'_>, names: &Names<'_>) -> Option<Pattern> {
    let Some(value) = s.get("colours") else {
        s.missing("colours", "\"B\"");
        return None;
    };
    if let Some(code) = value.get_ref().as_str() {
        return Some(Pattern::Plain { colour: colour_of(s, names, code, value.span().start)? });
    }
    let table = s.table("colours")?;
    let key = table.only_one(&["repeat", "blend", "spread"])?;
    let text = table.text(key)?;
    let value = table.get(key)?;
    if key == "blend" {
        let codes = text.split_ascii_whitespace();
        let colours: Vec<_> = codes.map(|c| colour_of(&table, names, c, value.span().start)).collect();
        return Some(Pattern::Blend { colours: colours.into_iter().collect::<Option<_>>()? });
    }
    let stretches = stretches(&table, names, value, &text)?;
    Some(if key == "repeat" { Pattern::Repeat { stretches } } else { Pattern::Spread { stretches } })
}

fn stretches(s: &Section<'_>, names: &Names<'_>, value: &Value<'_>, text: &str) -> Option<Vec<Stretch>> {
    let mut stretches = Vec::new();
    for run in text.split_ascii_whitespace() {
        let (code, count) = lanes::split_run(run);
        let Ok(count) = count.parse() else {
            let problem = format!("\"{}\" is not a colour code and a count", crate::stock::shown(run));
            s.source.problem(value.span().start, problem, "Write runs such as \"B3 W1\"");
            return None;
        };
        stretches.push(Stretch { colour: colour_of(s, names, code, value.span().start)?, count });
    }
    Some(stretches)
}

impl Out<'_> {
    pub(super) fn pattern(&mut self, pattern: &Pattern) {
        let value = match pattern {
            Pattern::Plain { colour } => self.code(*colour),
            Pattern::Repeat { stretches } => row(&[("repeat", self.runs(stretches))]),
            Pattern::Blend { colours } => {
                let codes: Vec<&str> = colours.iter().map(|c| self.bare_code(*c)).collect();
                row(&[("blend", quote(&codes.join(" ")))])
            }
            Pattern::Spread { stretches } => row(&[("spread", self.runs(stretches))]),
        };
        self.key("colours", value);
    }

    fn runs(&self, stretches: &[Stretch]) -> String {
        let run = |s: &Stretch| lanes::write_run(self.bare_code(s.colour), s.count as usize);
        quote(&stretches.iter().map(run).collect::<Vec<_>>().join(" "))
    }

    fn bare_code(&self, colour: ColourId) -> &str {
        self.plan.colour(colour).map_or("", |c| c.code.as_str())
    }
}
