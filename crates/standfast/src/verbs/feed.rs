//! `feed`: the ways to feed a field, and laying one.

use desk::{Author, Desk};
use findings::grouped;
use placement::{Advice, Means, Works};
use plan::{Body, ColourId, Command, Feed, FeedWay, Field, Hand, Item, ItemId, LaneCourse, Plan};
use sayings::doing;
use serde_json::{Value, json};
use units::Angle;

use crate::cli::{FeedArgs, FeedSide, Way};
use crate::load;
use crate::out::{Done, Ending, Out, Trouble, printable};

/// Lists the ways to feed a field, and lays one if asked.
pub(crate) fn run(out: &Out, args: &FeedArgs) -> Done {
    if args.apply {
        let desk = load::project(&args.file)?;
        let done = apply(out, &desk, args);
        desk.close()?;
        return done;
    }
    let loaded = load::plan(&args.file)?;
    loaded.notes().iter().for_each(|n| out.remark(n));
    let ways = asked(loaded.plan(), field(loaded.plan(), &args.field)?, args);
    out.result(|| table(&ways), || json!({ "ways": ways.iter().map(value).collect::<Vec<_>>() }))?;
    loaded.close()?;
    Ok(Ending::Fine)
}

fn apply(out: &Out, desk: &Desk, args: &FeedArgs) -> Done {
    let plan = desk.snapshot().plan.clone();
    let item = field(&plan, &args.field)?;
    let ways = asked(&plan, item, args);
    let chosen = ways.iter().find(|a| a.works != Works::No && matches!(a.means, Means::Feed(_)));
    let Some((advice, Means::Feed(way))) = chosen.map(|a| (a, a.means)) else {
        let why = ways.first().map_or_else(String::new, |a| format!(" {}", sayings::together(&a.why)));
        let message = format!("No feed was laid for {}.{why} Choose another way or lane pitch.", item.name);
        return Err(Trouble::input("feed-impossible", message));
    };
    let edges = laid(&plan, item, way)?;
    let steps = edges.iter().map(|i| Command::PutItem { item: Box::new(i.clone()) }).collect();
    desk.apply(
        &Author("command line".into()),
        sayings::say!(doing::FEED, name = &item.name),
        Command::Together { steps },
    )?;
    let change = desk.snapshot().change;
    let names: Vec<&str> = edges.iter().map(|i| i.name.as_str()).collect();
    out.result(
        || {
            let mut text = table(std::slice::from_ref(advice));
            for name in &names {
                text.push_str(&format!("Added {0}. A line must lead to {0}, port entry.\n", printable(name)));
            }
            text + &format!("Saved as change {change}.\n")
        },
        || json!({ "way": value(advice), "items": names, "port": "entry", "change": change }),
    )?;
    Ok(Ending::Fine)
}

/// The feed items for all edges at which lanes of the field begin.
fn laid(plan: &Plan, of: &Item, way: FeedWay) -> Result<Vec<Item>, Trouble> {
    let Body::Field(field) = &of.body else { return Ok(Vec::new()) };
    let opposed = field.frame.course == LaneCourse::Opposed && field.frame.lanes > 1;
    let colour = plan.stock.colours.first().map(|c| c.id).ok_or_else(|| {
        Trouble::input(
            "no-colour",
            "The stock holds no colour for the feed's pieces; add a lot to the stock first.",
        )
    })?;
    let edges = if opposed { vec![" feed", " feed, far edge"] } else { vec![" feed"] };
    let one = |(i, suffix): (usize, &str)| {
        let turn = if i == 0 { Angle::ZERO } else { Angle::deg(180.0) };
        Item {
            heading: of.heading + turn,
            surface: of.surface,
            section: of.section,
            ..Item::new(
                ItemId(plan.fresh_id().saturating_add(i as u32)),
                free_name(plan, &format!("{}{suffix}", of.name)),
                of.at,
                Body::Feed(feed(plan, field, of.id, way, colour)),
            )
        }
    };
    Ok(edges.into_iter().enumerate().map(one).collect())
}

