//! Links to ports of other items: `"Spring: end"`, or a table where a name alone does not tell.

use std::collections::{BTreeMap, BTreeSet};

use plan::{ItemId, Link};

use crate::stock::shown;
use crate::text_plan::source::{Section, Value, whole};
use crate::text_plan::write::{Out, quote, row};

/// What the items of the text are called.
pub(super) struct Links<'n> {
    /// By name: one of the items that have it, and how many do.
    names: BTreeMap<&'n str, (u32, usize)>,
    ids: BTreeSet<u32>,
}

impl<'n> Links<'n> {
    pub(super) fn of(tables: &[(Section<'n>, u32)]) -> Self {
        let mut names = BTreeMap::new();
        for (s, id) in tables {
            if let Some(name) = s.get("name").and_then(|v| v.get_ref().as_str()) {
                names.entry(name).or_insert((*id, 0)).1 += 1;
            }
        }
        Self { names, ids: tables.iter().map(|(_, id)| *id).collect() }
    }

    /// The item with this name; a problem when there is none or more than one.
    fn named(&self, s: &Section<'_>, value: &Value<'_>, name: &str) -> Option<ItemId> {
        let (problem, next) = match self.names.get(name) {
            Some((id, 1)) => return Some(ItemId(*id)),
            Some((_, count)) => (
                format!("\"{}\" is the name of {count} items", shown(name)),
                "Give the id instead, as in { item = 7, port = \"end\" } or of = 7",
            ),
            None => (
                format!("\"{}\" is not an item of this plan", shown(name)),
                "Add it, or name one that is there",
            ),
        };
        s.source.problem(value.span().start, problem, next);
        None
    }

    /// An item by name in quotes, or by id without.
    pub(super) fn item(&self, s: &Section<'_>, key: &str) -> Option<ItemId> {
        let Some(value) = s.get(key) else {
            s.missing(key, "\"…\"");
            return None;
        };
        if let Some(name) = value.get_ref().as_str() {
            return self.named(s, value, name);
        }
        let id = whole(value).filter(|id| self.ids.contains(id));
        if id.is_none() {
            let problem = format!("{key} = {} is not an item of this plan", s.source.quoted(value.span()));
            s.source.problem(value.span().start, problem, "Give the name or the id of one that is there");
        }
        id.map(ItemId)
    }

    /// A port of an item.
    pub(super) fn link(&self, s: &Section<'_>, key: &str) -> Option<Link> {
        let value = s.get(key)?;
        if value.get_ref().as_table().is_some() {
            let table = s.table(key)?;
            table.known(&["item", "port"]);
            let (item, port) = (self.item(&table, "item"), table.needed_text("port"));
            return Some(Link { item: item?, port });
        }
        let Some((name, port)) = value.get_ref().as_str().and_then(|t| t.split_once(": ")) else {
            let problem = format!("{key} = {} is not an item and its port", s.source.quoted(value.span()));
            s.source.problem(value.span().start, problem, "Write them as \"Spring: end\"");
            return None;
        };
        Some(Link { item: self.named(s, value, name)?, port: port.to_owned() })
    }
}

impl Out<'_> {
    /// An item by its name where no other has it, else by its id.
    pub(super) fn item_word(&self, id: ItemId) -> String {
        self.only_name(id).map_or_else(|| id.to_string(), quote)
    }

    pub(super) fn link(&mut self, key: &str, link: &Link) {
        let text = self.only_name(link.item).map(|name| format!("{name}: {}", link.port));
        // A name may hold the colon itself; then the two are written apart.
        let apart = |t: &String| t.split_once(": ").is_none_or(|(_, port)| port != link.port);
        let value = match text.filter(|t| !apart(t)) {
            Some(text) => quote(&text),
            None => row(&[("item", self.item_word(link.item)), ("port", quote(&link.port))]),
        };
        self.key(key, value);
    }
}
