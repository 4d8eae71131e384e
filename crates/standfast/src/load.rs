//! Plans, stock lists and pictures from files.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use desk::{Desk, DeskError, PictureSource, Snapshot};
use plan::{Picture, PictureId, Plan, Stock};

use crate::files;
use crate::out::Trouble;

/// A plan to look at, from a project file or a text plan.
pub(crate) enum Loaded {
    /// From a project file, open.
    Project(Arc<Desk>, Arc<Snapshot>),
    /// From a text plan.
    Text(Box<TextPlan>),
}

/// A text plan with the folder that its pictures lie in.
pub(crate) struct TextPlan {
    plan: Plan,
    files: BTreeMap<String, PathBuf>,
}

/// The text plan in a folder.
const PLAN_TOML: &str = "plan.toml";

/// Reads a project file, or a text plan when the name ends in `.toml` or is that of its folder.
pub(crate) fn plan(path: &Path) -> Result<Loaded, Trouble> {
    if is_text_plan(path) {
        return Ok(Loaded::Text(Box::new(text_plan(path)?)));
    }
    let desk = Desk::open(path)?;
    let snapshot = desk.snapshot();
    Ok(Loaded::Project(desk, snapshot))
}

/// Opens a project file; a text plan is told how to become one.
pub(crate) fn project(path: &Path) -> Result<Arc<Desk>, Trouble> {
    if is_text_plan(path) {
        let name = path.display();
        let message = format!(
            "{name}: this is a text plan, and here a project file is wanted. Make one of it: standfast new NAME.standfast --from {name}"
        );
        return Err(Trouble::input("text-plan", message));
    }
    Ok(Desk::open(path)?)
}

/// True for the name of a text plan and for that of its folder.
fn is_text_plan(path: &Path) -> bool {
    path.extension().is_some_and(|e| e.eq_ignore_ascii_case("toml")) || path.join(PLAN_TOML).is_file()
}

impl Loaded {
    /// The plan.
    pub(crate) fn plan(&self) -> &Plan {
        match self {
            Self::Project(_, snapshot) => &snapshot.plan,
            Self::Text(text) => &text.plan,
        }
    }

    /// Where its pictures are.
    pub(crate) fn source(&self) -> &dyn PictureSource {
        match self {
            Self::Project(desk, _) => desk.as_ref(),
            Self::Text(text) => text.as_ref(),
        }
    }

    /// The number of the last change; 0 for a text plan.
    pub(crate) fn change(&self) -> u64 {
        match self {
            Self::Project(_, snapshot) => snapshot.change,
            Self::Text(_) => 0,
        }
    }

    /// What its file has to say.
    pub(crate) fn notes(&self) -> &[String] {
        match self {
            Self::Project(_, snapshot) => &snapshot.notes,
            Self::Text(_) => &[],
        }
    }

    /// Closes the project file.
    pub(crate) fn close(self) -> Result<(), Trouble> {
        match self {
            Self::Project(desk, _) => Ok(desk.close()?),
            Self::Text(_) => Ok(()),
        }
    }
}

impl TextPlan {
    /// The plan, with the bytes of each of its pictures.
    pub(crate) fn into_parts(self) -> Result<(Plan, Vec<Vec<u8>>), Trouble> {
        let mut bytes = Vec::new();
        for picture in &self.plan.pictures {
            bytes.push(self.picture_bytes(&picture.sha256)?);
        }
        Ok((self.plan, bytes))
    }
}

impl PictureSource for TextPlan {
    fn picture_bytes(&self, sha256: &str) -> Result<Vec<u8>, DeskError> {
        let path = self.files.get(sha256).ok_or_else(|| {
            let what = sayings::say!(sayings::refusing::WHAT_HASH, hash = sha256);
            DeskError::missing(what, sayings::say!(sayings::refusing::MISSING_HASH))
        })?;
        files::read(path).map_err(|t| DeskError::TextPlan(t.message))
    }
}

