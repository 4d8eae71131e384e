//! How far two pieces may be turned against each other for one to fell the other: one rule for the fall and for what is said.

/// Beyond this turn a piece mostly stands, degrees: square ones were blocks in 64 of 66 runs (own runs of rigid bodies,
/// `edge_scan.csv`).
pub(crate) const MOST_TURNED: f64 = 60.5;
/// Its cosine.
const COSINE: f64 = 0.492_424;

/// Whether pieces whose headings have this cosine between them face each other enough for one to fell the other, either way.
pub fn faces(cosine: f64) -> bool {
    cosine.abs() > COSINE
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cosine_is_that_of_the_turn() {
        assert!((units::Angle::deg(MOST_TURNED).sin_cos().1 - COSINE).abs() < 1e-6);
    }
}
