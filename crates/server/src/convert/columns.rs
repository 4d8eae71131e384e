//! Large answers as columns, little end first. Every column starts at a multiple of its own type's size, so that a
//! browser can lay typed arrays over it. Pieces are numbered over all items: items in order of id, pieces in order
//! within the item.

use desk::{FallAt, Scene, TouchAt};
use placement::{Placed, Pose};

const HEADER: usize = 16;

fn begin(magic: [u8; 4], change: u64, numbers: [u32; 2], room: usize) -> Vec<u8> {
    let mut out = Vec::with_capacity(HEADER + room);
    out.extend(magic);
    out.extend(u32::try_from(change).unwrap_or(u32::MAX).to_le_bytes());
    numbers.iter().for_each(|n| out.extend(n.to_le_bytes()));
    out
}

fn put<const N: usize>(out: &mut Vec<u8>, values: impl Iterator<Item = [u8; N]>) {
    values.for_each(|bytes| out.extend(bytes));
}

/// `GET /api/hall/pieces`: all pieces, where they stand.
///
/// | at | what | type |
/// |---|---|---|
/// | 0 | `HAL1` | 4 bytes |
/// | 4 | the change of the plan | u32 |
/// | 8 | n, the number of pieces; k, the number of items | u32 each |
/// | 16 | item id, number of its first piece | k x (u32, u32) |
/// | 16 + 8 k | x, then y, z and yaw of the centres | n x f32 each, mm and radians |
/// | 16 + 8 k + 16 n | colour, then kind | n x u16 each |
/// | 16 + 8 k + 20 n | pose | n x u8: 0 on end, 1 on edge, 2 flat |
pub(crate) fn pieces(scene: &Scene) -> Vec<u8> {
    let items: Vec<&Placed> = scene.placement.items().iter().collect();
    pieces_of(scene.snapshot.change, &items)
}

/// The pieces of some items alone, as those of all of them.
pub(crate) fn pieces_of(change: u64, items: &[&Placed]) -> Vec<u8> {
    let n: usize = items.iter().map(|placed| placed.pieces.len()).sum();
    let counts = [n as u32, items.len() as u32];
    let mut out = begin(*b"HAL1", change, counts, 8 * items.len() + 21 * n);
    let mut first = 0u32;
    for placed in items {
        out.extend(placed.item.0.to_le_bytes());
        out.extend(first.to_le_bytes());
        first += placed.pieces.len() as u32;
    }
    let all = || items.iter().map(|placed| &*placed.pieces);
    put(&mut out, all().flat_map(|p| &p.x).map(|v| (*v as f32).to_le_bytes()));
    put(&mut out, all().flat_map(|p| &p.y).map(|v| (*v as f32).to_le_bytes()));
    put(&mut out, all().flat_map(|p| &p.z).map(|v| v.to_le_bytes()));
    put(&mut out, all().flat_map(|p| &p.yaw).map(|v| v.to_le_bytes()));
    put(&mut out, all().flat_map(|p| &p.colour).map(|v| v.to_le_bytes()));
    put(&mut out, all().flat_map(|p| &p.kind).map(|v| v.to_le_bytes()));
    put(&mut out, all().flat_map(|p| &p.pose).map(|&v: &Pose| [v as u8]));
    out
}

/// `GET /api/fall/times`: when each piece is hit, by which one, and which way it falls.
///
/// | at | what | type |
/// |---|---|---|
/// | 0 | `FAL1` | 4 bytes |
/// | 4 | the change of the plan | u32 |
/// | 8 | n, the number of pieces; the last hit, µs | u32 each |
/// | 16 | hit, µs after the first push, 4294967294 (71 minutes) for later ones; 4294967295 when it stands | n x u32 |
/// | 16 + 4 n | the piece that hits it; 4294967295 when it is pushed or stands | n x u32 |
/// | 16 + 8 n | way: 0 forward, 1 back | n x u8 |
pub(crate) fn times(at: &FallAt) -> Vec<u8> {
    let fall = &at.fall;
    let n = fall.hit_us.len();
    let short =
        |us: u64| if us == fall::STANDS_US { u32::MAX } else { us.min(u64::from(u32::MAX - 1)) as u32 };
    let mut out = begin(*b"FAL1", at.woven.scene.snapshot.change, [n as u32, short(fall.last_us)], 9 * n);
    put(&mut out, fall.hit_us.iter().map(|&v| short(v).to_le_bytes()));
    put(&mut out, fall.from.iter().map(|v| v.to_le_bytes()));
    out.extend(&fall.way);
    out
}

/// `GET /api/touch`: how many pieces a touch of each piece takes, itself included; 0 for what does not stand.
///
/// | at | what | type |
/// |---|---|---|
/// | 0 | `TCH1` | 4 bytes |
/// | 4 | the change of the plan | u32 |
/// | 8 | n, the number of pieces; 1 when all counts are exact | u32 each |
/// | 16 | forward, then back, then at the most | n x u32 each |
pub(crate) fn touch(at: &TouchAt) -> Vec<u8> {
    let map = &at.map;
    let n = map.forward.len();
    let numbers = [n as u32, u32::from(map.exact)];
    let mut out = begin(*b"TCH1", at.woven.scene.snapshot.change, numbers, 12 * n);
    for column in [&map.forward, &map.back, &map.most] {
        put(&mut out, column.iter().map(|v| v.to_le_bytes()));
    }
    out
}
