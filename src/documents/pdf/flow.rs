//! Fills pages with pieces.
//!
//! A piece is what stays together: a paragraph, a table row, a caution. Only a
//! piece taller than a whole page is ever split.

use super::page::{Bookmark, Item};
use std::rc::Rc;

/// Sums of heights differ in the last digit with the order of adding.
const ROUNDING: f32 = 0.01;

/// Marks that stay together, placed relative to the top of the piece.
#[derive(Debug, Clone, Default)]
pub(super) struct Piece {
    pub(super) items: Vec<Item>,
    pub(super) height: f32,
    /// Room above, which is left out at the top of a page.
    pub(super) gap: f32,
    /// Must not be the last on its page, as a heading must not.
    pub(super) stays_with_next: bool,
    pub(super) starts_page: bool,
    /// The head of the table this row belongs to. It is printed again when the
    /// row is the first on its page.
    pub(super) head: Option<Rc<Piece>>,
    /// The level and the words of a heading.
    pub(super) heading: Option<(u8, String)>,
}

impl Piece {
    /// One piece of several, one below the other, without the first gap.
    pub(super) fn stack(pieces: Vec<Piece>) -> Piece {
        let mut whole = Piece::default();
        for piece in pieces {
            if !whole.items.is_empty() {
                whole.height += piece.gap;
            }
            let down = whole.height;
            whole
                .items
                .extend(piece.items.into_iter().map(|item| item.moved(0.0, down)));
            whole.height += piece.height;
        }
        whole
    }

    /// The lowest cut above `limit` that goes through no text.
    fn cut_above(&self, limit: f32) -> Option<f32> {
        let is_text = |item: &&Item| item.mark.is_read();
        let goes_through_text = |cut: f32| {
            let hits =
                |item: &Item| item.area.top < cut - ROUNDING && item.area.bottom() > cut + ROUNDING;
            self.items.iter().filter(is_text).any(hits)
        };
        self.items
            .iter()
            .filter(is_text)
            .map(|item| item.area.bottom())
            .filter(|cut| *cut <= limit && !goes_through_text(*cut))
            .max_by(f32::total_cmp)
    }

    /// The parts above and below a cut; backgrounds are parted as well.
    fn split(self, cut: f32) -> (Piece, Piece) {
        let mut above = Piece {
            height: cut,
            ..self.without_items()
        };
        let mut below = Piece {
            height: self.height - cut,
            heading: None,
            ..self.without_items()
        };
        for item in self.items {
            let (top, bottom) = (item.area.top, item.area.bottom());
            if bottom <= cut + ROUNDING {
                above.items.push(item);
            } else if top >= cut - ROUNDING {
                below.items.push(item.moved(0.0, -cut));
            } else {
                let mut upper = item.clone();
                upper.area.height = cut - top;
                above.items.push(upper);
                let mut lower = item;
                lower.area.top = 0.0;
                lower.area.height = bottom - cut;
                below.items.push(lower);
            }
        }
        (above, below)
    }

    fn without_items(&self) -> Piece {
        Piece {
            items: Vec::new(),
            height: 0.0,
            gap: self.gap,
            stays_with_next: self.stays_with_next,
            starts_page: false,
            head: self.head.clone(),
            heading: self.heading.clone(),
        }
    }
}

/// Places pieces on pages of a given height, the first of which begins so much higher up. The items
/// come back relative to the top left corner of the area that is filled on the other pages; there is
/// at least one page.
pub(super) fn fill_pages(
    pieces: Vec<Piece>,
    height: f32,
    first_higher: f32,
) -> (Vec<Vec<Item>>, Vec<Bookmark>) {
    let mut filler = Filler {
        height,
        pages: vec![Vec::new()],
        top: -first_higher,
        used: -first_higher,
        bookmarks: Vec::new(),
    };
    let needed: Vec<f32> = (0..pieces.len())
        .map(|index| needed_at(&pieces, index))
        .collect();
    let mut bound_to_previous = false;
    for (piece, needed) in pieces.into_iter().zip(needed) {
        let stays_with_next = piece.stays_with_next;
        let fits = filler.used + needed <= height + ROUNDING;
        let wants_page = piece.starts_page || (!fits && !bound_to_previous);
        if wants_page && !filler.at_top() {
            filler.turn_page();
        }
        filler.place(piece);
        bound_to_previous = stays_with_next;
    }
    (filler.pages, filler.bookmarks)
}

