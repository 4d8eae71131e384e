//! Writes a plan as text: one value a line, in a stable order, without what has its usual value.

use std::collections::BTreeMap;
use std::fmt::{Display, Write};

use geometry::Point;
use plan::{AsBuilt, Body, Gear, GearKind, Item, ItemId, KindId, Plan, SurfaceKind};
use units::{Angle, Length};

use super::quantity::{angle, length, mass};
use super::{FORMAT, files};
use crate::stock::write_stock;

/// A plan as text, to be written as files of one folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextPlan {
    /// The contents of `plan.toml`.
    pub plan_toml: String,
    /// The contents of `stock.csv`.
    pub stock_csv: String,
    /// The picture files that belong beside them: bare file name, and the SHA-256 of the bytes that go there.
    pub pictures: Vec<(String, String)>,
}

/// The plan as text. Reading it back with the same pictures gives the same plan.
pub fn write_text_plan(plan: &Plan) -> TextPlan {
    let files = files::names(&plan.pictures);
    let mut names = BTreeMap::new();
    for item in &plan.items {
        *names.entry(item.name.as_str()).or_default() += 1;
    }
    let mut out = Out { text: String::new(), plan, files: &files, names };
    out.key("format", FORMAT);
    out.key("name", quote(&plan.name));
    out.hall(&plan.hall);
    out.stock();
    out.scene();
    plan.items.iter().for_each(|i| out.item(i));
    let text = out.text;
    let pictures = files.iter().cloned().zip(plan.pictures.iter().map(|p| p.sha256.clone())).collect();
    TextPlan { plan_toml: text, stock_csv: write_stock(&plan.stock), pictures }
}

/// The text so far, and what names in it stand for.
pub(super) struct Out<'a> {
    pub(super) text: String,
    pub(super) plan: &'a Plan,
    pub(super) files: &'a [String],
    /// How many items have each name.
    names: BTreeMap<&'a str, u32>,
}

/// A text in double quotes, as TOML wants it.
pub(super) fn quote(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04X}", c as u32);
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

pub(super) fn point(p: Point) -> String {
    format!("[{}, {}]", length(Length::mm(p.x)), length(Length::mm(p.y)))
}