/// Reads a text plan, by its name or that of its folder, with its stock list and pictures.
pub(crate) fn text_plan(path: &Path) -> Result<TextPlan, Trouble> {
    let within = path.join(PLAN_TOML);
    let path = if path.is_dir() { within.as_path() } else { path };
    let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
    let text = String::from_utf8(files::read(path)?).map_err(|_| {
        Trouble::input(
            "text-plan",
            format!("{}: this is not text in UTF-8. Save it as UTF-8.", path.display()),
        )
    })?;
    let list = folder.join("stock.csv");
    let stock = if list.exists() {
        stays_inside(&folder, &list, "stock list")?;
        Some(files::read(&list)?)
    } else {
        None
    };
    let mut found = BTreeMap::new();
    let mut trouble = None;
    let mut facts = |name: &str| match facts_in(&folder, name) {
        Ok(Some((path, facts))) => {
            let known = exchange::PictureFacts {
                sha256: facts.sha256.clone(),
                width: facts.width,
                height: facts.height,
            };
            found.insert(facts.sha256, path);
            Some(known)
        }
        Ok(None) => None,
        Err(t) => {
            trouble.get_or_insert(t);
            None
        }
    };
    let read = exchange::read_text_plan(&text, stock.as_deref(), &mut facts);
    if let Some(t) = trouble {
        return Err(t);
    }
    let plan = read.map_err(|e| Trouble::input("text-plan", format!("{}: {e}", path.display())))?;
    Ok(TextPlan { plan, files: found })
}

/// Facts of a picture beside a plan; `None` when there is none of that name. Links out of the folder are refused.
fn facts_in(folder: &Path, name: &str) -> Result<Option<(PathBuf, Picture)>, Trouble> {
    let path = folder.join(name);
    if !path.exists() {
        return Ok(None);
    }
    stays_inside(folder, &path, "picture")?;
    let facts = picture_facts(name, &files::read(&path)?)?;
    Ok(Some((path, facts)))
}

/// Refuses a file of a plan that is a link out of the plan's folder: a plan that somebody sent must not be able
/// to show what else lies on the disk.
fn stays_inside(folder: &Path, path: &Path, what: &str) -> Result<(), Trouble> {
    let base = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let inside = match (base.canonicalize(), path.canonicalize()) {
        (Ok(base), Ok(path)) => path.starts_with(base),
        _ => false,
    };
    if inside || !guards::Guard::PathInside.stands() {
        return Ok(());
    }
    let name = name_of(path);
    let message =
        format!("{name}: this leads out of the folder of the plan. Put the {what} beside plan.toml.");
    Err(Trouble::input("text-plan", message))
}

/// Reads a stock list; hands back the stock and what is to be said about the list.
pub(crate) fn stock_list(path: &Path) -> Result<(Stock, Vec<String>), Trouble> {
    let name = name_of(path);
    let bytes = files::read(path)?;
    let read =
        exchange::read_stock(&bytes, &name).map_err(|e| Trouble::input("stock-list", e.to_string()))?;
    Ok((exchange::to_stock(&read, None), read.notes))
}

/// What a plan keeps of a picture: its upright size and the hash of its bytes. Decodes it, so that it is one.
pub(crate) fn picture_facts(name: &str, bytes: &[u8]) -> Result<Picture, Trouble> {
    let decoded = colour::decode_picture(bytes, &desk::picture_limits())
        .map_err(|e| Trouble::input("picture", format!("{name}: {e}")))?;
    let (width, height) = (decoded.width(), decoded.height());
    Ok(Picture { id: PictureId(1), name: name.to_owned(), sha256: store::sha256_hex(bytes), width, height })
}

/// The bare file name for messages; "standard input" for `-`.
pub(crate) fn name_of(path: &Path) -> String {
    if path == Path::new("-") {
        return "standard input".into();
    }
    path.file_name().map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned())
}
