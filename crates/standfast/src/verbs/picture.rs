//! `picture`: a picture from the pieces you own, without a project.

use findings::grouped;
use std::collections::BTreeMap;
use std::time::Instant;

use desk::{DeskError, MatchAsk, Outcome, PictureBank, PictureSource};
use plan::{Body, Field, FieldFrame, Item, ItemId, Plan};
use serde_json::{Value, json};
use units::Length;

use crate::cli::{FailOn, Fall, Fit, Goal, HowArgs, PictureArgs, SeenAs};
use crate::files;
use crate::interrupt;
use crate::load;
use crate::out::{Done, Ending, Out, Trouble};

/// The item that the picture is laid in.
const FIELD: ItemId = ItemId(1);

/// Matches a picture to a stock list and says how well it goes.
pub(crate) fn run(out: &Out, args: &PictureArgs) -> Done {
    if args.image == std::path::Path::new("-") && args.stock == std::path::Path::new("-") {
        let message =
            "Standard input can be the picture or the stock list, not both. Name a file for one of them.";
        return Err(Trouble::input("usage", message));
    }
    let begin = Instant::now();
    let (stock, notes) = load::stock_list(&args.stock)?;
    notes.iter().for_each(|n| out.remark(n));
    let bytes = files::read(&args.image)?;
    let plan = lay_out(&load::name_of(&args.image), &bytes, stock, args.cells, &args.how)?;
    let source = OnePicture(bytes);
    let bank = PictureBank::new();
    let made = matched(out, &plan, &source, &bank, args)?;
    let seconds = begin.elapsed().as_secs_f64();
    if let Some(path) = &args.output {
        files::write(path, &drawing(&plan, &made)?)?;
    }
    let shortage = desk::ways_out(&plan_as_laid(&plan, &made), &bank, &source, Some(&made.outcome.exact))?;
    let report = Report { plan: &plan, made: &made, shortage: &shortage, seconds, notes: &notes };
    // With the picture itself on standard output there is no room for the report there.
    if args.output.as_deref() == Some(std::path::Path::new("-")) {
        out.remark(&report.human());
    } else {
        out.result(|| report.human(), || report.json())?;
    }
    let should_fail = args.fail_on == FailOn::Should && !shortage.summary.short().is_empty();
    Ok(if should_fail { Ending::Findings } else { Ending::Fine })
}

/// A plan with this stock and one field that shows this picture.
///
/// Not through the gate: cells here may be smaller than a piece, since a picture can be tried at any scale.
pub(crate) fn lay_out(
    name: &str,
    bytes: &[u8],
    stock: plan::Stock,
    cells: (u32, u32),
    how: &HowArgs,
) -> Result<Plan, Trouble> {
    let facts = load::picture_facts(name, bytes)?;
    let mut plan = Plan::new(name);
    plan.hall.floor = plan::Rgb::from_hex(&how.floor).ok_or_else(|| {
        Trouble::input("usage", format!("--floor {}: this is not a colour. Write it as #8a7a62.", how.floor))
    })?;
    plan.stock = stock;
    let kind = plan.stock.kinds.first().map(|k| k.id).ok_or_else(|| {
        Trouble::input(
            "stock",
            "The stock list has no pieces. Add at least one line with a colour and a count.",
        )
    })?;
    let frame = frame(cells, &facts, how)?;
    let mut field = Field::empty(kind, frame);
    field.picture = Some(plan::PictureUse {
        picture: facts.id,
        crop: None,
        fit: match how.fit {
            Fit::Fill => plan::PictureFit::Fill,
            Fit::Within => plan::PictureFit::Within,
            Fit::Stretch => plan::PictureFit::Stretch,
        },
        contrast: how.contrast,
    });
    field.wish = wish(how);
    plan.pictures.push(facts);
    plan.items.push(Item {
        heading: units::Angle::deg(f64::from(frame.fall.quarter_turns()) * 90.0),
        ..Item::new(FIELD, name, geometry::Point::new(0.0, 0.0), Body::Field(field))
    });
    Ok(plan)
}

