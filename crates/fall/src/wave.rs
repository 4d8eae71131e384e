//! The fall itself: events in rings of one millisecond, whole microseconds, and for each piece the earliest cause.

use plan::Plan;

use crate::chance::Chance;
use crate::contacts::Code;
use crate::doubts::Doubts;
use crate::law::Pace;
use crate::network::{Network, State};
use crate::openings::Openings;
use crate::tempo::Tempo;

/// One place of the ring, µs.
const TICK: u64 = 1_000;
/// Places of the ring; an event beyond a whole round waits aside.
const RING: usize = 1_024;
/// Pieces whose hits are read together.
const GROUP: usize = 32;
/// Pieces between two questions whether to go on.
const ASK_EACH: u32 = 65_536;
/// Later than this, one day, everything is counted as falling at this time: a single line of more than 5 000 000 pieces.
pub(crate) const LAST_US: u64 = 24 * 3_600 * 1_000_000;
/// The time of what stands.
pub const STANDS_US: u64 = u64::MAX;

/// What is asked of a fall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ask {
    /// How fast.
    pub pace: Pace,
    /// With scatter, chance stops and chances of what may fail from this seed; without any when absent.
    pub seed: Option<u64>,
    /// Whether hits that may fail pass.
    pub unsure_passes: bool,
    /// Whether the pieces of safety gaps are still left out.
    pub gaps_open: bool,
}

impl Default for Ask {
    fn default() -> Self {
        Self { pace: Pace::Usual, seed: None, unsure_passes: true, gaps_open: false }
    }
}

/// What fell, when and why; one entry for each piece.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Fall {
    /// When it is hit, in microseconds after the first push; [`STANDS_US`] when it stands.
    pub hit_us: Vec<u64>,
    /// The piece that hit it; `u32::MAX` when it was pushed or stands.
    pub from: Vec<u32>,
    /// 0: falls forward; 1: back.
    pub way: Vec<u8>,
    /// How many fell.
    pub fallen: u32,
    /// When the last of them was hit, µs; 0 when none was.
    pub last_us: u64,
    /// When the fall came into each placeholder, in the order of [`Network::passes`], µs; [`STANDS_US`] when it did not.
    pub entered_us: Vec<u64>,
}

/// What is known of a piece while the wave runs: side by side, for a wave over many lanes touches each of them in another
/// place of memory, and every column of its own would be one more.
#[derive(Clone, Copy)]
struct Known {
    hit_us: u64,
    from: u32,
    age: u8,
    way: u8,
}

const STANDS: Known = Known { hit_us: STANDS_US, from: u32::MAX, age: 0, way: 0 };

/// A hit that is due in a known tick: 12 bytes.
#[derive(Clone, Copy)]
struct Event {
    state: State,
    from: u32,
    /// Within the tick, µs.
    off: u16,
    age: u8,
}

/// Runs the fall. `keep_on` is told the share of pieces that fell, from time to time; when it says no, the answer is
/// `None`. The same bits for any number of threads; with a seed, chances hang on the seed and the piece alone.
pub fn run(
    plan: &Plan,
    network: &Network,
    ask: &Ask,
    keep_on: &(dyn Fn(f64) -> bool + Sync),
) -> Option<Fall> {
    let tempo = Tempo::of(plan, &network.shapes, ask.pace);
    let doubts = Doubts::of(plan, network, ask);
    Wave::new(plan, network, *ask, &tempo, &doubts).run(keep_on).map(|f| f.0)
}

pub(crate) struct Wave<'a> {
    network: &'a Network,
    ask: Ask,
    tempo: &'a Tempo,
    chance: Option<Chance>,
    open_gaps: Option<Openings>,
    stopped: Vec<u32>,
    doubts: &'a Doubts,
    gates: Vec<u64>,
    entered: Vec<u64>,
    known: Vec<Known>,
    fallen: u32,
    last_us: u64,
    ring: Vec<Vec<Event>>,
    /// With their ticks.
    later: Vec<(u64, Event)>,
    waiting: usize,
    /// In ticks.
    now: u64,
}

