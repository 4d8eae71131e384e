//! Matching pictures to the stock: from fields of a plan to a problem, and from its answer back to cells.

use std::sync::Arc;
use std::time::Instant;

use colour::{Axis, CellRule, EyeBlur, FieldWanted, Flow, MatchError, Problem, Progress, SeenOptions, Stage};
use geometry::GridMap;
use plan::{
    CellMask, Cells, ColourId, Command, EMPTY, Field, Item, ItemId, KindId, MatchGoal, Picture, PictureFit,
    PictureId, PictureUse, Plan,
};

use crate::again;
use crate::error::DeskError;
use crate::measure::{FieldMeasure, measure};
use crate::palette::{Choice, faces, linear};
use crate::pictures::{PictureBank, PictureSource};
use crate::views::{field_geometry, seen_as};
use sayings::{Arg, Said, refusing, say};

/// Which fields to match, and what to aim for instead of their own wishes.
#[derive(Debug, Clone, PartialEq)]
pub struct MatchAsk {
    /// Fields, matched together in one problem.
    pub items: Vec<ItemId>,
    /// Instead of the first field's wish.
    pub goal: Option<MatchGoal>,
    /// Instead of the first field's wish, 0 to 5. Counts for the goal `seen`.
    pub fewer_changes: Option<f64>,
    /// Only these cells of the one field are matched, in lane order; all others stay as they are. All cells when `None`.
    pub only: Option<CellMask>,
    /// A picture that the one field shows from then on, and that is matched; it comes into the plan with what is laid. The
    /// one that each field shows when `None`.
    pub shows: Option<FreshPicture>,
}

/// A picture whose bytes are in the project, but that is not in the plan yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FreshPicture {
    /// File name, for people.
    pub name: String,
    /// SHA-256 of its bytes, lower-case hex.
    pub sha256: String,
    /// Upright width, pixels.
    pub width: u32,
    /// Upright height, pixels.
    pub height: u32,
}

impl FreshPicture {
    /// The step that puts it into a plan, and the id that it has then.
    pub fn step(&self, plan: &Plan) -> (Command, PictureId) {
        let Self { name, sha256, width, height } = self.clone();
        let id = PictureId(plan.fresh_id());
        (Command::PutPicture { picture: Picture { id, name, sha256, width, height } }, id)
    }

    /// The steps after which a field shows it, as whole as it was given and at the contrast that the field has.
    pub fn steps(&self, plan: &Plan, id: ItemId) -> Vec<Command> {
        let used = plan.item(id).and_then(Item::field).and_then(|f| f.picture.as_ref());
        let (put, picture) = self.step(plan);
        let usage = PictureUse {
            picture,
            crop: None,
            fit: PictureFit::Fill,
            contrast: used.map_or(0.0, |usage| usage.contrast),
        };
        vec![put, Command::UsePicture { id, picture: Some(usage) }]
    }
}

/// A problem ready to be solved, with the way back to the plan.
pub struct Prepared {
    /// The problem, each field in picture orientation.
    pub problem: Problem,
    /// Per field of the problem, where it belongs.
    pub layouts: Vec<Layout>,
    /// Kind and colour by index of the problem's stock.
    pub entries: Vec<(KindId, ColourId)>,
    /// Name and code of the colour by the same index, for messages.
    pub colours: Vec<String>,
    /// What is aimed for.
    pub goal: MatchGoal,
    /// Weight for fewer changes.
    pub fewer_changes: f64,
    /// The cells that are matched; all of them when `None`.
    pub only: Option<CellMask>,
    /// What the field shows from when it is laid, where that is another picture.
    pub shows: Option<FreshPicture>,
}

/// Where a field of a problem belongs.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// The field.
    pub item: ItemId,
    /// Its name, for messages.
    pub name: String,
    /// Between lanes and ranks and the picture.
    pub map: GridMap,
    /// Blur of the eye in cells as seen from the wished distance.
    pub eye: EyeBlur,
}

/// Seconds that a stage took.
#[derive(Debug, Clone, PartialEq)]
pub struct StageTime {
    /// The stage, as a word.
    pub stage: &'static str,
    /// Wall seconds.
    pub seconds: f64,
}

/// The sum of differences and the bound below which no assignment can lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Proof {
    /// Sum of importance x CIEDE2000 x 1000.
    pub objective: i64,
    /// Computed from the prices alone; equal to the objective when it is optimal.
    pub bound: i64,
}