fn feed(plan: &Plan, field: &Field, of: ItemId, way: FeedWay, colour: ColourId) -> Feed {
    Feed { of, way, kind: field.kind, colour, pitch: placement::feed_pitch(plan, field) }
}

fn free_name(plan: &Plan, wish: &str) -> String {
    let taken = |name: &str| plan.item_by_name(name).is_some();
    let numbered = (2..=plan.items.len() + 2).map(|i| format!("{wish} {i}"));
    std::iter::once(wish.to_owned()).chain(numbered).find(|n| !taken(n)).unwrap_or_else(|| wish.to_owned())
}

/// The ways that were asked for, best first.
fn asked(plan: &Plan, item: &Item, args: &FeedArgs) -> Vec<Advice> {
    let side = match args.side {
        FeedSide::Left => Hand::Left,
        FeedSide::Right => Hand::Right,
    };
    let mut ways = placement::feed_ways_from(plan, item, side);
    if let Some(way) = args.way {
        ways.retain(|a| matches!(a.means, Means::Feed(w) if placement::way_name(&w) == name_of(way)));
    }
    ways
}

fn name_of(way: Way) -> &'static str {
    match way {
        Way::Brick => "brick",
        Way::Beside => "beside",
        Way::Angled => "angled",
        Way::InLine => "in-line",
        Way::Echelon => "echelon",
        Way::HalfShift => "half-shift",
    }
}

fn field<'a>(plan: &'a Plan, name: &str) -> Result<&'a Item, Trouble> {
    let ids = super::matching::fields(plan, &[name.to_owned()], |_| true)?;
    let found = ids.first().and_then(|id| plan.item(*id));
    found.ok_or_else(|| Trouble::input("usage", format!("There is no field {name}.")))
}

fn means(a: &Advice) -> &'static str {
    match a.means {
        Means::Feed(way) => placement::way_name(&way),
        Means::Course(LaneCourse::InTurn) => "lanes in turn",
        Means::Course(_) => "opposed lanes",
    }
}

fn works(a: &Advice) -> &'static str {
    match a.works {
        Works::Sure => "sure",
        Works::Unsure => "unsure",
        Works::No => "no",
    }
}

fn table(ways: &[Advice]) -> String {
    let mut text = format!(
        "{:<14} {:<7} {:>7} {:>7} {:>9} {:>8}\n",
        "way", "works", "slick", "normal", "slow", "pieces"
    );
    for a in ways {
        let share = |f: Option<(u32, u32)>| f.map_or_else(|| "-".into(), |(n, of)| format!("{n}/{of}"));
        let slow = a.slow.map_or_else(|| "-".into(), |(l, m)| format!("{l:.1}-{m:.1}"));
        text.push_str(&format!(
            "{:<14} {:<7} {:>7} {:>7} {slow:>9} {:>8}\n    {}\n",
            means(a),
            works(a),
            share(a.at_slick),
            share(a.at_normal),
            grouped(u64::from(a.pieces)),
            sayings::together(&a.why)
        ));
    }
    text + "slick, normal: lanes that fell of lanes run nearest to this case, at friction 0.15 and 0.3.\n\
            slow: time along the edge over that of a straight line.\n"
}

fn value(a: &Advice) -> Value {
    let share = |f: Option<(u32, u32)>| f.map(|(fell, run)| json!({ "fell": fell, "run": run }));
    json!({
        "way": means(a), "works": works(a), "at_0_15": share(a.at_slick), "at_0_3": share(a.at_normal),
        "slow": a.slow.map(|(l, m)| [l, m]), "pieces": a.pieces, "why": sayings::together(&a.why),
        "feed": match a.means { Means::Feed(way) => serde_json::to_value(way).ok(), Means::Course(_) => None },
    })
}
