//! Source pictures laid onto the cells of fields, each decoded once.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex};

use colour::{CellGrid, Cells, CropRect, Fit, Flow, PictureLimits};
use guards::Guard;
use plan::{Field, Picture, PictureFit, PictureId, PictureUse, Plan};
use sayings::{Said, doing, refusing, say};

use crate::error::DeskError;
use crate::matching::FreshPicture;
use crate::office::{Author, Desk, Receipt, Request};

/// Where the bytes of source pictures come from.
pub trait PictureSource: Sync {
    /// The bytes with this SHA-256 in lower-case hex.
    fn picture_bytes(&self, sha256: &str) -> Result<Vec<u8>, DeskError>;
}

/// Pictures already laid onto cells, newest last. Shared by all who look at the same plan.
#[derive(Default)]
pub struct PictureBank {
    kept: Mutex<VecDeque<(String, Arc<Cells>)>>,
    /// The picture that was decoded last, by its SHA-256: whoever draws one tries it at several sizes and contrasts.
    last: Mutex<Option<(String, Arc<colour::Picture>)>>,
}

/// Laid pictures that are kept; one of 1 000 000 cells is 13 MB.
const KEPT: usize = 48;
/// Pixels of a decoded picture that is kept, at most; 40 million are 120 to 320 MB.
const KEPT_PIXELS: u64 = 40_000_000;

/// How large a picture may be that comes from outside: the usual limits, judged on what the file declares
/// before any pixel is decoded. Every reader of pictures asks here, so that the guard has one place.
pub fn picture_limits() -> PictureLimits {
    let usual = PictureLimits::default();
    if Guard::PictureSizeFirst.stands() {
        return usual;
    }
    PictureLimits { max_pixels: u64::MAX, max_side: u32::MAX, ..usual }
}

impl PictureBank {
    /// A bank without pictures.
    pub fn new() -> Self {
        Self::default()
    }

    /// What each cell of a field should show, in picture order; `None` when the field has no picture.
    ///
    /// `go_on` is told the share that is done and answers whether to go on.
    pub fn wanted(
        &self,
        plan: &Plan,
        field: &Field,
        source: &dyn PictureSource,
        go_on: &(dyn Fn(f32) -> bool + Sync),
    ) -> Result<Option<Arc<Cells>>, DeskError> {
        let (columns, rows) = field.frame.map().picture_size();
        self.laid(plan, field, (columns, rows), source, go_on)
    }

    /// The picture of a field laid onto `size` equal cells over the field's extent, whatever its own grid is.
    pub(crate) fn laid(
        &self,
        plan: &Plan,
        field: &Field,
        size: (u32, u32),
        source: &dyn PictureSource,
        go_on: &(dyn Fn(f32) -> bool + Sync),
    ) -> Result<Option<Arc<Cells>>, DeskError> {
        let Some((picture, usage)) = chosen(plan, field) else { return Ok(None) };
        self.on(picture, &grid(field, usage, size), source, go_on).map(Some)
    }

    /// The whole picture of a field, uncut and with its own contrast, its longer side `longest` cells.
    pub(crate) fn whole(
        &self,
        plan: &Plan,
        field: &Field,
        longest: u32,
        source: &dyn PictureSource,
    ) -> Result<Option<Arc<Cells>>, DeskError> {
        let Some((picture, _)) = chosen(plan, field) else { return Ok(None) };
        let scale = f64::from(longest) / f64::from(picture.width.max(picture.height).max(1));
        let side = |pixels: u32| ((f64::from(pixels) * scale).round() as u32).max(1);
        let grid = CellGrid {
            fit: Fit::Stretch,
            ..CellGrid::new(side(picture.width), side(picture.height), 1.0, 1.0)
        };
        self.on(picture, &grid, source, &|_| true).map(Some)
    }

    fn on(
        &self,
        picture: &Picture,
        grid: &CellGrid,
        source: &dyn PictureSource,
        go_on: &(dyn Fn(f32) -> bool + Sync),
    ) -> Result<Arc<Cells>, DeskError> {
        let key = format!("{} {grid:?}", picture.sha256);
        if let Some(cells) = self.find(&key) {
            return Ok(cells);
        }
        let decoded = self.decoded(picture, source)?;
        let cells = colour::to_cells(&decoded, grid, &mut |p| {
            if go_on(p.done as f32) { Flow::Go } else { Flow::Stop }
        })
        .map_err(|e| match e {
            colour::GridError::Stopped => DeskError::Stopped,
            e => DeskError::no_match(say!(refusing::PICTURE, name = &picture.name, why = e.said())),
        })?;
        let cells = Arc::new(cells);
        self.keep(key, Arc::clone(&cells));
        Ok(cells)
    }

    /// Upright width and height in pixels of the picture with this SHA-256.
    pub(crate) fn size_of(
        &self,
        name: &str,
        sha256: &str,
        source: &dyn PictureSource,
    ) -> Result<(u32, u32), DeskError> {
        let (name, sha256) = (name.to_owned(), sha256.to_owned());
        let asked = Picture { id: plan::PictureId(0), name, sha256, width: 0, height: 0 };
        let decoded = self.decoded(&asked, source)?;
        Ok((decoded.width(), decoded.height()))
    }

    fn decoded(
        &self,
        picture: &Picture,
        source: &dyn PictureSource,
    ) -> Result<Arc<colour::Picture>, DeskError> {
        if let Some((sha256, last)) = &*self.last.lock().unwrap_or_else(|e| e.into_inner())
            && *sha256 == picture.sha256
        {
            return Ok(Arc::clone(last));
        }
        let bytes = source.picture_bytes(&picture.sha256)?;
        let error = |error| DeskError::Picture { name: picture.name.clone(), error };
        let decoded = Arc::new(colour::decode_picture(&bytes, &picture_limits()).map_err(error)?);
        self.keep_decoded(&picture.sha256, &decoded);
        Ok(decoded)
    }

