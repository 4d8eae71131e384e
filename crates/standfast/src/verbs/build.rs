//! `build`: what a touch would take down now, which gaps hold, which ones to leave, and in which order to close them.

use std::fmt::Write;

use fall::{Block, Built, Holds, Network, TOUCH_CLASSES, TouchMap, touch};
use findings::grouped;
use placement::Placement;
use plan::{HallPartKind, ItemId, Plan, SafetyGap};
use serde_json::{Value, json};
use works::{Advice, Closing, Present, Proposal, Risk, Wish, closing_of_plan, present_gaps, suggest};

use crate::cli::BuildArgs;
use crate::load;
use crate::out::{Done, Ending, Out, Trouble, printable};
use crate::words::{name, pieces, spot};

/// Places that are listed at the most.
const PLACES: usize = 5;

/// All that is told.
struct Told {
    standing: u32,
    map: TouchMap,
    /// The worst piece of an item with its count, worst first.
    worst: Vec<(u32, u32)>,
    gaps: Vec<Present>,
    advice: Advice,
    names: Vec<(ItemId, u32)>,
    closing: Closing,
}

/// Tells what a touch would take down and what keeps it small.
pub(crate) fn run(out: &Out, args: &BuildArgs) -> Done {
    let loaded = load::plan(&args.file)?;
    loaded.notes().iter().for_each(|n| out.remark(n));
    let plan = loaded.plan();
    let built = built(plan, args)?;
    let network = Network::of(plan, &Placement::of(plan));
    let map = touch(plan, &network, &built);
    let wish = Wish { accidents: args.accidents, ..Wish::default() };
    let (names, closing) = closing_of_plan(plan, &network, Risk::Hands);
    let told = Told {
        standing: map.most.iter().filter(|&&c| c > 0).count() as u32,
        worst: worst_by_item(&network, &map),
        map,
        gaps: gaps_of(plan, &network, &built),
        advice: suggest(plan, &network, &wish),
        names,
        closing,
    };
    out.result(|| printable(&text(plan, &network, &built, &told)), || value(plan, &network, &built, &told))?;
    loaded.close()?;
    Ok(Ending::Fine)
}

fn built(plan: &Plan, args: &BuildArgs) -> Result<Built, Trouble> {
    let mut items = Vec::new();
    for name in &args.built {
        let found = plan.items.iter().filter(|i| i.name == *name).map(|i| i.id);
        let before = items.len();
        items.extend(found);
        if items.len() == before {
            let message =
                format!("No item of the plan is called \"{name}\". Write names as the plan has them.");
            return Err(Trouble::input("no-such-item", message));
        }
    }
    let items = (!args.built.is_empty()).then_some(items);
    Ok(Built { items, gaps_open: !args.gaps_closed })
}

/// The gaps of what is built.
fn gaps_of(plan: &Plan, network: &Network, built: &Built) -> Vec<Present> {
    let mut gaps = present_gaps(plan, network);
    if let Some(items) = &built.items {
        gaps.retain(|gap| items.contains(&gap.item));
    }
    gaps
}

fn worst_by_item(network: &Network, map: &TouchMap) -> Vec<(u32, u32)> {
    let mut worst = std::collections::BTreeMap::<ItemId, (u32, u32)>::new();
    // Estimates are not told as counts; then only what was searched is.
    let counted: Vec<(u32, u32)> = if map.exact {
        map.most.iter().copied().zip(0..).map(|(c, p)| (p, c)).collect()
    } else {
        map.worst(32)
    };
    for (piece, count) in counted.into_iter().filter(|c| c.1 > 0) {
        let Some(id) = network.piece_id(piece) else { continue };
        let known = worst.entry(id.item).or_insert((piece, count));
        if count > known.1 {
            *known = (piece, count);
        }
    }
    let mut list: Vec<(u32, u32)> = worst.into_values().collect();
    list.sort_by_key(|&(p, c)| (std::cmp::Reverse(c), p));
    list.truncate(PLACES);
    list
}

fn text(plan: &Plan, network: &Network, built: &Built, told: &Told) -> String {
    let mut out = String::new();
    standing_text(&mut out, plan, network, built, told);
    gaps_text(&mut out, plan, built, &told.gaps);
    advice_text(&mut out, plan, &told.advice);
    closing_text(&mut out, plan, told);
    caution_text(&mut out, plan, told);
    out
}

/// Writing to text cannot fail.
macro_rules! say {
    ($out:expr, $($arg:tt)*) => { let _ = writeln!($out, $($arg)*); };
}