/// The proven match behind an outcome, in the problem's own terms, for those who ask the same problem again.
#[derive(Debug, Clone, PartialEq)]
pub struct ExactAnswer {
    pub(crate) cells: Vec<Vec<u16>>,
    pub(crate) prices: Vec<i64>,
}

/// A match.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Cells by field, in lane order.
    pub cells: Vec<(ItemId, Cells)>,
    /// Measures by field.
    pub measures: Vec<FieldMeasure>,
    /// The sum cell by cell, and the bound below which no assignment can lie. Equal for the goal `exact`.
    pub proof: Proof,
    /// Pieces used by kind and colour.
    pub used: Vec<(KindId, ColourId, u64)>,
    /// CIEDE2000 that one more piece would save, by kind and colour; for the goal `exact`.
    pub prices: Vec<(KindId, ColourId, f64)>,
    /// What was aimed for.
    pub goal: MatchGoal,
    /// Weight for fewer changes.
    pub fewer_changes: f64,
    /// The cells that were matched, in lane order, while the others stayed; all of them when `None`.
    pub only: Option<CellMask>,
    /// What the field shows from when it is laid, where that is another picture.
    pub shows: Option<FreshPicture>,
    /// The proven match of the same problem.
    pub exact: Arc<ExactAnswer>,
    /// True when the search was stopped; the cells are the best so far.
    pub stopped: bool,
    /// Wall seconds a stage.
    pub seconds: Vec<StageTime>,
}

/// Lays pictures onto cells and collects what a match needs.
///
/// `go_on` answers whether to go on; it is asked while pictures are read.
pub fn prepare(
    plan: &Plan,
    ask: &MatchAsk,
    bank: &PictureBank,
    source: &dyn PictureSource,
    go_on: &(dyn Fn(f32) -> bool + Sync),
) -> Result<Prepared, DeskError> {
    let shown = ask.shows.as_ref().map(|fresh| with_picture(plan, ask, fresh)).transpose()?;
    let plan = shown.as_ref().unwrap_or(plan);
    let items = chosen_fields(plan, &ask.items)?;
    let mut kinds: Vec<KindId> = items.iter().map(|(_, f)| f.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let mut choice = Choice::of(plan, &kinds, &ask.items);
    let only = again::chosen(ask, &items)?;
    let mut fields = Vec::with_capacity(items.len());
    let mut layouts = Vec::with_capacity(items.len());
    for (item, field) in &items {
        let mut wanted = wanted_field(plan, field, &choice, bank, source, go_on)?
            .ok_or_else(|| DeskError::no_match(say!(refusing::MATCH_NO_PICTURE, name = &item.name)))?;
        if let Some(only) = only {
            again::hold(&mut wanted, field, only, &mut choice);
        }
        layouts.push(Layout {
            item: item.id,
            name: item.name.clone(),
            map: field.frame.map(),
            eye: eye(field),
        });
        fields.push(wanted);
    }
    let wish = &items[0].1.wish;
    let named = |(_, c): &(KindId, ColourId)| {
        plan.colour(*c).map_or_else(String::new, |c| format!("{} ({})", c.name, c.code))
    };
    let colours = choice.entries.iter().map(named).collect();
    Ok(Prepared {
        problem: Problem { fields, stock: choice.stock },
        layouts,
        colours,
        entries: choice.entries,
        goal: ask.goal.unwrap_or(wish.goal),
        fewer_changes: ask.fewer_changes.unwrap_or(wish.fewer_changes),
        only: only.cloned(),
        shows: ask.shows.clone(),
    })
}

/// The plan as it will be once its one field shows the picture.
fn with_picture(plan: &Plan, ask: &MatchAsk, fresh: &FreshPicture) -> Result<Plan, DeskError> {
    let [id] = ask.items[..] else {
        return Err(DeskError::no_match(say!(refusing::MATCH_TWO_FIELDS)));
    };
    let mut plan = plan.clone();
    let steps = fresh.steps(&plan, id);
    plan.apply(&Command::Together { steps }).map_err(DeskError::Refused)?;
    Ok(plan)
}

fn chosen_fields<'a>(plan: &'a Plan, ids: &[ItemId]) -> Result<Vec<(&'a Item, &'a Field)>, DeskError> {
    if ids.is_empty() {
        return Err(DeskError::no_match(say!(refusing::MATCH_NO_FIELD)));
    }
    ids.iter()
        .map(|&id| {
            let item = plan.item(id);
            item.and_then(|i| Some((i, i.field()?))).ok_or_else(|| {
                let what = say!(refusing::WHAT_FIELD, id = id.to_string());
                DeskError::missing(what, say!(refusing::MISSING_FIELD))
            })
        })
        .collect()
}

