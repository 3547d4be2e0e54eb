//! A job with every size and device fixed to what was chosen for it.

use std::fs;
use std::path::{Path, PathBuf};

use longlead::catalog::Catalog;
use toml::{Table, Value};

use crate::workshop::{chosen, job, name, scratch};

/// Writes the job of a file with all choices made; nothing is left to choose in it.
pub fn fixed(file: &Path, catalog: &Catalog) -> PathBuf {
    let text = fs::read_to_string(file).unwrap();
    let job = job(&text, catalog);
    let (_, sized, protection) = chosen(&job, catalog);
    let mut table: Table = text.parse().unwrap();
    let leads = table["lead"].as_array_mut().unwrap();
    assert_eq!(leads.len(), sized.leads.len());
    for (lead, sized) in leads.iter_mut().zip(&sized.leads) {
        let lead = lead.as_table_mut().unwrap();
        let cable = catalog.cable(&sized.cable).unwrap();
        let mut fix = |key: &str, value: String| {
            lead.insert(key.to_owned(), Value::String(value));
        };
        fix("size", sized.size.to_string());
        fix("cable", cable.family.clone());
        if let Some(guard) = protection.guard(sized.lead) {
            fix("protect", guard.part.clone());
        }
    }
    let path = scratch().join(format!("{}-fixed.toml", name(file)));
    fs::write(&path, table.to_string()).unwrap();
    path
}
