//! The example "From Spring to Sea", carried in the program so that it is there without a network.

use plan::Plan;

use crate::error::DeskError;

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
