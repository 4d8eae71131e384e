//! Combs, planks and what else is not a piece, from and to the wire.

use plan::{Command, Gear, GearId, GearKind, Plan, Stock};
use sayings::{doing, refusing, say};
use units::Length;

use super::change::{Drafted, done};
use super::scene::{given, gone};
use crate::wire::{GearDraft, GearRow, GearWhat};

/// A thing as it travels.
pub(super) fn to_wire(gear: &Gear) -> GearRow {
    GearRow {
        id: gear.id.0,
        name: gear.name.clone(),
        what: match gear.what {
            GearKind::Comb { pitch, teeth } => GearWhat::Comb { pitch: pitch.to_mm(), teeth },
            GearKind::Plank { length, width, thickness } => {
                GearWhat::Plank { length: length.to_mm(), width: width.to_mm(), thickness: thickness.to_mm() }
            }
            GearKind::Support { height } => GearWhat::Support { height: height.to_mm() },
            GearKind::Cord { length } => GearWhat::Cord { length: length.to_mm() },
        },
        count: gear.count,
        owner: gear.owner.clone(),
    }
}

fn from_wire(id: u32, draft: GearDraft) -> Gear {
    let what = match draft.what {
        GearWhat::Comb { pitch, teeth } => GearKind::Comb { pitch: Length::mm(pitch), teeth },
        GearWhat::Plank { length, width, thickness } => GearKind::Plank {
            length: Length::mm(length),
            width: Length::mm(width),
            thickness: Length::mm(thickness),
        },
        GearWhat::Support { height } => GearKind::Support { height: Length::mm(height) },
        GearWhat::Cord { length } => GearKind::Cord { length: Length::mm(length) },
    };
    Gear { id: GearId(id), name: draft.name, what, count: draft.count, owner: draft.owner }
}

/// A thing, new or known.
pub(super) fn put(plan: &Plan, id: Option<u32>, draft: GearDraft) -> Drafted {
    let known = |id| plan.stock.gear.iter().any(|g| g.id == GearId(id));
    let gear = from_wire(given(plan, id, known, refusing::WHAT_GEAR)?, draft);
    done(say!(doing::GEAR_PUT, name = &gear.name), Command::PutGear { gear })
}

/// Takes a thing away.
pub(super) fn remove(plan: &Plan, id: u32) -> Drafted {
    let gear = plan.stock.gear.iter().find(|g| g.id == GearId(id));
    let gear = gear.ok_or_else(|| gone(refusing::WHAT_GEAR, id))?;
    done(say!(doing::GEAR_REMOVE, name = &gear.name), Command::RemoveGear { id: gear.id })
}

/// Adds new things to a stock that is to become that of the plan.
pub(super) fn add(plan: &Plan, stock: &mut Stock, drafts: Vec<GearDraft>) {
    // The list may have given ids that the plan does not know yet.
    let lots = stock.lots.iter().map(|l| l.id.0).chain(stock.colours.iter().map(|c| c.id.0.into()));
    let first = lots.max().map_or(0, |id| id.saturating_add(1)).max(plan.fresh_id());
    stock.gear.extend((first..).zip(drafts).map(|(id, draft)| from_wire(id, draft)));
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whole millimetres up to 10 m and fractions as people type them.
    fn all() -> Vec<GearWhat> {
        let mm = [15.0, 17.25, 0.6 * 25.4, 9_999.0];
        mm.into_iter()
            .flat_map(|a| {
                [
                    GearWhat::Comb { pitch: a, teeth: 20 },
                    GearWhat::Plank { length: a * 40.0, width: a, thickness: a / 2.0 },
                    GearWhat::Support { height: a },
                    GearWhat::Cord { length: a },
                ]
            })
            .collect()
    }

    #[test]
    fn everything_comes_back_as_it_went_in_whatever_it_is() {
        for (i, what) in (1..).zip(all()) {
            let draft = GearDraft { name: format!("Thing {i}"), what, count: i * 3, owner: "Ines".into() };
            let back = to_wire(&from_wire(i, draft.clone()));
            let GearRow { id, name, what, count, owner } = back;
            assert_eq!((id, GearDraft { name, what, count, owner }), (i, draft));
        }
    }

    #[test]
    fn things_that_come_with_a_list_take_ids_that_nothing_has() {
        let mut plan = Plan::new("Run");
        let draft = |pitch| GearDraft {
            name: "Comb".into(),
            what: GearWhat::Comb { pitch, teeth: 20 },
            count: 1,
            owner: String::new(),
        };
        let (_, command) = put(&plan, None, draft(12.0)).unwrap();
        plan.apply(&command).unwrap();
        let read =
            exchange::read_stock(b"name,code,hex,count\nBlue,B,#2040a0,5\nRed,R,#a02020,5\n", "").unwrap();
        let mut stock = exchange::to_stock(&read, Some(&plan.stock));
        add(&plan, &mut stock, vec![draft(15.0), draft(20.0)]);
        let ids: Vec<u32> = stock.gear.iter().map(|g| g.id.0).collect();
        assert_eq!(ids[0], plan.stock.gear[0].id.0);
        let others = stock.lots.iter().map(|l| l.id.0).chain(stock.colours.iter().map(|c| c.id.0.into()));
        assert!(others.max().unwrap() < ids[1] && ids[1] < ids[2], "{ids:?}");
        plan.apply(&Command::ReplaceStock { stock }).unwrap();
        assert_eq!(plan.stock.gear.len(), 3);
    }
}
