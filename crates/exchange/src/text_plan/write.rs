//! Writes a plan as text: one value a line, in a stable order, without what has its usual value.

use std::fmt::{Display, Write};

use geometry::{FallInPicture, Point};
use plan::{
    Body, Field, Gear, GearKind, Item, KindId, MatchGoal, MatchWish, PictureFit, Placeholder, Plan, PortFlow,
    SeenAs, SurfaceKind,
};
use units::{Angle, Length};

use super::quantity::{angle, hours, length, mass, seconds};
use super::{FORMAT, files, items, lanes};
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
    let mut out = Out { text: String::new(), plan, files: &files };
    out.key("format", FORMAT);
    out.key("name", quote(&plan.name));
    out.head("[hall]");
    out.key("name", quote(&plan.hall.name));
    out.key("floor", quote(&plan.hall.floor.to_string()));
    out.stock();
    out.scene();
    plan.items.iter().for_each(|i| out.item(i));
    let text = out.text;
    let pictures = files.iter().cloned().zip(plan.pictures.iter().map(|p| p.sha256.clone())).collect();
    TextPlan { plan_toml: text, stock_csv: write_stock(&plan.stock), pictures }
}

struct Out<'a> {
    text: String,
    plan: &'a Plan,
    files: &'a [String],
}

/// A text in double quotes, as TOML wants it.
fn quote(text: &str) -> String {
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

fn point(p: Point) -> String {
    format!("[{}, {}]", length(Length::mm(p.x)), length(Length::mm(p.y)))
}

fn word<T: PartialEq>(words: &[(&'static str, T)], value: &T) -> String {
    quote(words.iter().find(|w| w.1 == *value).map_or("", |w| w.0))
}

impl Out<'_> {
    fn head(&mut self, head: &str) {
        let _ = write!(self.text, "\n{head}\n");
    }

    fn key(&mut self, key: &str, value: impl Display) {
        let _ = writeln!(self.text, "{key} = {value}");
    }

    fn text_unless_empty(&mut self, key: &str, text: &str) {
        if !text.is_empty() {
            self.key(key, quote(text));
        }
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

    fn kind(&mut self, kind: KindId) {
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
            let corners: Vec<String> = s.outline.iter().map(|p| format!("  {},\n", point(*p))).collect();
            self.key("outline", format!("[\n{}]", corners.concat()));
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
        self.key("is", if item.field().is_some() { "\"field\"" } else { "\"placeholder\"" });
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
        match &item.body {
            Body::Field(field) => self.field(field),
            Body::Placeholder(p) => self.placeholder(p),
            // The plan may learn new bodies before this format does.
            _ => {}
        }
    }

    fn field(&mut self, field: &Field) {
        let f = &field.frame;
        self.kind(field.kind);
        self.key("lanes", f.lanes);
        self.key("ranks", f.ranks);
        self.key("pitch_along", length(f.pitch_along));
        self.key("pitch_across", length(f.pitch_across));
        if f.stagger != Length::ZERO {
            self.key("stagger", length(f.stagger));
        }
        if f.fall != FallInPicture::default() {
            self.key("fall", word(&items::FALLS, &f.fall));
        }
        self.picture(field);
        if field.wish != MatchWish::default() {
            self.wish(&field.wish);
        }
        self.cells(field);
    }

    fn picture(&mut self, field: &Field) {
        let Some(used) = &field.picture else { return };
        let file =
            self.plan.pictures.iter().position(|p| p.id == used.picture).map_or("", |i| &self.files[i]);
        self.head("[item.picture]");
        self.key("file", quote(file));
        if let Some(c) = used.crop {
            self.key("crop", format!("[{:?}, {:?}, {:?}, {:?}]", c.left, c.top, c.right, c.bottom));
        }
        if used.fit != PictureFit::default() {
            self.key("fit", word(&items::FITS, &used.fit));
        }
        if used.contrast != 0.0 {
            self.key("contrast", format!("{:?}", used.contrast));
        }
    }

    fn wish(&mut self, wish: &MatchWish) {
        let usual = MatchWish::default();
        self.head("[item.wish]");
        self.key("goal", if wish.goal == MatchGoal::Exact { "\"exact\"" } else { "\"seen\"" });
        match wish.seen_as {
            SeenAs::Laid => {}
            SeenAs::Above => self.key("seen_as", "\"above\""),
            SeenAs::Fallen => self.key("seen_as", "\"fallen\""),
            SeenAs::Standing { eye } => {
                self.key("seen_as", "\"standing\"");
                self.key("eye_distance", length(eye.distance));
                self.key("eye_height", length(eye.height));
                self.key("eye_bearing", angle(eye.bearing));
            }
        }
        self.key("seen_from", length(wish.seen_from));
        if wish.fewer_changes != usual.fewer_changes {
            self.key("fewer_changes", format!("{:?}", wish.fewer_changes));
        }
        if wish.weight != usual.weight {
            self.key("weight", wish.weight);
        }
        if let Some(allowed) = &wish.allowed {
            let codes: Vec<String> = allowed.iter().map(|c| self.code(*c)).collect();
            self.key("allowed", format!("[{}]", codes.join(", ")));
        }
    }

    fn code(&self, colour: plan::ColourId) -> String {
        quote(self.plan.colour(colour).map_or("", |c| c.code.as_str()))
    }

    fn cells(&mut self, field: &Field) {
        let ranks = field.frame.ranks as usize;
        let by_hand = lanes::write_marks(field.by_hand.as_slice(), ranks);
        let all_empty = field.cells.as_slice().iter().all(|&c| c == plan::EMPTY);
        if all_empty && by_hand.is_empty() {
            return;
        }
        self.head("[item.cells]");
        if !all_empty {
            self.text.push_str("lanes = [\n");
            for lane in field.cells.as_slice().chunks(ranks.max(1)) {
                let text = lanes::write_lane(lane, &self.plan.stock);
                let _ = writeln!(self.text, "  \"{text}\",");
            }
            self.text.push_str("]\n");
        }
        if !by_hand.is_empty() {
            let lines: Vec<String> = by_hand.iter().map(|t| format!("  \"{t}\",\n")).collect();
            self.key("by_hand", format!("[\n{}]", lines.concat()));
        }
    }

    fn placeholder(&mut self, p: &Placeholder) {
        self.key("length", length(p.length));
        self.key("width", length(p.width));
        self.key("height", length(p.height));
        if p.hours != units::Duration::ZERO {
            self.key("hours", hours(p.hours));
        }
        self.text_unless_empty("who", &p.who);
        if let Some(d) = p.delay {
            self.key("delay", format!("[{}, {}]", seconds(d.least), seconds(d.most)));
        }
        for need in &p.needs {
            self.head("[[item.need]]");
            self.kind(need.kind);
            let code = self.code(need.colour);
            self.key("colour", code);
            self.key("count", need.count);
        }
        for port in &p.ports {
            self.head("[[item.port]]");
            self.key("name", quote(&port.name));
            self.key("flow", if port.flow == PortFlow::In { "\"in\"" } else { "\"out\"" });
            self.key("at", point(port.at));
            if port.direction != Angle::ZERO {
                self.key("direction", angle(port.direction));
            }
            if port.height != Length::ZERO {
                self.key("height", length(port.height));
            }
            self.key("width", length(port.width));
        }
    }
}