impl<'a> Wave<'a> {
    /// `doubts` are those of what is asked.
    pub(crate) fn new(
        plan: &Plan,
        network: &'a Network,
        ask: Ask,
        tempo: &'a Tempo,
        doubts: &'a Doubts,
    ) -> Self {
        let n = network.pieces() as usize;
        let mut gates = Vec::new();
        if !network.passes().is_empty() {
            gates.resize((2 * n).div_ceil(64), 0u64);
            for s in network.passes().iter().flat_map(|p| &p.enter) {
                gates[*s as usize / 64] |= 1 << (s % 64);
            }
        }
        Self {
            network,
            ask,
            tempo,
            chance: ask.seed.map(|seed| Chance::new(plan, seed)),
            open_gaps: ask.gaps_open.then(|| Openings::of(plan, network)),
            stopped: Vec::new(),
            doubts,
            gates,
            entered: vec![STANDS_US; network.passes().len()],
            known: vec![STANDS; n],
            fallen: 0,
            last_us: 0,
            ring: vec![Vec::new(); RING],
            later: Vec::new(),
            waiting: 0,
            now: 0,
        }
    }

    /// The fall, and the pieces at which chance stopped it.
    pub(crate) fn run(mut self, keep_on: &(dyn Fn(f64) -> bool + Sync)) -> Option<(Fall, Vec<u32>)> {
        let n = f64::from(self.network.pieces().max(1));
        let mut pushed = Vec::new();
        for push in self.network.starts() {
            for &state in push.states.iter().filter(|s| !self.is_absent(**s as usize / 2)) {
                pushed.push((push.at_us, state));
            }
        }
        pushed.into_iter().for_each(|(at, state)| self.post(at, state, u32::MAX, 0));
        let (mut settled, mut again) = (Vec::new(), Vec::new());
        let mut asked = 0;
        while self.waiting > 0 || !self.later.is_empty() {
            let place = (self.now as usize) % RING;
            std::mem::swap(&mut again, &mut self.ring[place]);
            while !again.is_empty() {
                self.waiting -= again.len();
                again.drain(..).for_each(|e| self.settle(e, &mut settled));
                for group in settled.chunks(GROUP) {
                    self.look_ahead(group);
                    group.iter().for_each(|piece| self.push_on(*piece));
                }
                settled.clear();
                // Only events at the very end of time come into the place at hand.
                std::mem::swap(&mut again, &mut self.ring[place]);
            }
            if self.fallen - asked >= ASK_EACH {
                asked = self.fallen;
                if !keep_on(f64::from(asked) / n) {
                    return None;
                }
            }
            self.step();
        }
        let standing = |p: &u32| self.known[*p as usize].hit_us == STANDS_US;
        let stopped = self.stopped.iter().copied().filter(standing).collect();
        Some((self.into_fall(), stopped))
    }

    fn into_fall(self) -> Fall {
        let known = &self.known;
        Fall {
            hit_us: known.iter().map(|k| k.hit_us).collect(),
            from: known.iter().map(|k| k.from).collect(),
            way: known.iter().map(|k| k.way).collect(),
            fallen: self.fallen,
            last_us: self.last_us,
            entered_us: self.entered,
        }
    }

    /// On to the next tick; at the end of a round, and when the ring is empty, what waited aside comes in.
    fn step(&mut self) {
        if self.waiting == 0
            && let Some(next) = self.later.iter().map(|e| e.0).min()
        {
            self.now = next;
            self.take_in();
            return;
        }
        self.now += 1;
        if (self.now as usize).is_multiple_of(RING) {
            self.take_in();
        }
    }

    fn take_in(&mut self) {
        let later = std::mem::take(&mut self.later);
        later.into_iter().for_each(|(tick, e)| self.put(tick, e));
    }

    fn post(&mut self, at: u64, state: State, from: u32, age: u8) {
        self.put(at / TICK, Event { state, from, off: (at % TICK) as u16, age });
    }

    /// Nothing is due before the tick at hand: a hit comes after its cause.
    fn put(&mut self, tick: u64, e: Event) {
        if (tick - self.now) as usize >= RING {
            self.later.push((tick, e));
        } else {
            self.waiting += 1;
            self.ring[tick as usize % RING].push(e);
        }
    }

    /// Reads what a group of pieces is about to need, so that the memory answers for all of them at once: one by one a wide
    /// wave would wait for each of its lanes.
    fn look_ahead(&self, group: &[u32]) {
        let first = |piece: &u32| {
            let state = 2 * piece + u32::from(self.known[*piece as usize].way);
            self.network.glance(state)
        };
        std::hint::black_box(group.iter().map(first).fold(0, |a, b| a ^ b));
    }

