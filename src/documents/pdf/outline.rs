//! The bookmarks that a reader program shows beside the pages.

use super::page::Bookmark;
use lopdf::{Bookmark as Entry, Document, Object};

const BLACK: [f32; 3] = [0.0; 3];
const UPRIGHT: u32 = 0;

/// Adds the headings to a file, each below the last one of a higher level.
pub(super) fn add(file: &mut Document, bookmarks: &[Bookmark]) -> Result<(), lopdf::Error> {
    let page_objects = file.get_pages();
    let mut open: Vec<(u8, u32)> = Vec::new();
    for bookmark in bookmarks {
        let Some(page) = page_objects.get(&(bookmark.page as u32 + 1)) else {
            continue;
        };
        open.retain(|(level, _)| *level < bookmark.level);
        let parent = open.last().map(|(_, id)| *id);
        let entry = Entry::new(bookmark.title.clone(), BLACK, UPRIGHT, *page);
        let id = file.add_bookmark(entry, parent);
        open.push((bookmark.level, id));
    }
    if let Some(outline) = file.build_outline() {
        let catalog = file.catalog_mut()?;
        catalog.set("Outlines", Object::Reference(outline));
        catalog.set("PageMode", Object::Name(b"UseOutlines".to_vec()));
    }
    Ok(())
}
