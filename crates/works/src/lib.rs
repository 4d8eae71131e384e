//! The work of building: safety gaps, whether they hold, and the order in which they are closed.