    /// Keeps the earliest cause; of several at the same time the one with the lowest number.
    fn settle(&mut self, e: Event, settled: &mut Vec<u32>) {
        let piece = e.state / 2;
        let p = piece as usize;
        let at = self.now * TICK + u64::from(e.off);
        let way = (e.state % 2) as u8;
        let before = &mut self.known[p];
        let hit = before.hit_us;
        if hit == STANDS_US {
            settled.push(piece);
            self.fallen += 1;
        } else if (at, e.from, way) >= (hit, before.from, before.way)
            || hit / TICK == LAST_US / TICK
            || hit / TICK < self.now
        {
            return;
        }
        *before = Known { hit_us: at, from: e.from, age: e.age, way };
    }

    fn push_on(&mut self, piece: u32) {
        let p = piece as usize;
        let Known { hit_us: at, from, age, way } = self.known[p];
        self.last_us = self.last_us.max(at);
        let state = 2 * piece + u32::from(way);
        let dies = from == u32::MAX && self.doubts.dies(state);
        let network = self.network;
        for (to, code) in network.codes(state) {
            let target = (to / 2) as usize;
            if self.known[target].hit_us <= at || self.is_absent(target) {
                continue;
            }
            let barred = dies || self.is_barred(state, to, at);
            if (code.unsure() || barred) && !self.may_pass(piece, to, barred) {
                continue;
            }
            self.hit(piece, at, age, to, code);
        }
        // Taken out while its own hits are posted.
        if let Some(gaps) = self.open_gaps.take() {
            for (to, code) in gaps.across(state) {
                if !code.unsure() || self.may_pass(piece, to, false) {
                    self.hit(piece, at, age, to, code);
                }
            }
            self.open_gaps = Some(gaps);
        }
        if !self.gates.is_empty() && self.gates[state as usize / 64] >> (state % 64) & 1 == 1 {
            self.pass(state, at);
        }
    }

    /// Whether a hit that may fail passes: as it was asked, or by chance; `barred` when the doubt is not of the hit itself.
    fn may_pass(&mut self, piece: u32, to: State, barred: bool) -> bool {
        if !self.ask.unsure_passes {
            return false;
        }
        let passes = self.chance.as_ref().is_none_or(|c| c.passes(piece, to / 2, barred));
        if !passes {
            self.stopped.push(to / 2);
        }
        passes
    }

    /// Whether something besides a hit itself may make it fail.
    fn is_barred(&self, from: State, to: State, at: u64) -> bool {
        let fell = |s: State| {
            let k = &self.known[s as usize / 2];
            if k.way == (s % 2) as u8 { k.hit_us } else { STANDS_US }
        };
        self.doubts.bar(self.network, (from, to), at, fell)
    }

    fn hit(&mut self, piece: u32, at: u64, age: u8, to: State, code: Code) {
        let mut delay = self.tempo.hop_at(code, age);
        if let Some(chance) = &self.chance {
            // The table is of straight lines; splits and corners are sure or unsure by runs of their own.
            let share = code.is_straight().then(|| code.share());
            if chance.stops(to / 2, share, self.network.is_by_hand(to / 2)) {
                self.stopped.push(to / 2);
                return;
            }
            delay = chance.scatter(piece, to / 2, delay);
        }
        let at = (at + u64::from(delay)).min(LAST_US);
        self.post(at, to, piece, code.reset().apply(age));
    }

    fn pass(&mut self, state: State, at: u64) {
        let network = self.network;
        for (i, p) in network.passes().iter().enumerate() {
            if self.entered[i] != STANDS_US || p.enter.binary_search(&state).is_err() {
                continue;
            }
            self.entered[i] = at;
            let (least, most) = p.delay_us;
            let delay = match self.ask.pace {
                Pace::Fast => least,
                Pace::Usual => least / 2 + most / 2 + (least % 2 + most % 2) / 2,
                Pace::Slow => most,
            };
            let at = (at + delay.max(TICK)).min(LAST_US);
            for &to in &p.leave {
                if self.known[to as usize / 2].hit_us > at {
                    self.post(at, to, state / 2, 0);
                }
            }
        }
    }

    fn is_absent(&self, piece: usize) -> bool {
        self.open_gaps.as_ref().is_some_and(|g| g.is_absent(piece))
    }
}
