//! Reads a text plan: everything goes through the plan's own gate, and problems are reported together.

use std::collections::{BTreeMap, BTreeSet};

use geometry::Point;
use plan::{
    Command, Gear, GearId, GearKind, Kind, KindId, MAX_ID, Picture, PictureId, Plan, Rgb, Section as Crew,
    SectionId, Slope, Surface, SurfaceId, SurfaceKind,
};
use toml::de::DeTable;
use units::Length;

use super::source::{Section, Source, TextPlanError, TextProblem, whole};
use super::{FORMAT, PictureFacts, files, hall, items};
use crate::stock::{read_stock, to_stock};

/// The largest `plan.toml` that is read, in bytes.
pub const MAX_TEXT_BYTES: usize = 64 << 20;
/// The most signs with a meaning of their own outside quotes; bounds the memory that a document can claim.
const MAX_SIGNS: usize = 8_000_000;

/// Reads a text plan from its parts.
///
/// `stock_csv` is `None` when there is no such file. `pictures` is asked once for each picture file, with a bare
/// name that stays inside the folder (whether it is a link is for the caller to see), and answers with what it
/// found, or `None` when there is no such picture. The plan is taken whole or not at all.
pub fn read_text_plan(
    plan_toml: &str,
    stock_csv: Option<&[u8]>,
    pictures: &mut dyn FnMut(&str) -> Option<PictureFacts>,
) -> Result<Plan, TextPlanError> {
    let text = plan_toml.strip_prefix('\u{feff}').unwrap_or(plan_toml);
    let source = Source::new(text);
    let document = match parse(&source, text) {
        Ok(document) => document,
        Err(()) => return Err(source.into_error()),
    };
    let top = Section { source: &source, table: &document, at: 0 };
    let mut reader = Reader::new(top);
    reader.head();
    reader.kinds_and_gear();
    if let Some(csv) = stock_csv {
        reader.stock(csv);
    }
    reader.surfaces();
    reader.sections();
    reader.pictures(pictures);
    items::read(&mut reader);
    let plan = reader.plan;
    if source.is_fine() { Ok(plan) } else { Err(source.into_error()) }
}

fn parse<'a>(source: &Source<'a>, text: &'a str) -> Result<DeTable<'a>, ()> {
    let large = "This plan is too large to be one text";
    if text.len() > MAX_TEXT_BYTES || signs(text) > MAX_SIGNS {
        source.problem(0, large, "Split the event over several plans");
        return Err(());
    }
    let (document, errors) = DeTable::parse_recoverable(text);
    let mut said = BTreeSet::new();
    for error in errors.iter().take(1_000) {
        let at = error.span().map_or(0, |s| s.start);
        let message = error.message().lines().next().unwrap_or("");
        // Each of a thousand brackets left open is told at the same place: once is enough.
        if said.len() == 20 || !said.insert((at, message)) {
            continue;
        }
        source.problem(at, format!("This is not TOML: {message}"), "Mend the line and read the plan again");
    }
    if errors.is_empty() { Ok(document.into_inner()) } else { Err(()) }
}

/// Signs outside of quotes that are neither letters, figures nor blanks; all signs where triple quotes make
/// it hard to say what is within quotes.
fn signs(text: &str) -> usize {
    let triple = text.contains("\"\"\"") || text.contains("'''");
    let mut quote = None;
    let mut escaped = false;
    let mut count = 0;
    for b in text.bytes() {
        let counts = !(b.is_ascii_alphanumeric() || matches!(b, b' ' | b'_' | b'-') || b >= 0x80);
        match quote {
            _ if triple => count += usize::from(counts),
            Some(_) if b == b'\n' => (quote, escaped, count) = (None, false, count + 1),
            Some(_) if escaped => escaped = false,
            Some(b'"') if b == b'\\' => escaped = true,
            Some(q) if q == b => quote = None,
            Some(_) => {}
            None => {
                count += usize::from(counts);
                quote = matches!(b, b'"' | b'\'').then_some(b);
            }
        }
    }
    count
}

/// The plan as far as it was read, and what names stand for.
pub(super) struct Reader<'a> {
    pub(super) top: Section<'a>,
    pub(super) plan: Plan,
    /// Picture file names and their ids.
    pub(super) files: BTreeMap<String, PictureId>,
    /// The next id for what has none, above all that the plan names.
    next_id: u32,
}

impl<'a> Reader<'a> {
    fn new(top: Section<'a>) -> Self {
        let lists = ["kind", "gear", "surface", "section", "picture", "item"];
        let ids = lists.iter().filter_map(|l| top.get(l)?.get_ref().as_array()).flat_map(|a| a.iter());
        let largest = ids.filter_map(|v| v.get_ref().as_table()).filter_map(id_of).max();
        let next_id = largest.filter(|&n| n <= MAX_ID).unwrap_or(0) + 1;
        Self { top, plan: Plan::default(), files: BTreeMap::new(), next_id }
    }

