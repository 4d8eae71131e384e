//! Paths as text, one leg a line, and the bridges on them.

use plan::{Bridge, Hand, Leg};
use units::Length;

use crate::text_plan::quantity::{angle, length};
use crate::text_plan::source::Section;
use crate::text_plan::write::{Out, point, row, word};

pub(super) const HANDS: [(&str, Hand); 2] = [("left", Hand::Left), ("right", Hand::Right)];

/// Reads the legs of a path: each is told by the one key that it must have.
pub(super) fn legs(s: &Section<'_>) -> Vec<Leg> {
    s.tables("leg").iter().filter_map(leg).collect()
}

fn leg(s: &Section<'_>) -> Option<Leg> {
    let is = s.one_of(&["straight", "arc", "spiral", "through"])?;
    Some(match is {
        "straight" => {
            s.known(&["straight"]);
            Leg::Straight { length: s.length("straight")? }
        }
        "arc" => {
            s.known(&["arc", "radius"]);
            let (radius, turn) = (s.needed_length("radius"), s.angle("arc"));
            Leg::Arc { radius, turn: turn? }
        }
        "spiral" => {
            s.known(&["spiral", "radius", "ring", "turns"]);
            let (radius, ring) = (s.needed_length("radius"), s.needed_length("ring"));
            Leg::Spiral { radius, ring, turns: s.needed_number("turns"), hand: s.word("spiral", &HANDS)? }
        }
        _ => {
            s.known(&["through"]);
            Leg::Through { points: s.points("through") }
        }
    })
}

pub(super) fn bridges(s: &Section<'_>) -> Vec<Bridge> {
    s.tables("bridge").iter().map(bridge).collect()
}

fn bridge(s: &Section<'_>) -> Bridge {
    s.known(&["from", "deck", "height", "thickness", "step", "per_step"]);
    Bridge {
        from: s.needed_length("from"),
        deck: s.needed_length("deck"),
        height: s.needed_length("height"),
        thickness: s.needed_length("thickness"),
        step: s.length("step").unwrap_or(STEP),
        per_step: s.whole("per_step", u32::MAX).unwrap_or(PER_STEP),
    }
}

/// The step that was found to work always, and the fewest pieces that fit on it with room.
const STEP: Length = Length::mm(7.5);
const PER_STEP: u32 = 2;

impl Out<'_> {
    pub(super) fn legs(&mut self, legs: &[Leg]) {
        self.rows("leg", &legs.iter().map(leg_row).collect::<Vec<_>>());
    }

    pub(super) fn bridges(&mut self, bridges: &[Bridge]) {
        let say = |b: &Bridge| {
            row(&[
                ("from", length(b.from)),
                ("deck", length(b.deck)),
                ("height", length(b.height)),
                ("thickness", length(b.thickness)),
                ("step", length(b.step)),
                ("per_step", b.per_step.to_string()),
            ])
        };
        self.rows("bridge", &bridges.iter().map(say).collect::<Vec<_>>());
    }
}

fn leg_row(leg: &Leg) -> String {
    match leg {
        Leg::Straight { length: l } => row(&[("straight", length(*l))]),
        Leg::Arc { radius, turn } => row(&[("arc", angle(*turn)), ("radius", length(*radius))]),
        Leg::Spiral { radius, ring, turns, hand } => row(&[
            ("spiral", word(&HANDS, hand)),
            ("radius", length(*radius)),
            ("ring", length(*ring)),
            ("turns", format!("{turns:?}")),
        ]),
        Leg::Through { points } => {
            let lines: Vec<String> = points.iter().map(|p| format!("    {},\n", point(*p))).collect();
            row(&[("through", format!("[\n{}  ]", lines.concat()))])
        }
    }
}
