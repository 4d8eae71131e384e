//! Books of offers: for each ordered pair of colours the cells that would change most cheaply from one to the other.

use std::{cmp::Reverse, collections::BinaryHeap};

/// A number whose order is that of the value, ties by cell.
fn pack(value: f32, cell: u32) -> u64 {
    let bits = value.to_bits();
    let ordered = if bits >> 31 == 1 { !bits } else { bits | 0x8000_0000 };
    u64::from(ordered) << 32 | u64::from(cell)
}

fn unpack(key: u64) -> (f32, u32) {
    let ordered = (key >> 32) as u32;
    let bits = if ordered >> 31 == 1 { ordered & 0x7fff_ffff } else { !ordered };
    (f32::from_bits(bits), key as u32)
}

/// The offers from one colour to another, cheapest first.
#[derive(Default)]
struct Book {
    offers: BinaryHeap<Reverse<u64>>,
    /// Offers from here on are refused; 0 stands for "none is".
    cut: u64,
}

/// All books. Values may be out of date: whoever takes an offer looks at the cell again.
pub(super) struct Books {
    colours: usize,
    books: Vec<Book>,
    /// The cheapest value of each book, infinite where it is empty; for a first glance.
    tops: Vec<f32>,
    cap: usize,
}

impl Books {
    /// Books for `cells` cells; each holds as many offers as a good part of the moves of a sweep may need.
    pub(super) fn new(colours: usize, cells: usize) -> Self {
        let cap = (cells / (8 * colours)).clamp(16, 4096);
        let books = (0..colours * colours).map(|_| Book::default()).collect();
        Self { colours, books, tops: vec![f32::INFINITY; colours * colours], cap }
    }

    fn place(&self, from: usize, to: usize) -> usize {
        // The books into one colour lie side by side: they are looked through together.
        to * self.colours + from
    }

    /// Throws all offers away.
    pub(super) fn clear(&mut self) {
        for book in &mut self.books {
            book.offers.clear();
            book.cut = 0;
        }
        self.tops.fill(f32::INFINITY);
    }

    /// The cheapest values of the books from every colour into `to`.
    pub(super) fn tops_into(&self, to: usize) -> &[f32] {
        &self.tops[to * self.colours..(to + 1) * self.colours]
    }

    /// Enters an offer, unless it is too dear for the book.
    pub(super) fn offer(&mut self, (from, to): (usize, usize), value: f32, cell: u32) {
        let place = self.place(from, to);
        let (book, key) = (&mut self.books[place], pack(value, cell));
        if book.cut != 0 && key >= book.cut {
            return;
        }
        book.offers.push(Reverse(key));
        if value < self.tops[place] {
            self.tops[place] = value;
        }
        if book.offers.len() > 2 * self.cap {
            let mut keys = std::mem::take(&mut book.offers).into_vec();
            let (_, &mut Reverse(limit), _) = keys.select_nth_unstable_by_key(self.cap, |key| key.0);
            keys.truncate(self.cap);
            book.cut = limit;
            book.offers = keys.into();
        }
    }

    /// Takes the cheapest offer out of a book.
    pub(super) fn take(&mut self, from: usize, to: usize) -> Option<(f32, u32)> {
        let place = self.place(from, to);
        let book = &mut self.books[place];
        let taken = book.offers.pop().map(|Reverse(key)| unpack(key));
        if book.offers.len() <= self.cap / 2 {
            book.cut = 0;
        }
        self.tops[place] = book.offers.peek().map_or(f32::INFINITY, |Reverse(key)| unpack(*key).0);
        taken
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn offers_come_out_by_value_and_then_by_cell() {
        let mut books = Books::new(2, 0);
        for (value, cell) in [(0.5, 1), (-3.0, 9), (-0.0, 2), (-3.0, 4), (7.5, 3)] {
            books.offer((0, 1), value, cell);
        }
        assert_eq!(books.tops_into(1)[0], -3.0);
        let order: Vec<u32> = std::iter::from_fn(|| books.take(0, 1)).map(|(_, cell)| cell).collect();
        assert_eq!(order, [4, 9, 2, 1, 3]);
    }

    #[test]
    fn a_full_book_keeps_its_cheapest_offers() {
        let mut books = Books::new(1, 0);
        for cell in 0..1000u32 {
            books.offer((0, 0), (cell * 7919 % 1000) as f32, cell);
        }
        let values: Vec<f32> = std::iter::from_fn(|| books.take(0, 0)).map(|(value, _)| value).collect();
        assert!(values.len() >= 16);
        assert_eq!(values[..16], std::array::from_fn::<f32, 16, _>(|i| i as f32));
    }
}