    fn head(&mut self) {
        let keys = ["format", "name", "hall", "kind", "gear", "surface", "section", "picture", "item"];
        self.top.known(&keys);
        let format = self.top.whole("format", u32::MAX).unwrap_or(FORMAT);
        if format != FORMAT {
            let next =
                "Use a newer version of this program, or save the plan again from the one that wrote it";
            let problem = format!("Format {format} is not known; this program reads format {FORMAT}");
            self.top.source.problem(self.top.at("format"), problem, next);
        }
        let name = self.top.text_or_empty("name");
        self.apply(self.top.at("name"), &Command::Rename { name });
        if let Some(hall) = self.top.table("hall") {
            hall::read(self, &hall);
        }
    }

    /// Applies a command; a refusal becomes a problem at the place in the text. True when it was taken.
    pub(super) fn apply(&mut self, at: usize, command: &Command) -> bool {
        match self.plan.apply(command) {
            Ok(_) => true,
            Err(refused) => {
                let (place, value, problem) = (refused.place(), refused.value(), refused.problem());
                self.top.source.problem(
                    at,
                    format!("{place}: {value} {problem}"),
                    refused.next().to_string(),
                );
                false
            }
        }
    }

    /// Puts something in the place of what was refused, so that what names it is no mistake of its own. The plan is not taken
    /// any more, whatever is in it.
    fn stand_in(&mut self, command: &Command) {
        // Where the name was what is wrong, nothing can name it.
        _ = self.plan.apply(command);
    }

    /// The tables of a list, each with an id that no other of the list has.
    pub(super) fn with_ids(&mut self, key: &str, most: u32) -> Vec<(Section<'a>, u32)> {
        let mut seen = BTreeSet::new();
        let mut out = Vec::new();
        for section in self.top.tables(key) {
            let id = section.whole("id", most.min(MAX_ID)).unwrap_or_else(|| self.fresh());
            if seen.insert(id) {
                out.push((section, id));
            } else {
                let next = "Give it another id, or none";
                section.source.problem(
                    section.at("id"),
                    format!("The id {id} is that of another {key}"),
                    next,
                );
            }
        }
        out
    }

    fn fresh(&mut self) -> u32 {
        self.next_id += 1;
        self.next_id - 1
    }

    fn kinds_and_gear(&mut self) {
        for (s, id) in self.with_ids("kind", u16::MAX.into()) {
            s.known(&["id", "name", "thickness", "width", "height", "mass", "material"]);
            let kind = Kind {
                id: KindId(id as u16),
                name: s.needed_text("name"),
                thickness: s.needed_length("thickness"),
                width: s.needed_length("width"),
                height: s.needed_length("height"),
                mass: s.needed_mass("mass"),
                material: s.text_or_empty("material"),
            };
            if !self.apply(s.at, &Command::PutKind { kind: kind.clone() }) {
                self.stand_in(&Command::PutKind { kind: Kind { name: kind.name, ..Kind::usual(kind.id) } });
            }
        }
        for (s, id) in self.with_ids("gear", MAX_ID) {
            let Some(what) = gear_kind(&s) else { continue };
            let (name, count, owner) =
                (s.needed_text("name"), s.needed_whole("count", MAX_ID), s.text_or_empty("owner"));
            let gear = Gear { id: GearId(id), name, what, count, owner };
            self.apply(s.at, &Command::PutGear { gear });
        }
    }

    fn stock(&mut self, csv: &[u8]) {
        let problem = |line, problem: String, next: String| TextProblem {
            file: "stock.csv",
            line,
            column: 0,
            problem,
            next,
        };
        let read = match read_stock(csv, "stock.csv") {
            Ok(read) => read,
            Err(error) => {
                let say = |p: crate::LineProblem| {
                    problem(p.line, format!("{} {}", p.value, p.problem), p.next.to_string())
                };
                return self.top.source.add(error.problems.into_iter().map(say));
            }
        };
        let stock = to_stock(&read, Some(&self.plan.stock));
        let named = self.plan.stock.kinds.len();
        if named > 0 && stock.kinds.len() > named {
            let name = stock.kinds.last().map_or("", |k| k.name.as_str());
            let line = read.rows.iter().find(|r| r.kind.as_deref() == Some(name)).map_or(0, |r| r.line);
            let text = format!("\"{}\" is not a kind of plan.toml", crate::stock::shown(name));
            self.top.source.add([problem(line, text, "Add it there as a [[kind]] with its size".into())]);
        }
        if let Err(r) = self.plan.apply(&Command::ReplaceStock { stock }) {
            let said = format!("{}: {} {}", r.place(), r.value(), r.problem());
            self.top.source.add([problem(0, said, r.next().to_string())]);
        }
    }

