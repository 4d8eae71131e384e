//! Ctrl-C: long work is asked to end; a second one ends the program at once.

use std::sync::atomic::{AtomicBool, Ordering};

static PRESSED: AtomicBool = AtomicBool::new(false);

/// Hears Ctrl-C from now on.
pub(crate) fn listen() {
    let heard = ctrlc::set_handler(|| {
        if PRESSED.swap(true, Ordering::Relaxed) {
            // Files are written beside their place and moved there whole, so leaving now loses only the work.
            std::process::exit(130);
        }
    });
    // Without the handler Ctrl-C ends the program at once, which is safe for the same reason.
    drop(heard);
}

/// Whether Ctrl-C was pressed.
pub(crate) fn pressed() -> bool {
    PRESSED.load(Ordering::Relaxed)
}
