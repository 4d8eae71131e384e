//! The called text: each lane or rank as lines of code and count, with running totals and the total.
//!
//! Read by a program, in the order of the words:
//!
//! ```text
//! unit  = number ":" { [ done ] call [ done ] [ "|" ] } "=" pieces [ "of" cells ]
//!       | number ":" { … } "…"  and on the next sheet  number ":" "…" done { … } "=" …
//! call  = ( code | "skip" ) count
//! done  = "›" cells
//! ```
//!
//! `done` counts the cells of this unit so far, empty ones included; it stands after each call that passes a
//! full ten or ends a comb load, and again at the head of each further line. "skip" and "of" are the words of
//! the sheet's language. `pieces` leaves empty cells out; where there are any, `cells` counts all.

use super::{CALLED, Ctx};
use crate::page::{BLACK, Face, Page, SOFT};
use crate::read::{Call, ReadUnit};

/// Height of a line of calls in mm.
pub(crate) const LINE: f64 = 8.0;
/// Space after the last line of a unit in mm.
pub(crate) const AFTER: f64 = 2.2;
/// From the heading of the calls to their first base line, in mm.
pub(crate) const LEAD: f64 = 13.5;
/// Space between two calls in mm.
const GAP: f64 = 4.6;
/// Running totals.
const DONE: super::Style = (Face::Regular, 10.0, SOFT);

/// A few words that stay together on a line: place against the group's left end, style, text.
#[derive(Debug, Clone)]
struct Group {
    words: Vec<(f64, super::Style, String)>,
    width: f64,
    /// Cells done after this group.
    done: u32,
}

/// The lines of one unit.
#[derive(Debug, Clone)]
pub(crate) struct UnitLines {
    pub(crate) index: u32,
    lines: Vec<Vec<Group>>,
}

/// Where the columns of a page's calls begin.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Columns {
    /// Right end of the number of the lane or rank.
    number: f64,
    /// Left end of the calls.
    calls: f64,
    /// Where the calls must end.
    end: f64,
}

impl Group {
    fn new(done: u32) -> Self {
        Self { words: Vec::new(), width: 0.0, done }
    }

    fn push(&mut self, gap: f64, style: super::Style, text: String) {
        let x = if self.words.is_empty() { 0.0 } else { self.width + gap };
        self.width = x + style.0.width(&text, style.1);
        self.words.push((x, style, text));
    }
}

impl Columns {
    pub(crate) fn new(ctx: &Ctx<'_>, most: u32) -> Self {
        let digits = most.to_string().len().max(2);
        let wide = Face::Bold.width(&"0".repeat(digits), CALLED) + Face::Bold.width(":", CALLED);
        let number = super::MARGIN + 9.0 + wide;
        Self { number, calls: number + 4.0, end: ctx.paper().0 - super::MARGIN - 6.0 }
    }
}

impl UnitLines {
    pub(crate) fn new(ctx: &Ctx<'_>, unit: &ReadUnit, columns: Columns) -> Self {
        let mut groups: Vec<Group> =
            unit.calls.iter().map(|c| call_group(ctx, c, c.done < unit.cells)).collect();
        match groups.last_mut() {
            // The total never stands alone on a line.
            Some(last) => push_total(ctx, last, unit),
            None => groups.push(Group::new(0)),
        }
        let width = columns.end - columns.calls;
        let mut lines: Vec<Vec<Group>> = vec![Vec::new()];
        let mut used = 0.0;
        for group in groups {
            let line = lines.last_mut().expect("there is always a line");
            if line.is_empty() || used + GAP + group.width <= width {
                used += group.width + if line.is_empty() { 0.0 } else { GAP };
                line.push(group);
            } else {
                used = group.width;
                lines.push(vec![group]);
            }
        }
        Self { index: unit.index, lines }
    }

    pub(crate) fn len(&self) -> usize {
        self.lines.len()
    }

    /// Draws the lines `from..to`, the first base line at `y`; returns the base line after the last.
    ///
    /// Lines that follow on a new page get a line before them with the number and the running total.
    pub(crate) fn draw(&self, page: &mut Page, columns: Columns, (from, to): (usize, usize), y: f64) -> f64 {
        let mut y = y;
        let bold = (Face::Bold, CALLED, BLACK);
        let number = format!("{}:", self.index + 1);
        if from == 0 {
            crate::draw::tick_box(page, super::MARGIN + 0.5, y - 5.0, 6.0);
            page.text_right(columns.number, y, bold, &number);
        } else {
            page.text_right(columns.number, y, bold, &number);
            page.text(columns.calls, y, DONE, &format!("… ›{}", self.before(from)));
            y += LINE;
        }
        for i in from..to.min(self.lines.len()) {
            if i > from {
                page.text_right(columns.number, y, DONE, &format!("›{}", self.before(i)));
            }
            let mut x = columns.calls;
            for group in &self.lines[i] {
                for (dx, style, text) in &group.words {
                    page.text(x + dx, y, *style, text);
                }
                x += group.width + GAP;
            }
            if i + 1 == to && to < self.lines.len() {
                page.text(x, y, bold, "…");
            }
            y += LINE;
        }
        y
    }

    /// Cells done before line `i`.
    fn before(&self, i: usize) -> u32 {
        self.lines[i - 1].last().map_or(0, |g| g.done)
    }
}

fn call_group(ctx: &Ctx<'_>, call: &Call, goes_on: bool) -> Group {
    let mut group = Group::new(call.done);
    match call.colour {
        Some(id) => group.push(0.0, (Face::Bold, CALLED, BLACK), ctx.tone(id).code.clone()),
        None => group.push(0.0, (Face::Regular, CALLED, BLACK), ctx.words.get("skip").to_owned()),
    }
    group.push(1.5, (Face::Regular, CALLED, BLACK), call.count.to_string());
    if goes_on && (call.passes_ten() || call.load_ends) {
        group.push(1.1, DONE, format!("›{}", call.done));
    }
    if call.load_ends {
        group.push(2.2, (Face::Bold, CALLED, BLACK), "|".to_owned());
    }
    group
}

fn push_total(ctx: &Ctx<'_>, group: &mut Group, unit: &ReadUnit) {
    let bold = (Face::Bold, CALLED, BLACK);
    group.push(GAP, bold, "=".to_owned());
    group.push(1.5, bold, unit.pieces.to_string());
    if unit.pieces != unit.cells {
        let plain = (Face::Regular, 11.0, BLACK);
        group.push(1.5, plain, ctx.words.get("of").to_owned());
        group.push(1.2, plain, unit.cells.to_string());
    }
}