    fn surfaces(&mut self) {
        for (s, id) in self.with_ids("surface", MAX_ID) {
            s.known(&["id", "name", "is", "height", "slope", "uphill", "outline"]);
            let outline = s.points("outline");
            let words = [
                ("plank", SurfaceKind::Plank),
                ("table", SurfaceKind::Table),
                ("wall-top", SurfaceKind::WallTop),
            ];
            let Some(is) = s.needed_word("is", &words) else { continue };
            let (name, height) = (s.needed_text("name"), s.needed_length("height"));
            let slope = Slope {
                rise: s.angle("slope").unwrap_or_default(),
                uphill: s.angle("uphill").unwrap_or_default(),
            };
            let surface = Surface { id: SurfaceId(id), name, is, height, slope, outline };
            if !self.apply(s.at, &Command::PutSurface { surface: surface.clone() }) {
                let outline = [(0.0, 0.0), (1e3, 0.0), (0.0, 1e3)].map(|(x, y)| Point::new(x, y)).to_vec();
                let (height, slope) = (Length::mm(100.0), Slope::default());
                self.stand_in(&Command::PutSurface {
                    surface: Surface { height, slope, outline, ..surface },
                });
            }
        }
    }

    fn sections(&mut self) {
        for (s, id) in self.with_ids("section", MAX_ID) {
            s.known(&["id", "name", "lead"]);
            let section =
                Crew { id: SectionId(id), name: s.needed_text("name"), lead: s.text_or_empty("lead") };
            self.apply(s.at, &Command::PutSection { section });
        }
    }

    fn pictures(&mut self, facts: &mut dyn FnMut(&str) -> Option<PictureFacts>) {
        for (s, id) in self.with_ids("picture", MAX_ID) {
            s.known(&["id", "file", "name"]);
            let file = s.needed_text("file");
            if file.is_empty() {
                continue;
            }
            let shown = crate::stock::shown(&file);
            if let Some(fault) = files::fault(&file) {
                let next = "Put the picture beside the plan and give its bare name";
                s.source.problem(s.at("file"), format!("\"{shown}\" {fault}"), next);
                continue;
            }
            let Some(found) = facts(&file) else {
                let next = "Put it there, or take its [[picture]] out";
                s.source.problem(
                    s.at("file"),
                    format!("There is no picture \"{shown}\" beside the plan"),
                    next,
                );
                continue;
            };
            if self.files.insert(file.clone(), PictureId(id)).is_some() {
                s.source.problem(s.at("file"), format!("\"{shown}\" is there twice"), "Keep one of them");
            }
            let PictureFacts { sha256, width, height } = found;
            let picture =
                Picture { id: PictureId(id), name: s.text("name").unwrap_or(file), sha256, width, height };
            self.apply(s.at, &Command::PutPicture { picture });
        }
    }
}

/// What a name in quotes or an id without stands for.
pub(super) fn refer(s: &Section<'_>, key: &str, list: &[(u32, &str)]) -> Option<u32> {
    let value = s.get(key)?;
    let quoted = s.source.quoted(value.span());
    let hits: Vec<u32> = match value.get_ref().as_str() {
        Some(name) => list.iter().filter(|(_, n)| *n == name).map(|(id, _)| *id).collect(),
        None => list.iter().filter(|(id, _)| Some(*id) == whole(value)).map(|(id, _)| *id).collect(),
    };
    if hits.len() == 1 {
        return Some(hits[0]);
    }
    let (problem, next) = if hits.is_empty() {
        (format!("{key} = {quoted} is not in this plan"), "Add it, or name one that is there")
    } else {
        (format!("{key} = {quoted} is the name of {} of them", hits.len()), "Give the id, without quotes")
    };
    s.source.problem(value.span().start, problem, next);
    None
}

fn id_of(table: &DeTable<'_>) -> Option<u32> {
    table.iter().find(|(k, _)| k.get_ref() == "id").and_then(|(_, v)| whole(v))
}

/// A colour as `#rrggbb`.
pub(super) fn colour(s: &Section<'_>, key: &str) -> Option<Rgb> {
    let text = s.text(key)?;
    let read = Rgb::from_hex(&text);
    if read.is_none() {
        let problem = format!("{key} = \"{}\" is not a colour", crate::stock::shown(&text));
        s.source.problem(s.at(key), problem, "Write it as \"#rrggbb\"");
    }
    read
}

fn gear_kind(s: &Section<'_>) -> Option<GearKind> {
    let is = s.needed_word("is", &[("comb", 0), ("plank", 1), ("support", 2), ("cord", 3)])?;
    let (own, what): (&[&str], _) = match is {
        0 => {
            let (pitch, teeth) = (s.needed_length("pitch"), s.needed_whole("teeth", 1_000_000));
            (&["pitch", "teeth"], GearKind::Comb { pitch, teeth })
        }
        1 => {
            let (length, width) = (s.needed_length("length"), s.needed_length("width"));
            let thickness = s.needed_length("thickness");
            (&["length", "width", "thickness"], GearKind::Plank { length, width, thickness })
        }
        2 => (&["height"], GearKind::Support { height: s.needed_length("height") }),
        _ => (&["length"], GearKind::Cord { length: s.needed_length("length") }),
    };
    s.known(&[&["id", "name", "is", "count", "owner"], own].concat());
    Some(what)
}
