//! Parts that the command line says are not to be had, or are preferred.

use super::arguments::Workshop;
use super::error::CommandError;
use crate::catalog::{Catalog, Part};
use crate::diagnostic::{Spanned, nearest};
use crate::shop::ShopFile;

/// The shop with the parts of `--without` and `--prefer` on its own lists.
pub fn marked(
    mut shop: ShopFile,
    workshop: &Workshop,
    catalog: &Catalog,
) -> Result<ShopFile, CommandError> {
    let Workshop {
        without, prefer, ..
    } = workshop;
    for id in without.iter().chain(prefer) {
        if catalog.part(id).is_none() {
            return Err(unknown(id, catalog));
        }
    }
    let named = |id: &String| Spanned {
        value: id.clone(),
        span: shop.span,
    };
    shop.unavailable.extend(without.iter().map(named));
    let gone = shop.unavailable.iter();
    if let Some(id) = prefer
        .iter()
        .find(|id| gone.clone().any(|part| part.value == **id))
    {
        return Err(CommandError::Usage(format!(
            "error: `{id}` is to be preferred, but is not to be had"
        )));
    }
    shop.preferred.retain(|part| !without.contains(&part.value));
    shop.preferred.extend(prefer.iter().map(named));
    Ok(shop)
}

/// The shop as its file has it, without the parts that [`marked`] put on its lists.
pub fn unmarked(mut shop: ShopFile, workshop: &Workshop) -> ShopFile {
    let Workshop {
        without, prefer, ..
    } = workshop;
    let own = |list: &mut Vec<Spanned<String>>, marks: &[String]| {
        list.truncate(list.len().saturating_sub(marks.len()));
    };
    own(&mut shop.unavailable, without);
    own(&mut shop.preferred, prefer);
    shop
}

fn unknown(id: &str, catalog: &Catalog) -> CommandError {
    let near = nearest(id, catalog.parts().map(Part::id));
    let help = match near {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`longlead parts search WORDS` finds ids of parts".to_owned(),
    };
    CommandError::Usage(format!("error: there is no part `{id}`\nhelp: {help}"))
}