/// Cells of a picture that was drawn cell by cell are taken as they are: square, so that nothing is resampled.
fn frame(cells: (u32, u32), facts: &plan::Picture, how: &HowArgs) -> Result<FieldFrame, Trouble> {
    let (columns, rows) = cells;
    let most = plan::MAX_CELLS as u64;
    if columns == 0 || rows == 0 || u64::from(columns) * u64::from(rows) > most {
        let message = format!("--cells {columns}x{rows}: give 1 cell or more, at most {most} in all.");
        return Err(Trouble::input("usage", message));
    }
    let drawn_by_cell = (facts.width, facts.height) == cells;
    let fall = match how.fall {
        Fall::Right => geometry::FallInPicture::Right,
        Fall::Up => geometry::FallInPicture::Up,
        Fall::Left => geometry::FallInPicture::Left,
        Fall::Down => geometry::FallInPicture::Down,
    };
    let usual = if fall.lanes_are_rows() { (15.0, 25.0) } else { (25.0, 15.0) };
    let (w, h) = how.pitch.unwrap_or(if drawn_by_cell { (25.0, 25.0) } else { usual });
    if !(w.is_finite() && h.is_finite() && (0.1..=10_000.0).contains(&w) && (0.1..=10_000.0).contains(&h)) {
        let message = format!("--pitch {w}x{h}: give lengths from 0.1 to 10000 mm.");
        return Err(Trouble::input("usage", message));
    }
    let (along, across) = if fall.lanes_are_rows() { (w, h) } else { (h, w) };
    let (ranks, lanes) = if fall.lanes_are_rows() { (columns, rows) } else { (rows, columns) };
    Ok(FieldFrame { fall, ..FieldFrame::new(lanes, ranks, Length::mm(along), Length::mm(across)) })
}

fn wish(how: &HowArgs) -> plan::MatchWish {
    let eye = plan::Eye {
        distance: Length::m(how.seen_from),
        height: Length::m(how.eye_height),
        bearing: units::Angle::deg(how.eye_bearing),
    };
    plan::MatchWish {
        goal: match how.goal {
            Goal::Exact => plan::MatchGoal::Exact,
            Goal::Seen => plan::MatchGoal::Seen,
        },
        seen_as: match how.seen_as {
            SeenAs::Laid => plan::SeenAs::Laid,
            SeenAs::Above => plan::SeenAs::Above,
            SeenAs::Standing => plan::SeenAs::Standing { eye },
            SeenAs::Fallen => plan::SeenAs::Fallen,
        },
        seen_from: Length::m(how.seen_from),
        fewer_changes: how.fewer_changes,
        weight: 1,
        allowed: None,
    }
}

fn matched(
    out: &Out,
    plan: &Plan,
    source: &OnePicture,
    bank: &PictureBank,
    args: &PictureArgs,
) -> Result<Timed, Trouble> {
    check_numbers(&args.how)?;
    let ask = MatchAsk { items: vec![FIELD], goal: None, fewer_changes: None, only: None, shows: None };
    let begin = Instant::now();
    // Laid once beforehand so that its time is known; the match finds it in the bank.
    let field = plan.items[0].field();
    let laid = field.map(|f| bank.wanted(plan, f, source, &|_| !interrupt::pressed())).transpose()?;
    drop(laid);
    let picture = begin.elapsed().as_secs_f64();
    let outcome = crate::verbs::matching::solve(out, plan, source, bank, &ask)?;
    Ok(Timed { outcome, picture })
}

fn check_numbers(how: &HowArgs) -> Result<(), Trouble> {
    let ranges = [
        ("--seen-from", how.seen_from, 0.1, 1_000.0),
        ("--fewer-changes", how.fewer_changes, 0.0, 5.0),
        ("--eye-height", how.eye_height, 0.05, 100.0),
        ("--eye-bearing", how.eye_bearing, -360.0, 360.0),
        ("--contrast", how.contrast, -1.0, 1.0),
    ];
    for (word, value, least, most) in ranges {
        if !(least..=most).contains(&value) {
            return Err(Trouble::input(
                "usage",
                format!("{word} {value}: give a value from {least} to {most}."),
            ));
        }
    }
    Ok(())
}

/// A match with the seconds that reading the picture took.
struct Timed {
    outcome: Outcome,
    picture: f64,
}

fn plan_as_laid(plan: &Plan, made: &Timed) -> Plan {
    let mut laid = plan.clone();
    if let Body::Field(field) = &mut laid.items[0].body {
        field.cells = made.outcome.cells[0].1.clone();
    }
    laid
}

fn drawing(plan: &Plan, made: &Timed) -> Result<Vec<u8>, Trouble> {
    let item = &plan.items[0];
    let Body::Field(field) = &item.body else { unreachable!("the only item is a field") };
    let (columns, _) = field.frame.map().picture_size();
    let width = (columns * 12).clamp(64, 4_096);
    let raster = desk::draw_field(plan, field, Some(&made.outcome.cells[0].1), desk::View::Laid, width)?;
    colour::to_png(&raster).map_err(|e| Trouble::machine("picture", e.to_string()))
}

struct Report<'a> {
    plan: &'a Plan,
    made: &'a Timed,
    shortage: &'a desk::Shortage,
    seconds: f64,
    notes: &'a [String],
}

