//! The reading order: a field as the strips, units and calls that a reader calls aloud.
//!
//! A *unit* is a lane or a rank; it is always read whole. A *strip* is a band of units that a builder reaches
//! without moving: as many as fit between the first and the last piece within the reach. A lane may be far
//! longer than the reach, since the builder moves along it; only the depth away from the builder is limited.
//! Runs are cut where a comb load ends, so that each call is one grip.

use plan::{ColourId, EMPTY, Field, GearKind, Stock};
use units::{Angle, Length};

use crate::options::{ReadOptions, Unit};
use crate::seat::Seat;

/// So many pieces of one colour one after another, or so many empty cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Call {
    /// The colour, or `None` for cells without a piece ("skip").
    pub colour: Option<ColourId>,
    /// How many, at least 1.
    pub count: u32,
    /// Cells of this unit that are done after this call, empty ones included.
    pub done: u32,
    /// True when a comb load ends here and the unit goes on.
    pub load_ends: bool,
}

/// A lane or rank, in the order in which it is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadUnit {
    /// Index of the lane or rank from 0; people count from 1.
    pub index: u32,
    /// The calls in order. A unit without any piece is one skip.
    pub calls: Vec<Call>,
    /// Cells, empty ones included.
    pub cells: u32,
    /// Pieces.
    pub pieces: u32,
}

/// A band of units that one builder reaches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Strip {
    /// Its number from 1, in the order of building.
    pub number: u32,
    /// Its units, in the order of calling.
    pub units: Vec<ReadUnit>,
}

impl Call {
    /// True when the running total passes a full ten in this call, so that it is worth saying.
    pub fn passes_ten(&self) -> bool {
        self.done / 10 > (self.done - self.count) / 10
    }
}

impl Strip {
    /// Pieces by colour, in order of colour id.
    pub fn needs(&self) -> Vec<(ColourId, u64)> {
        let mut counts = std::collections::BTreeMap::new();
        for call in self.units.iter().flat_map(|u| &u.calls) {
            if let Some(colour) = call.colour {
                *counts.entry(colour).or_insert(0) += u64::from(call.count);
            }
        }
        counts.into_iter().collect()
    }
}

/// Pieces in a comb load: the teeth of the longest comb whose pitch fits that of the unit, if there is one.
///
/// A comb fits when its pitch differs by at most 0.05 mm: over 40 teeth that is 2 mm, which is still within the gap.
pub fn comb_load(field: &Field, stock: &Stock, unit: Unit) -> Option<u32> {
    let wanted = match unit {
        Unit::Lane => field.frame.pitch_along,
        Unit::Rank => field.frame.pitch_across,
    };
    let fits = |pitch: Length| (pitch - wanted).abs().to_mm() <= 0.05 + 1e-9;
    let teeth = stock.gear.iter().filter_map(|g| match g.what {
        GearKind::Comb { pitch, teeth } if fits(pitch) && teeth > 1 && g.count > 0 => Some(teeth),
        _ => None,
    });
    teeth.max()
}

/// How many units lie within the builder's reach; at least one.
pub fn units_in_strip(field: &Field, options: &ReadOptions) -> u32 {
    let pitch = match options.unit {
        Unit::Lane => field.frame.pitch_across,
        Unit::Rank => field.frame.pitch_along,
    };
    let fit = (options.reach.to_mm() / pitch.to_mm() + 1e-9).floor();
    if fit.is_finite() { fit.clamp(1.0, 1e6) as u32 } else { 1 }
}

/// All units of a field whose fall runs towards `heading`, in the order of calling.
pub fn reading(field: &Field, heading: Angle, stock: &Stock, options: &ReadOptions) -> Vec<ReadUnit> {
    let seat = Seat::new(heading, options);
    let load = comb_load(field, stock, options.unit);
    let count = match options.unit {
        Unit::Lane => field.frame.lanes,
        Unit::Rank => field.frame.ranks,
    };
    let mut units: Vec<ReadUnit> = (0..count).map(|index| read_unit(field, &seat, load, index)).collect();
    if !seat.unit_order_grows() {
        units.reverse();
    }
    units
}

/// The units of [`reading`] in strips, in the order of building.
pub fn strips(field: &Field, heading: Angle, stock: &Stock, options: &ReadOptions) -> Vec<Strip> {
    let size = units_in_strip(field, options) as usize;
    let mut units = reading(field, heading, stock, options);
    let mut out = Vec::with_capacity(units.len() / size + 1);
    while !units.is_empty() {
        let rest = units.split_off(size.min(units.len()));
        out.push(Strip { number: out.len() as u32 + 1, units });
        units = rest;
    }
    out
}

fn read_unit(field: &Field, seat: &Seat, load: Option<u32>, index: u32) -> ReadUnit {
    let f = &field.frame;
    let cells = field.cells.as_slice();
    let (length, first, step) = match seat.unit {
        Unit::Lane => (f.ranks, index as usize * f.ranks as usize, 1),
        Unit::Rank => (f.lanes, index as usize, f.ranks as usize),
    };
    let at = |k: u32| {
        let k = if seat.piece_order_grows() { k } else { length - 1 - k };
        // A field whose cells do not fill its grid is refused before printing; here the rest counts as empty.
        cells.get(first + k as usize * step).copied().unwrap_or(EMPTY)
    };
    let mut calls: Vec<Call> = Vec::new();
    let mut pieces = 0;
    for k in 0..length {
        let colour = Some(at(k)).filter(|&c| c != EMPTY).map(ColourId);
        pieces += u32::from(colour.is_some());
        let new_load = load.is_some_and(|n| k > 0 && k % n == 0);
        match calls.last_mut() {
            Some(last) if last.colour == colour && !new_load => {
                last.count += 1;
                last.done += 1;
            }
            last => {
                if let Some(last) = last {
                    last.load_ends = new_load;
                }
                calls.push(Call { colour, count: 1, done: k + 1, load_ends: false });
            }
        }
    }
    ReadUnit { index, calls, cells: length, pieces }
}
