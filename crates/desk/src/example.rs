//! The example "From Spring to Sea", carried in the program so that it is there without a network.

use plan::{Command, Plan, Refusal};
use sayings::{doing, gate, say};

use crate::error::DeskError;
use crate::label::Label;
use crate::office::Desk;

/// An example: its plan and the bytes of its pictures, in the plan's order.
pub struct Example {
    /// The plan.
    pub plan: Plan,
    /// Bytes by picture.
    pub pictures: Vec<Vec<u8>>,
}

const PLAN: &str = include_str!("../../../examples/spring-to-sea/plan.toml");
const STOCK: &[u8] = include_bytes!("../../../examples/spring-to-sea/stock.csv");
const PICTURES: [(&str, &[u8]); 6] = [
    ("spring.png", include_bytes!("../../../examples/spring-to-sea/spring.png")),
    ("mill.png", include_bytes!("../../../examples/spring-to-sea/mill.png")),
    ("town.png", include_bytes!("../../../examples/spring-to-sea/town.png")),
    ("bridge.png", include_bytes!("../../../examples/spring-to-sea/bridge.png")),
    ("lighthouse.png", include_bytes!("../../../examples/spring-to-sea/lighthouse.png")),
    ("sail.png", include_bytes!("../../../examples/spring-to-sea/sail.png")),
];

/// The example, read through the same gate as any text plan.
pub fn example_plan() -> Result<Example, DeskError> {
    let bytes_of = |name: &str| PICTURES.iter().find(|(n, _)| *n == name).map(|p| p.1);
    let mut facts = |name: &str| {
        let bytes = bytes_of(name)?;
        let decoded = colour::decode_picture(bytes, &colour::PictureLimits::default()).ok()?;
        Some(exchange::PictureFacts {
            sha256: store::sha256_hex(bytes),
            width: decoded.width(),
            height: decoded.height(),
        })
    };
    let plan = exchange::read_text_plan(PLAN, Some(STOCK), &mut facts)
        .map_err(|e| DeskError::TextPlan(e.to_string()))?;
    let by_hash =
        |sha256: &str| PICTURES.iter().map(|p| p.1).find(|bytes| store::sha256_hex(bytes) == sha256);
    let pictures = plan.pictures.iter().filter_map(|p| by_hash(&p.sha256)).map(<[u8]>::to_vec).collect();
    Ok(Example { plan, pictures })
}

impl Desk {
    /// Puts the bytes of the example's pictures into the project, so that [`example_step`] can be taken; the plan does
    /// not change.
    ///
    /// # Errors
    /// When the disk does not take them.
    pub fn keep_example_pictures(&self) -> Result<(), DeskError> {
        PICTURES.iter().try_for_each(|(_, bytes)| self.keep_picture(bytes).map(drop))
    }
}

/// The step from a plan without items to the example, in place of everything that is in it.
///
/// # Errors
/// When the plan holds items: they would have to give way.
pub fn example_step(plan: &Plan) -> Result<(Label, Command), DeskError> {
    let wanted = example_plan()?.plan;
    if !plan.items.is_empty() {
        return Err(DeskError::Refused(Refusal::new(
            say!(gate::AT_EXAMPLE),
            say!(gate::EXAMPLE_ITEMS, n = plan.items.len()),
            say!(gate::EXAMPLE_PROBLEM),
            say!(gate::EXAMPLE_NEXT),
        )));
    }
    let label = say!(doing::EXAMPLE, name = &wanted.name).into();
    let mut steps: Vec<_> = plan.sections.iter().map(|s| Command::RemoveSection { id: s.id }).collect();
    steps.extend(plan.surfaces.iter().map(|s| Command::RemoveSurface { id: s.id }));
    steps.extend(plan.pictures.iter().map(|p| Command::RemovePicture { id: p.id }));
    steps.extend(wanted.commands());
    Ok((label, Command::Together { steps }))
}
