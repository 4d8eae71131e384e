//! Counts the memory that a thread takes, so that a trial can say when an input takes too much.

#![allow(unsafe_code, reason = "an allocator is unsafe by its interface; this one only counts and hands on")]

use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;

thread_local! {
    static NOW: Cell<i64> = const { Cell::new(0) };
    static MOST: Cell<i64> = const { Cell::new(0) };
}

/// The usual allocator, counting. A program that wants to count makes it its global one.
#[derive(Debug)]
pub struct Counting;

fn count(bytes: i64) {
    // While a thread ends there is nothing to count in.
    let _ = NOW.try_with(|now| {
        now.set(now.get() + bytes);
        MOST.with(|most| most.set(most.get().max(now.get())));
    });
}

// SAFETY: every call is handed on unchanged to the system's allocator; counting touches plain cells only.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        count(layout.size() as i64);
        // SAFETY: as the caller promised.
        unsafe { System.alloc(layout) }
    }

    unsafe fn dealloc(&self, at: *mut u8, layout: Layout) {
        count(-(layout.size() as i64));
        // SAFETY: as the caller promised.
        unsafe { System.dealloc(at, layout) }
    }

    unsafe fn alloc_zeroed(&self, layout: Layout) -> *mut u8 {
        count(layout.size() as i64);
        // SAFETY: as the caller promised.
        unsafe { System.alloc_zeroed(layout) }
    }
}

/// The most bytes that `work` had on this thread at one time; 0 unless [`Counting`] is the global allocator.
pub fn most_of(work: impl FnOnce()) -> u64 {
    let before = NOW.with(Cell::get);
    MOST.with(|most| most.set(before));
    work();
    (MOST.with(Cell::get) - before).max(0) as u64
}