fn standing_text(out: &mut String, plan: &Plan, network: &Network, built: &Built, told: &Told) {
    let gaps = if built.gaps_open { "safety gaps open" } else { "safety gaps closed" };
    say!(out, "Standing: {} of {}, {gaps}.", pieces(told.standing), grouped(network.pieces().into()));
    if told.standing == 0 {
        say!(out, "Nothing stands, so nothing can fall.");
        return;
    }
    let mean = told.map.mean().round() as u32;
    say!(out, "A touch takes {} on the average.", pieces(mean));
    if !told.map.exact {
        say!(out, "That is an estimate, right to about 13 %: too many lanes touch for an exact count.");
    }
    let classes = told.map.classes();
    for (i, &count) in classes.iter().enumerate().filter(|(_, c)| **c > 0) {
        let from = grouped(TOUCH_CLASSES[i].into());
        match TOUCH_CLASSES.get(i + 1) {
            Some(next) => {
                say!(out, "  {from} to {} fall at {}", grouped(u64::from(next - 1)), pieces(count));
            }
            None => {
                say!(out, "  {from} or more fall at {}", pieces(count));
            }
        }
    }
    say!(out, "Worst places, one for each item:");
    for &(piece, count) in &told.worst {
        let way = way(&told.map, piece);
        say!(
            out,
            "  {}: {}, {way}",
            network.piece_id(piece).map_or_else(String::new, |id| spot(plan, id)),
            pieces(count)
        );
    }
}

fn way(map: &TouchMap, piece: u32) -> &'static str {
    let (i, most) = (piece as usize, map.most[piece as usize]);
    match (map.forward[i] == most, map.back[i] == most) {
        (true, true) => "either way",
        (true, false) => "knocked forward",
        (false, true) => "knocked back",
        (false, false) => "a soft touch, which may start both ways on a slick floor",
    }
}

fn gaps_text(out: &mut String, plan: &Plan, built: &Built, gaps: &[Present]) {
    if gaps.is_empty() {
        let what = if built.items.is_some() { "What is built" } else { "The plan" };
        say!(out, "\n{what} has no safety gaps.");
        return;
    }
    if !built.gaps_open {
        say!(out, "\nSafety gaps, all of them closed:");
        for gap in gaps {
            say!(out, "  {}: {}", gap_name(plan, gap.item, &gap.gap), closed(gap));
        }
        return;
    }
    let (least, most) = plan.hall.grip.floor;
    say!(out, "\nSafety gaps, on a floor of friction {least} to {most}:");
    for gap in gaps {
        say!(out, "  {}: {}", gap_name(plan, gap.item, &gap.gap), verdict(gap));
    }
}

const EMPTY: &str = "leaves nothing out; the item has no pieces there.";

/// What is to be said of a gap whose pieces stand.
fn closed(gap: &Present) -> String {
    match gap.pieces {
        0 => EMPTY.into(),
        1 => "stops nothing now; its 1 piece stands.".into(),
        n => format!("stops nothing now; its {} stand.", pieces(n)),
    }
}

fn verdict(gap: &Present) -> String {
    if gap.pieces == 0 {
        return EMPTY.into();
    }
    let Some(opening) = gap.opening else {
        return "holds; the other side is farther than fallen pieces were seen to slide.".into();
    };
    let clear = format!("{:.1} mm are open", opening.clear);
    let next = match (opening.block, gap.needed) {
        (Block::None, Some(needed)) => {
            format!("{needed:.0} mm surely hold here, or a stopper fixed to the floor")
        }
        (Block::None, None) => {
            "no opening was measured to hold here; set a stopper fixed to the floor".into()
        }
        (Block::Fixed, _) => {
            "the stopper stands closer to the pieces than in any test; leave one more out".into()
        }
        _ => "a loose block is pushed along; fix it to the floor".into(),
    };
    match gap.holds {
        Holds::Surely if opening.block == Block::Fixed => {
            format!("holds; {clear} and a fixed stopper stands in it.")
        }
        Holds::Surely => format!("holds; {clear}."),
        Holds::Unsure => format!("not sure; {clear}, {next}."),
        Holds::Not => format!("does not hold; {clear}, {next}."),
    }
}

fn advice_text(out: &mut String, plan: &Plan, advice: &Advice) {
    if advice.proposals.is_empty() {
        say!(
            out,
            "\nNo more gaps are worth their work, for {} expected in the whole plan.",
            accidents(advice)
        );
        return;
    }
    say!(out, "\nProposed gaps, for {} expected in the whole plan:", accidents(advice));
    for p in &advice.proposals {
        let name = gap_name(plan, p.item, &p.gap);
        let left = pieces(p.pieces);
        if p.gap.stopper {
            let needed =
                p.needed.map_or_else(String::new, |n| format!("; without it {n:.0} mm would be needed"));
            say!(out, "  {name}: leave out {left} and fix a stopper to the floor in the middle{needed}");
        } else {
            say!(out, "  {name}: leave out {left}, {:.1} mm open", p.opening);
        }
    }
    let (before, after) = (&advice.before, &advice.after);
    say!(
        out,
        "With them a touch takes {} on the average instead of {}, and {} at the most instead of {}.",
        pieces(after.mean.round() as u32),
        grouped(before.mean.round() as u64),
        grouped(after.worst.into()),
        grouped(before.worst.into())
    );
}