/// The blur of the eye on the cells of the upright picture, from the wished distance.
pub(crate) fn eye(field: &Field) -> EyeBlur {
    let (w, h) = field.frame.cell_size();
    colour::sigma_of_eye(field.wish.seen_from.to_m(), [w, h])
}

/// One field as the matching wants it; `None` without a picture.
pub(crate) fn wanted_field(
    plan: &Plan,
    field: &Field,
    choice: &Choice,
    bank: &PictureBank,
    source: &dyn PictureSource,
    go_on: &(dyn Fn(f32) -> bool + Sync),
) -> Result<Option<FieldWanted>, DeskError> {
    let Some(laid) = bank.wanted(plan, field, source, go_on)? else { return Ok(None) };
    let map = field.frame.map();
    let by_hand = map.to_picture(field.by_hand.as_slice());
    let now = map.to_picture(field.cells.as_slice());
    let rule = |i: usize| match (by_hand[i], now[i]) {
        (true, EMPTY) => CellRule::Empty,
        (true, c) => choice.index(field.kind, ColourId(c)).map_or(CellRule::Empty, CellRule::Fixed),
        (false, _) if laid.empty[i] => CellRule::Empty,
        (false, _) => CellRule::Free,
    };
    let pieces: Vec<_> = choice.entries.iter().filter_map(|(_, c)| plan.colour(*c).map(faces)).collect();
    let geometry = field_geometry(plan, field);
    let palette =
        colour::seen_colours(&pieces, &geometry, linear(plan.hall.floor), &seen_as(&field.wish.seen_as));
    Ok(Some(FieldWanted {
        cols: laid.cols,
        rows: laid.rows,
        wanted: laid.wanted.clone(),
        cells: (0..laid.wanted.len()).map(rule).collect(),
        palette,
        allowed: choice.allowed(field),
        weight: field.wish.weight,
        runs_along: if field.frame.fall.lanes_are_rows() { Axis::Cols } else { Axis::Rows },
        sigma: eye(field).design,
    }))
}

/// Solves a prepared match. `report` hears of progress and answers whether to go on.
pub fn run(prepared: &Prepared, report: &mut dyn FnMut(Progress) -> Flow) -> Result<Outcome, DeskError> {
    let mut clock = StageClock::start();
    let mut heard = |p: Progress| {
        clock.enter(stage_word(p.stage));
        report(p)
    };
    let found = match prepared.goal {
        MatchGoal::Exact => exact(prepared, &mut heard),
        MatchGoal::Seen => seen(prepared, &mut heard),
    };
    let mut outcome = found.map_err(|e| explain(prepared, e))?;
    clock.enter("measures");
    outcome.measures = measures(prepared, &outcome.cells);
    outcome.seconds = clock.end();
    Ok(outcome)
}

fn exact(p: &Prepared, report: &mut dyn FnMut(Progress) -> Flow) -> Result<Outcome, MatchError> {
    let m = colour::match_exact(&p.problem, report)?;
    Ok(Outcome {
        cells: to_cells(p, &m.cells),
        measures: Vec::new(),
        proof: Proof { objective: m.objective, bound: m.bound },
        used: by_entry(p, &m.used, |n| *n),
        prices: by_entry(p, &m.prices, |v| *v as f64 / 1_000.0),
        goal: MatchGoal::Exact,
        fewer_changes: 0.0,
        only: p.only.clone(),
        shows: p.shows.clone(),
        exact: Arc::new(ExactAnswer { cells: m.cells, prices: m.prices }),
        stopped: false,
        seconds: Vec::new(),
    })
}

fn seen(p: &Prepared, report: &mut dyn FnMut(Progress) -> Flow) -> Result<Outcome, MatchError> {
    // Where pieces are seen singly, each should also be right by itself.
    let lambda = if p.layouts.iter().all(|l| l.eye.seen_singly) { LAMBDA_UP_CLOSE } else { 0.0 };
    let options = SeenOptions { fewer_changes: p.fewer_changes, lambda, ..SeenOptions::default() };
    // The exact match is where the search starts, and its bound says how far any cell-by-cell sum can fall.
    let start = colour::match_exact(&p.problem, report)?;
    let m = colour::match_seen(&p.problem, &options, Some(&start.cells), report)?;
    let objective = colour::sum_of_differences(&p.problem, &m.cells);
    Ok(Outcome {
        cells: to_cells(p, &m.cells),
        measures: Vec::new(),
        proof: Proof { objective, bound: start.bound },
        used: by_entry(p, &m.used, |n| *n),
        prices: Vec::new(),
        goal: MatchGoal::Seen,
        fewer_changes: p.fewer_changes,
        only: p.only.clone(),
        shows: p.shows.clone(),
        exact: Arc::new(ExactAnswer { cells: start.cells, prices: start.prices }),
        stopped: m.stopped,
        seconds: Vec::new(),
    })
}