pub(super) fn word<T: PartialEq>(words: &[(&'static str, T)], value: &T) -> String {
    quote(words.iter().find(|w| w.1 == *value).map_or("", |w| w.0))
}

/// An inline table: a thing that fits on one line.
pub(super) fn row(keys: &[(&str, String)]) -> String {
    let pairs: Vec<String> = keys.iter().map(|(key, value)| format!("{key} = {value}")).collect();
    format!("{{ {} }}", pairs.join(", "))
}

impl<'a> Out<'a> {
    pub(super) fn head(&mut self, head: &str) {
        let _ = write!(self.text, "\n{head}\n");
    }

    pub(super) fn key(&mut self, key: &str, value: impl Display) {
        let _ = writeln!(self.text, "{key} = {value}");
    }

    pub(super) fn text_unless_empty(&mut self, key: &str, text: &str) {
        if !text.is_empty() {
            self.key(key, quote(text));
        }
    }

    /// A list, one row a line; nothing when it is empty.
    pub(super) fn rows(&mut self, key: &str, rows: &[String]) {
        if !rows.is_empty() {
            let lines: Vec<String> = rows.iter().map(|r| format!("  {r},\n")).collect();
            self.key(key, format!("[\n{}]", lines.concat()));
        }
    }

    /// Points, one a line; nothing when there are none.
    pub(super) fn points(&mut self, key: &str, points: &[Point]) {
        self.rows(key, &points.iter().map(|p| point(*p)).collect::<Vec<_>>());
    }

    /// The name of an item, when no other item has it.
    pub(super) fn only_name(&self, id: ItemId) -> Option<&'a str> {
        let name = self.plan.item(id)?.name.as_str();
        (self.names.get(name) == Some(&1)).then_some(name)
    }

    /// A reference: the name where only one thing has it, else the id.
    fn refer<'b>(&mut self, key: &str, id: u32, list: impl Iterator<Item = (u32, &'b str)> + Clone) {
        let name = list.clone().find(|(i, _)| *i == id).map_or("", |(_, n)| n);
        if list.filter(|(_, n)| *n == name).count() == 1 {
            self.key(key, quote(name));
        } else {
            self.key(key, id);
        }
    }

    pub(super) fn kind(&mut self, kind: KindId) {
        let kinds = &self.plan.stock.kinds;
        self.refer("kind", kind.0.into(), kinds.iter().map(|k| (k.id.0.into(), k.name.as_str())));
    }

    fn stock(&mut self) {
        for k in &self.plan.stock.kinds {
            self.head("[[kind]]");
            self.key("id", k.id);
            self.key("name", quote(&k.name));
            self.key("thickness", length(k.thickness));
            self.key("width", length(k.width));
            self.key("height", length(k.height));
            self.key("mass", mass(k.mass));
            self.text_unless_empty("material", &k.material);
        }
        self.plan.stock.gear.iter().for_each(|g| self.gear(g));
    }

    fn gear(&mut self, gear: &Gear) {
        self.head("[[gear]]");
        self.key("id", gear.id);
        let is = match gear.what {
            GearKind::Comb { .. } => "comb",
            GearKind::Plank { .. } => "plank",
            GearKind::Support { .. } => "support",
            GearKind::Cord { .. } => "cord",
        };
        self.key("is", quote(is));
        self.key("name", quote(&gear.name));
        match &gear.what {
            GearKind::Comb { pitch, teeth } => {
                self.key("pitch", length(*pitch));
                self.key("teeth", teeth);
            }
            GearKind::Plank { length: l, width, thickness } => {
                self.key("length", length(*l));
                self.key("width", length(*width));
                self.key("thickness", length(*thickness));
            }
            GearKind::Support { height } => self.key("height", length(*height)),
            GearKind::Cord { length: l } => self.key("length", length(*l)),
        }
        self.key("count", gear.count);
        self.text_unless_empty("owner", &gear.owner);
    }

    fn scene(&mut self) {
        for s in &self.plan.surfaces {
            self.head("[[surface]]");
            self.key("id", s.id);
            let is = match s.is {
                SurfaceKind::Plank => "plank",
                SurfaceKind::Table => "table",
                SurfaceKind::WallTop => "wall-top",
            };
            self.key("is", quote(is));
            self.key("name", quote(&s.name));
            self.key("height", length(s.height));
            if !s.slope.is_level() {
                self.key("slope", angle(s.slope.rise));
            }
            if s.slope.uphill != Angle::ZERO {
                self.key("uphill", angle(s.slope.uphill));
            }
            self.points("outline", &s.outline);
        }
        for s in &self.plan.sections {
            self.head("[[section]]");
            self.key("id", s.id);
            self.key("name", quote(&s.name));
            self.text_unless_empty("lead", &s.lead);
        }
        for (p, file) in self.plan.pictures.iter().zip(self.files) {
            self.head("[[picture]]");
            self.key("id", p.id);
            self.key("file", quote(file));
            if p.name != *file {
                self.key("name", quote(&p.name));
            }
        }
    }

    fn item(&mut self, item: &Item) {
        self.head("[[item]]");
        self.key("id", item.id);
        self.key("is", quote(item.sort()));
        self.key("name", quote(&item.name));
        self.key("at", point(item.at));
        self.key("heading", angle(item.heading));
        let plan = self.plan;
        if item.surface.0 != 0 {
            self.refer("surface", item.surface.0, plan.surfaces.iter().map(|s| (s.id.0, s.name.as_str())));
        }
        if let Some(section) = item.section {
            self.refer("section", section.0, plan.sections.iter().map(|s| (s.id.0, s.name.as_str())));
        }
        if let Some(built) = &item.built {
            self.built(built);
        }
        self.gaps(&item.gaps);
        if item.locked {
            self.key("locked", true);
        }
        if let Some(group) = item.group {
            self.key("group", group);
        }
        match &item.body {
            Body::Field(field) => self.field(field),
            Body::Placeholder(p) => self.placeholder(p),
            Body::Line(line) => self.line(line),
            Body::Fill(fill) => self.fill(fill),
            Body::Feed(feed) => self.feed(feed),
            Body::Start(start) => self.start(start),
            Body::Stopper(stopper) => self.stopper(stopper),
            Body::Note(note) => self.note(note),
            Body::Dimension(dimension) => self.dimension(dimension),
            Body::Camera(camera) => self.camera(camera),
            // The plan may learn new bodies before this format does.
            _ => {}
        }
    }

    fn built(&mut self, b: &AsBuilt) {
        let mut keys = vec![("east", length(b.east)), ("north", length(b.north))];
        if b.turn != Angle::ZERO {
            keys.push(("turn", angle(b.turn)));
        }
        self.key("built", row(&keys));
    }

    pub(super) fn code(&self, colour: plan::ColourId) -> String {
        quote(self.plan.colour(colour).map_or("", |c| c.code.as_str()))
    }
}
