//! `feed`: the ways to feed a field, and laying one.

use desk::{Author, Desk};
use findings::grouped;
use placement::{Advice, Means, Works};
use plan::{ColourId, Command, Hand, Item, ItemId, LaneCourse, Plan};
use sayings::doing;
use serde_json::{Value, json};

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
    // Of its own accord it leaves the picture's lanes as they are.
    let wanted = |a: &&Advice| args.way.is_some() || matches!(a.means, Means::Feed(_));
    let Some(advice) = ways.iter().filter(wanted).find(|a| a.works != Works::No) else {
        let why = ways.first().map_or_else(String::new, |a| format!(" {}", sayings::together(&a.why)));
        let message = format!("No feed was laid for {}.{why} Choose another way or lane pitch.", item.name);
        return Err(Trouble::input("feed-impossible", message));
    };
    let steps = desk::feed_steps(&plan, item, advice, colour(&plan)?);
    if steps.is_empty() {
        let message = format!("{} falls so already: nothing was laid.", item.name);
        return Err(Trouble::input("feed-there", message));
    }
    let put = |step: &Command| match step {
        Command::PutItem { item } => Some((item.id, item.name.clone())),
        _ => None,
    };
    let put: Vec<(ItemId, String)> = steps.iter().filter_map(put).collect();
    desk.apply(
        &Author("command line".into()),
        sayings::say!(doing::FEED, name = &item.name),
        Command::Together { steps },
    )?;
    let change = desk.snapshot().change;
    let changed = put.iter().any(|p| p.0 == item.id);
    let names: Vec<&str> = put.iter().filter(|p| p.0 != item.id).map(|p| p.1.as_str()).collect();
    // Lanes in turn need no feed: the line leads to the field itself.
    let (to, port) =
        if names.is_empty() { (vec![item.name.as_str()], IN_TURN) } else { (names.clone(), "entry") };
    out.result(
        || {
            let mut text = table(std::slice::from_ref(advice));
            if changed {
                text.push_str(&format!("The lanes of {} fall otherwise now.\n", printable(&item.name)));
            }
            for name in to.iter().map(|n| printable(n)) {
                let added = if names.is_empty() { String::new() } else { format!("Added {name}. ") };
                text.push_str(&format!("{added}A line must lead to {name}, port {port}.\n"));
            }
            text + &format!("Saved as change {change}.\n")
        },
        || json!({ "way": value(advice), "items": names, "to": to, "port": port, "change": change }),
    )?;
    Ok(Ending::Fine)
}

/// Where a line must lead to when the lanes fall in turn.
const IN_TURN: &str = "lane 1";

fn colour(plan: &Plan) -> Result<ColourId, Trouble> {
    plan.stock.colours.first().map(|c| c.id).ok_or_else(|| {
        Trouble::input(
            "no-colour",
            "The stock holds no colour for the feed's pieces; add a lot to the stock first.",
        )
    })
}

/// The ways that were asked for, best first.
fn asked(plan: &Plan, item: &Item, args: &FeedArgs) -> Vec<Advice> {
    let side = match args.side {
        FeedSide::Left => Hand::Left,
        FeedSide::Right => Hand::Right,
    };
    let mut ways = desk::feed_ways(plan, item, side);
    if let Some(way) = args.way {
        ways.retain(|a| match a.means {
            Means::Feed(w) => placement::way_name(&w) == name_of(way),
            Means::Course(LaneCourse::Opposed) => way == Way::Opposed,
            Means::Course(_) => way == Way::InTurn,
        });
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
        // No feed has this name: they are courses of the lanes.
        Way::Opposed | Way::InTurn => "",
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