impl Report<'_> {
    /// Per colour in order of id: code, name, used, usable.
    fn counts(&self) -> Vec<(&str, &str, u64, u64)> {
        let mut used: BTreeMap<u16, u64> = BTreeMap::new();
        for (_, c, n) in &self.made.outcome.used {
            *used.entry(c.0).or_default() += n;
        }
        let stock =
            |c: &plan::Colour| self.plan.stock.kinds.iter().map(|k| self.plan.stock.usable(k.id, c.id)).sum();
        let row = |c: &'_ plan::Colour| (used.get(&c.id.0).copied().unwrap_or(0), stock(c));
        self.plan
            .stock
            .colours
            .iter()
            .map(|c| {
                let (used, stock) = row(c);
                (c.code.as_str(), c.name.as_str(), used, stock)
            })
            .collect()
    }

    fn human(&self) -> String {
        use std::fmt::Write;
        let o = &self.made.outcome;
        let m = &o.measures[0];
        let mut t = String::new();
        let _ = writeln!(
            t,
            "{} pieces, difference {:.2} cell by cell, {:.2} as seen (CIEDE2000, mean)",
            grouped(m.pieces),
            m.difference,
            m.difference_seen
        );
        let proof = if o.proof.objective == o.proof.bound {
            "no better sum exists within this stock".to_owned()
        } else {
            let over = (o.proof.objective - o.proof.bound) as f64 / 1_000.0 / m.pieces.max(1) as f64;
            format!(
                "cell by cell it is {over:.2} a cell above the least possible, for what is seen from afar"
            )
        };
        let _ = writeln!(t, "sum {} thousandths: {proof}", grouped(o.proof.objective.unsigned_abs()));
        let _ = writeln!(
            t,
            "{:.1} runs a lane, {:.1} to {:.1} person-hours to lay",
            m.runs_per_lane, m.hours.low, m.hours.high
        );
        if m.seen_singly {
            let _ = writeln!(t, "From this distance pieces will be seen singly.");
        }
        for (code, name, used, stock) in self.counts() {
            let _ = writeln!(
                t,
                "  {code:<3} {:<20} {:>9} of {:>9}",
                crate::out::printable(name),
                grouped(used),
                grouped(stock)
            );
        }
        t.push_str(&crate::verbs::stock::shortage_text(self.plan, self.shortage));
        let _ = writeln!(t, "{:.2} s", self.seconds);
        t
    }

    fn json(&self) -> Value {
        let o = &self.made.outcome;
        let m = &o.measures[0];
        let item = &self.plan.items[0];
        let (columns, rows) = item.field().map_or((0, 0), |f| f.frame.map().picture_size());
        let counts = self.counts();
        let by_code = |pick: fn(&(&str, &str, u64, u64)) -> u64| -> Value {
            counts.iter().map(|c| (c.0.to_owned(), json!(pick(c)))).collect::<serde_json::Map<_, _>>().into()
        };
        let mut seconds: serde_json::Map<String, Value> =
            o.seconds.iter().map(|s| (s.stage.to_owned(), json!(s.seconds))).collect();
        seconds.insert("picture".into(), json!(self.made.picture));
        seconds.insert("total".into(), json!(self.seconds));
        json!({
            "columns": columns,
            "rows": rows,
            "cells": m.pieces,
            "colours": self.plan.stock.colours.len(),
            "counts": by_code(|c| c.2),
            "stock": by_code(|c| c.3),
            "objective": o.proof.objective,
            "bound": o.proof.bound,
            "optimal": o.proof.objective == o.proof.bound,
            "difference": m.difference,
            "difference_seen": m.difference_seen,
            "pieces_seen_singly": m.seen_singly,
            "runs_per_lane": m.runs_per_lane,
            "changes": m.changes,
            "hours": [m.hours.low, m.hours.high],
            "shortage": crate::verbs::stock::shortage_json(self.plan, self.shortage),
            "laid": self.laid(),
            "seconds": seconds,
            "notes": self.notes,
        })
    }

    /// One text a picture row, as runs of codes: "S22 .7 W6"; "." is no piece.
    fn laid(&self) -> Vec<String> {
        let Some(field) = self.plan.items[0].field() else { return Vec::new() };
        let map = field.frame.map();
        let picture = map.to_picture(self.made.outcome.cells[0].1.as_slice());
        let code = |c: u16| self.plan.colour(plan::ColourId(c)).map_or(".", |c| c.code.as_str());
        let row = |row: &[u16]| {
            let runs = row.chunk_by(|a, b| a == b).map(|r| format!("{}{}", code(r[0]), r.len()));
            runs.collect::<Vec<_>>().join(" ")
        };
        picture.chunks(map.picture_size().0.max(1) as usize).map(row).collect()
    }
}

/// The bytes of the one picture there is.
pub(crate) struct OnePicture(pub Vec<u8>);

impl PictureSource for OnePicture {
    fn picture_bytes(&self, _: &str) -> Result<Vec<u8>, DeskError> {
        Ok(self.0.clone())
    }
}