    /// Keeps a decoded picture in place of the last one, unless it is a very large one.
    pub(crate) fn keep_decoded(&self, sha256: &str, decoded: &Arc<colour::Picture>) {
        let small = u64::from(decoded.width()) * u64::from(decoded.height()) <= KEPT_PIXELS;
        *self.last.lock().unwrap_or_else(|e| e.into_inner()) =
            small.then(|| (sha256.to_owned(), Arc::clone(decoded)));
    }

    fn find(&self, key: &str) -> Option<Arc<Cells>> {
        let mut kept = self.kept.lock().unwrap_or_else(|e| e.into_inner());
        let at = kept.iter().position(|(k, _)| k == key)?;
        let hit = kept.remove(at)?;
        let cells = Arc::clone(&hit.1);
        kept.push_back(hit);
        Some(cells)
    }

    fn keep(&self, key: String, cells: Arc<Cells>) {
        let mut kept = self.kept.lock().unwrap_or_else(|e| e.into_inner());
        kept.push_back((key, cells));
        while kept.len() > KEPT {
            kept.pop_front();
        }
    }
}

fn chosen<'a>(plan: &'a Plan, field: &'a Field) -> Option<(&'a Picture, &'a PictureUse)> {
    let usage = field.picture.as_ref()?;
    Some((plan.picture(usage.picture)?, usage))
}

fn grid(field: &Field, usage: &PictureUse, (columns, rows): (u32, u32)) -> CellGrid {
    let (w, h) = field.frame.cell_size();
    let (own_columns, own_rows) = field.frame.map().picture_size();
    let crop = |c: &plan::Crop| CropRect { left: c.left, top: c.top, right: c.right, bottom: c.bottom };
    CellGrid {
        crop: usage.crop.as_ref().map(crop),
        fit: match usage.fit {
            PictureFit::Fill => Fit::Fill,
            PictureFit::Within => Fit::Within,
            PictureFit::Stretch => Fit::Stretch,
        },
        contrast: usage.contrast as f32,
        ..CellGrid::new(
            columns,
            rows,
            w * f64::from(own_columns) / f64::from(columns),
            h * f64::from(own_rows) / f64::from(rows),
        )
    }
}

impl Desk {
    /// Puts a picture into the project. Hands back its id, its size and what was done to it.
    pub fn add_picture(&self, who: &Author, name: &str, bytes: &[u8]) -> Result<AddedPicture, DeskError> {
        let (fresh, notes) = self.keep_fresh(name, bytes)?;
        let (width, height) = (fresh.width, fresh.height);
        let label = say!(doing::PICTURE_ADD, name = &fresh.name).into();
        let draft = move |plan: &Plan| Ok((label, fresh.step(plan).0));
        let receipt = self.submit(who, Request::Change(Box::new(draft)))?;
        let picture = PictureId(receipt.added.unwrap_or_default());
        Ok(AddedPicture { picture, width, height, notes, receipt })
    }

    /// Puts a picture into the project that a change to come will show. Hands it back with what was done to it; the plan
    /// does not change.
    pub fn keep_fresh(&self, name: &str, bytes: &[u8]) -> Result<(FreshPicture, Vec<Said>), DeskError> {
        let error = |error| DeskError::Picture { name: name.to_owned(), error };
        let decoded = Arc::new(colour::decode_picture(bytes, &picture_limits()).map_err(error)?);
        let (width, height) = (decoded.width(), decoded.height());
        let notes = decoded.notes().iter().map(|note| note.said()).collect();
        let sha256 = self.keep_picture(bytes)?;
        self.bank.keep_decoded(&sha256, &decoded);
        Ok((FreshPicture { name: bare_name(name), sha256, width, height }, notes))
    }

    /// A picture whose bytes were put into the project before, under this name.
    pub fn fresh(&self, name: &str, sha256: &str) -> Result<FreshPicture, DeskError> {
        let (width, height) = self.bank.size_of(name, sha256, self)?;
        Ok(FreshPicture { name: bare_name(name), sha256: sha256.to_owned(), width, height })
    }

    /// Puts the bytes of a picture into the project and hands back their SHA-256; the plan does not change.
    pub fn keep_picture(&self, bytes: &[u8]) -> Result<String, DeskError> {
        self.with_store(|store| Ok(store.put_picture(bytes)?))
    }
}

impl PictureSource for Desk {
    fn picture_bytes(&self, sha256: &str) -> Result<Vec<u8>, DeskError> {
        self.with_store(|store| Ok(store.picture(sha256)?))
    }
}

/// A picture that was put into the project.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AddedPicture {
    /// Its id.
    pub picture: PictureId,
    /// Upright width in pixels.
    pub width: u32,
    /// Upright height in pixels.
    pub height: u32,
    /// What was done to it.
    pub notes: Vec<Said>,
    /// The change that put it there.
    pub receipt: Receipt,
}

/// A picture's file name without the folders that some browsers and all command lines give.
fn bare_name(name: &str) -> String {
    let bare = name.rsplit(['/', '\\']).next().unwrap_or(name).trim();
    let clean: String = bare.chars().filter(|c| !c.is_control()).take(200).collect();
    if clean.is_empty() || clean == "." || clean == ".." { "picture".into() } else { clean }
}