/// The height taken by a piece and those that must follow it on its page.
fn needed_at(pieces: &[Piece], index: usize) -> f32 {
    let mut needed = 0.0;
    let mut following = pieces[index..].iter().peekable();
    while let Some(piece) = following.next() {
        needed += piece.gap + piece.height;
        let parted = following.peek().is_none_or(|next| next.starts_page);
        if parted || !piece.stays_with_next {
            break;
        }
    }
    needed
}

struct Filler {
    height: f32,
    pages: Vec<Vec<Item>>,
    /// Where the current page begins.
    top: f32,
    /// How far the current page is filled.
    used: f32,
    bookmarks: Vec<Bookmark>,
}

impl Filler {
    fn at_top(&self) -> bool {
        self.used == self.top
    }

    fn turn_page(&mut self) {
        self.pages.push(Vec::new());
        self.top = 0.0;
        self.used = self.top;
    }

    fn place(&mut self, mut piece: Piece) {
        loop {
            if self.at_top() {
                piece.gap = 0.0;
                if let Some(head) = piece.head.clone() {
                    self.put(head.items.clone(), head.height);
                }
            }
            let room = self.height - self.used - piece.gap;
            if piece.height <= room + ROUNDING {
                break;
            }
            match piece.cut_above(room) {
                Some(cut) => {
                    let (above, below) = piece.split(cut);
                    self.put_piece(above);
                    piece = below;
                }
                // Not even a line fits on an empty page, so none ever will.
                None if self.used - self.top
                    <= piece.head.as_ref().map_or(0.0, |head| head.height) =>
                {
                    break;
                }
                None => {}
            }
            self.turn_page();
        }
        self.put_piece(piece);
    }

    fn put_piece(&mut self, piece: Piece) {
        self.used += piece.gap;
        if let Some((level, title)) = piece.heading {
            let page = self.pages.len() - 1;
            self.bookmarks.push(Bookmark { title, level, page });
        }
        self.put(piece.items, piece.height);
    }

    fn put(&mut self, items: Vec<Item>, height: f32) {
        let down = self.used;
        if let Some(page) = self.pages.last_mut() {
            page.extend(items.into_iter().map(|item| item.moved(0.0, down)));
        }
        self.used += height;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::documents::pdf::page::Mark;
    use crate::documents::pdf::page::{Area, Ink};

    fn item(top: f32, height: f32, mark: Mark) -> Item {
        let area = Area {
            left: 0.0,
            top,
            width: 9.0,
            height,
        };
        Item { area, mark }
    }

    /// A tick box beside the first of two lines, on a background.
    fn two_lines() -> Piece {
        let line = Mark::TickBox { ticked: true };
        let tick_box = Mark::TickBox { ticked: false };
        Piece {
            items: vec![
                item(0.0, 26.0, Mark::Fill(Ink::Band)),
                item(2.0, 9.0, tick_box),
                item(0.0, 13.0, line.clone()),
                item(13.0, 13.0, line),
            ],
            height: 26.0,
            ..Piece::default()
        }
    }

    #[test]
    fn a_cut_goes_between_lines_only() {
        assert_eq!(two_lines().cut_above(12.0), None);
        assert_eq!(two_lines().cut_above(14.0), Some(13.0));
    }

    #[test]
    fn a_split_parts_the_background_and_nothing_else() {
        let (above, below) = two_lines().split(13.0);
        assert_eq!((above.items.len(), below.items.len()), (3, 2));
        assert_eq!((above.height, below.height), (13.0, 13.0));
        assert_eq!(above.items[0].area.height, 13.0);
        assert_eq!(below.items[0].area.height, 13.0);
        assert_eq!(below.items[1].area.top, 0.0);
    }

    #[test]
    fn pieces_bound_together_share_a_page() {
        let piece = |height: f32, stays_with_next: bool| Piece {
            items: vec![item(0.0, height, Mark::Fill(Ink::Band))],
            height,
            stays_with_next,
            ..Piece::default()
        };
        let pieces = vec![piece(60.0, false), piece(20.0, true), piece(30.0, false)];
        let (pages, _) = fill_pages(pieces, 100.0, 0.0);
        let counts: Vec<usize> = pages.iter().map(Vec::len).collect();
        assert_eq!(counts, [1, 2]);
    }
}