fn by_entry<T, U>(p: &Prepared, values: &[T], read: impl Fn(&T) -> U) -> Vec<(KindId, ColourId, U)> {
    p.entries.iter().zip(values).map(|(&(k, c), v)| (k, c, read(v))).collect()
}

fn to_cells(p: &Prepared, answer: &[Vec<u16>]) -> Vec<(ItemId, Cells)> {
    let one = |(layout, cells): (&Layout, &Vec<u16>)| {
        let ids: Vec<u16> = cells.iter().map(|&c| colour_of(p, c)).collect();
        (layout.item, Cells::from(layout.map.to_field(&ids)))
    };
    p.layouts.iter().zip(answer).map(one).collect()
}

fn colour_of(p: &Prepared, index: u16) -> u16 {
    p.entries.get(usize::from(index)).map_or(EMPTY, |(_, c)| c.0)
}

fn measures(p: &Prepared, cells: &[(ItemId, Cells)]) -> Vec<FieldMeasure> {
    let index = |kind_of: &FieldWanted, id: u16| {
        let fits = |(i, (_, c)): &(usize, &(KindId, ColourId))| c.0 == id && kind_of.allowed[*i];
        let any = |(_, (_, c)): &(usize, &(KindId, ColourId))| c.0 == id;
        let mut entries = p.entries.iter().enumerate();
        entries.clone().find(fits).or_else(|| entries.find(any)).map_or(colour::EMPTY, |(i, _)| i as u16)
    };
    let one = |i: usize| {
        let (field, layout) = (&p.problem.fields[i], &p.layouts[i]);
        let mut table = std::collections::BTreeMap::new();
        let picture = layout.map.to_picture(cells[i].1.as_slice());
        let indices: Vec<u16> =
            picture.iter().map(|&c| *table.entry(c).or_insert_with(|| index(field, c))).collect();
        measure(layout.item, field, &indices, &layout.eye)
    };
    (0..p.layouts.len()).map(one).collect()
}

fn explain(p: &Prepared, error: MatchError) -> DeskError {
    match error {
        MatchError::Stopped => DeskError::Stopped,
        MatchError::StockTooSmall { .. } => DeskError::StockTooSmall(Box::new(with_names(p, &error))),
        error => DeskError::no_match(with_names(p, &error)),
    }
}

/// The matching counts fields and colours; people know them by name.
fn with_names(p: &Prepared, error: &MatchError) -> Said {
    let field = |i: usize| p.layouts.get(i).map_or_else(|| Arg::from(i + 1), |l| Arg::from(&l.name));
    let colour = |i: usize| match p.colours.get(i) {
        Some(name) => Arg::from(name),
        None => say!(refusing::MATCH_COLOUR, n = i + 1).into(),
    };
    error.said(&colour::Called { field: &field, colour: &colour })
}

/// Weight of the difference cell by cell where pieces are seen singly; measured to help up close and to cost
/// nothing from afar between 0.02 and 0.1.
const LAMBDA_UP_CLOSE: f64 = 0.05;

/// A stage as a word.
pub fn stage_word(stage: Stage) -> &'static str {
    match stage {
        Stage::Picture => "picture",
        Stage::Classes => "classes",
        Stage::Differences => "differences",
        Stage::Stock => "stock",
        Stage::Search => "search",
    }
}

/// Wall time by stage, in order of first entry.
struct StageClock {
    since: Instant,
    now: &'static str,
    spent: Vec<StageTime>,
}

impl StageClock {
    fn start() -> Self {
        Self { since: Instant::now(), now: "classes", spent: Vec::new() }
    }

    fn enter(&mut self, stage: &'static str) {
        if stage != self.now {
            self.book();
            self.now = stage;
        }
    }

    fn book(&mut self) {
        let seconds = self.since.elapsed().as_secs_f64();
        self.since = Instant::now();
        match self.spent.iter_mut().find(|s| s.stage == self.now) {
            Some(s) => s.seconds += seconds,
            None => self.spent.push(StageTime { stage: self.now, seconds }),
        }
    }

    fn end(mut self) -> Vec<StageTime> {
        self.book();
        self.spent
    }
}