fn accidents(advice: &Advice) -> String {
    // To a thousandth as they are given, and to a tenth where they follow from the pieces.
    let count = (advice.accidents * 1_000.0).round() / 1_000.0;
    let count = if count >= 1.0 { (count * 10.0).round() / 10.0 } else { count };
    format!("{count} {}", if count == 1.0 { "accident" } else { "accidents" })
}

fn closing_text(out: &mut String, plan: &Plan, told: &Told) {
    if told.closing.order.is_empty() {
        return;
    }
    say!(out, "\nClosing order at the end, with the pieces that hang together then:");
    for (i, (&g, &loss)) in told.closing.order.iter().zip(&told.closing.loss).enumerate() {
        let (item, index) = told.names[g as usize];
        if let Some(gap) = plan.item(item).and_then(|it| it.gaps.get(index as usize)) {
            say!(
                out,
                "  {}. {}: {}",
                i + 1,
                gap_name(plan, item, gap),
                pieces(loss.min(u32::MAX.into()) as u32)
            );
        }
    }
}

fn caution_text(out: &mut String, plan: &Plan, told: &Told) {
    let stoppers =
        told.gaps.iter().any(|g| g.gap.stopper) || told.advice.proposals.iter().any(|p| p.gap.stopper);
    let ways = plan
        .hall
        .parts
        .iter()
        .any(|p| matches!(p.is, HallPartKind::Exit | HallPartKind::Aisle | HallPartKind::Door));
    say!(out, "\nThe openings come from simulations. Try one on your floor before you rely on it.");
    if stoppers {
        say!(out, "People trip over stoppers. Mark each one, and take them out with the closing.");
    }
    if stoppers || ways {
        say!(out, "Keep exits and ways out free at all times; local codes and the hall's rules come first.");
    }
}

fn gap_name(plan: &Plan, item: ItemId, gap: &SafetyGap) -> String {
    let (first, last) = gap.for_people();
    let ranks = if first == last {
        format!("rank {}", grouped(first))
    } else {
        format!("ranks {} to {}", grouped(first), grouped(last))
    };
    format!("{}, {ranks}", name(plan, item))
}

/// The name of an item alone, for programs.
fn plain(plan: &Plan, id: ItemId) -> String {
    plan.item(id).map_or_else(|| format!("item {id}"), |item| item.name.clone())
}

fn value(plan: &Plan, network: &Network, built: &Built, told: &Told) -> Value {
    let worst = |&(piece, count): &(u32, u32)| {
        let id = network.piece_id(piece);
        json!({
            "item": id.map(|i| plain(plan, i.item)),
            "lane": id.map(|i| i.lane + 1),
            "rank": id.map(|i| i.rank + 1),
            "pieces": count,
            "forward": told.map.forward[piece as usize],
            "back": told.map.back[piece as usize],
        })
    };
    let closing = told.closing.order.iter().zip(&told.closing.loss).map(|(&g, &loss)| {
        let (item, gap) = told.names[g as usize];
        json!({ "item": plain(plan, item), "gap": gap + 1, "joined": loss })
    });
    json!({
        "standing": told.standing,
        "pieces": network.pieces(),
        "gaps_open": built.gaps_open,
        "exact": told.map.exact,
        "mean": told.map.mean(),
        "classes": TOUCH_CLASSES.iter().zip(told.map.classes()).map(|(from, n)| json!({ "from": from, "pieces": n })).collect::<Vec<_>>(),
        "worst": told.worst.iter().map(worst).collect::<Vec<_>>(),
        "gaps": told.gaps.iter().map(|g| gap_value(plan, built, g)).collect::<Vec<_>>(),
        "proposals": told.advice.proposals.iter().map(|p| proposal_value(plan, p)).collect::<Vec<_>>(),
        "accidents": told.advice.accidents,
        "before": { "mean": told.advice.before.mean, "worst": told.advice.before.worst },
        "after": { "mean": told.advice.after.mean, "worst": told.advice.after.worst },
        "closing": { "order": closing.collect::<Vec<_>>(), "total": told.closing.total, "exact": told.closing.exact },
    })
}

fn gap_value(plan: &Plan, built: &Built, gap: &Present) -> Value {
    let open = built.gaps_open;
    let holds = match gap.holds {
        Holds::Surely if open || gap.pieces == 0 => "surely",
        Holds::Unsure if open => "unsure",
        _ => "not",
    };
    json!({
        "item": plain(plan, gap.item),
        "first": gap.gap.for_people().0,
        "count": gap.gap.count,
        "stopper": gap.gap.stopper,
        "pieces": gap.pieces,
        "open": open,
        "holds": holds,
        "opening_mm": gap.opening.filter(|_| open).map(|o| o.clear),
        "needed_mm": gap.needed,
        "why": if open { verdict(gap) } else { closed(gap) },
    })
}

fn proposal_value(plan: &Plan, p: &Proposal) -> Value {
    json!({
        "item": plain(plan, p.item),
        "first": p.gap.for_people().0,
        "count": p.gap.count,
        "stopper": p.gap.stopper,
        "pieces": p.pieces,
        "opening_mm": p.opening,
        "needed_mm": p.needed,
    })
}
