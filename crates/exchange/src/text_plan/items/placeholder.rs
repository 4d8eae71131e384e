//! Placeholders as text: size, needs and ports.

use plan::{Delay, Need, Placeholder, Port, PortFlow};
use units::{Angle, Duration, Length};

use super::{Names, colour_of, kind};
use crate::text_plan::quantity::{angle, hours, length, seconds};
use crate::text_plan::read::Reader;
use crate::text_plan::source::Section;
use crate::text_plan::write::{Out, point, quote};

pub(super) const KEYS: [&str; 8] = ["length", "width", "height", "hours", "who", "delay", "need", "port"];

pub(super) fn read(reader: &mut Reader<'_>, s: &Section<'_>, names: &Names<'_>) -> Placeholder {
    Placeholder {
        length: s.needed_length("length"),
        width: s.needed_length("width"),
        height: s.needed_length("height"),
        needs: s.tables("need").iter().filter_map(|n| need(reader, n, names)).collect(),
        hours: s.duration("hours").unwrap_or(Duration::ZERO),
        who: s.text_or_empty("who"),
        ports: s.tables("port").iter().filter_map(port).collect(),
        delay: s.span("delay").map(|[least, most]| Delay { least, most }),
    }
}

fn need(reader: &mut Reader<'_>, s: &Section<'_>, names: &Names<'_>) -> Option<Need> {
    s.known(&["kind", "colour", "count"]);
    let kind = kind(reader, s);
    let (code, count) = (s.needed_text("colour"), s.needed_whole("count", u32::MAX));
    Some(Need { kind, colour: colour_of(s, names, &code, s.at("colour"))?, count })
}

fn port(s: &Section<'_>) -> Option<Port> {
    s.known(&["name", "flow", "at", "direction", "height", "width"]);
    Some(Port {
        flow: s.needed_word("flow", &[("in", PortFlow::In), ("out", PortFlow::Out)])?,
        name: s.needed_text("name"),
        at: s.needed_point("at"),
        direction: s.angle("direction").unwrap_or(Angle::ZERO),
        height: s.length("height").unwrap_or(Length::ZERO),
        width: s.needed_length("width"),
    })
}

impl Out<'_> {
    pub(in crate::text_plan) fn placeholder(&mut self, p: &Placeholder) {
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
