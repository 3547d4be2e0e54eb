//! Every file in `tests/files/wrong` holds one fault; the file beside it, the message for it.
//!
//! Run with `LONGLEAD_RENEW=1` to write the messages anew, then read what changed.

use std::fs;
use std::path::Path;

use super::support::{
    read_catalog, read_job, read_record, read_shop, small_catalog, text, toml_files,
};
use longlead::catalog::Catalog;

fn message(file: &Path, catalog: &Catalog) -> String {
    let name = file.file_name().unwrap().to_str().unwrap();
    let text = fs::read_to_string(file).unwrap();
    let refused = match name.split('-').next() {
        Some("job") => read_job(name, &text, catalog).err(),
        Some("shop") => read_shop(name, &text, catalog).err(),
        Some("record") => read_record(name, &text, catalog).err(),
        Some("catalog") => read_catalog(name, &text).err(),
        _ => panic!("`{name}` does not tell what it is"),
    };
    refused.unwrap_or_else(|| panic!("`{name}` is read without a word"))
}

#[test]
fn every_wrong_file_gets_its_message() {
    let catalog = small_catalog();
    let renew = std::env::var_os("LONGLEAD_RENEW").is_some();
    let mut differing = Vec::new();
    for file in toml_files("tests/files/wrong") {
        let message = message(&file, &catalog);
        let beside = file.with_extension("txt");
        if renew {
            fs::write(&beside, &message).unwrap();
        }
        let expected = fs::read_to_string(&beside).unwrap_or_default();
        if expected != message {
            let name = file.display();
            differing.push(format!("{name}\nexpected:\n{expected}\ngot:\n{message}"));
        }
    }
    assert!(differing.is_empty(), "{}", differing.join("\n"));
}

#[test]
fn one_fault_gives_one_message() {
    let catalog = small_catalog();
    for file in toml_files("tests/files/wrong") {
        let message = message(&file, &catalog);
        let one = message.ends_with("\n1 mistake found; nothing was written\n");
        assert!(one, "{}\n{message}", file.display());
    }
}

#[test]
fn the_smallest_right_files_are_read() {
    let catalog = small_catalog();
    let job = read_job("job.toml", &text("tests/files/valid/job.toml"), &catalog).unwrap();
    assert_eq!(job.leads.len(), 2);
    assert_eq!(job.states.len(), 1);
    let shop = read_shop("shop.toml", &text("tests/files/valid/shop.toml"), &catalog).unwrap();
    assert_eq!(shop.stock.len(), 1);
    let name_only = read_shop("shop.toml", "name = \"Example Workshop\"", &catalog).unwrap();
    assert_eq!(*name_only.labour_rate, longlead::quantity::Money::ZERO);
}
