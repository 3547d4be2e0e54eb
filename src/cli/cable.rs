//! `cable`: what a cable really is, from what was measured on an offcut.

use super::arguments::{CableOptions, FormName};
use super::error::CommandError;
use super::{Outcome, input, output};
use crate::cable_check::{Sample, Strands, check};
use crate::catalog::{Catalog, MeasuringRow, Setting};
use crate::diagnostic::nearest;
use crate::documents::{self, Form, Label};
use crate::quantity::{ConductorSize, Length, Mass, Quantity, Ratio, Resistance, Temperature};

/// Runs the command.
pub fn run(options: &CableOptions) -> Result<Outcome, CommandError> {
    let catalog = input::load_catalog(&options.catalog)?;
    let mut slips = Vec::new();
    let sample = sample(options, &catalog, &mut slips);
    let sold_as = read::<ConductorSize>("--sold-as", options.sold_as.as_deref(), &mut slips);
    let setting = setting(&options.setting, &mut slips);
    if !slips.is_empty() {
        return Err(CommandError::Usage(slips.join("\n\n")));
    }
    let verdict = match (sample, setting) {
        (Some(sample), Some(setting)) => check(&sample, sold_as, setting, &catalog),
        _ => None,
    };
    let verdict = verdict.ok_or_else(|| CommandError::Usage(NOTHING.to_owned()))?;
    let bytes = match options.form {
        FormName::Text => {
            let form = Form::Text {
                width: output::width(None),
                colour: output::colour(),
            };
            let label = Label::new("Cable check", "");
            documents::write("cable_check", "Cable check", &verdict, &[], &label, form)
                .map_err(|error| CommandError::Machine(format!("error: {error}")))?
        }
        FormName::Json => output::json(&verdict)?.into_bytes(),
        _ => {
            let told = "error: a cable check is printed as text or json".to_owned();
            return Err(CommandError::Usage(told));
        }
    };
    output::print(&bytes)?;
    Ok(Outcome::Done)
}

const NOTHING: &str = "error: nothing was measured\n\
    help: give at least one of --strands, --weight, --resistance and --diameter; two tell the metal, too\n\
    \x20     longlead cable --strands \"396 x 0.40 mm\" --weight 452g --length 1m";

/// Everything measured; `None` after a slip.
fn sample(options: &CableOptions, catalog: &Catalog, slips: &mut Vec<String>) -> Option<Sample> {
    let doubts = doubts(options, catalog, slips);
    let length = read::<Length>("--length", Some(&options.length), slips);
    if length.is_some_and(|length| length <= Length::ZERO) {
        slips.push("error: --length: no cable is that short".to_owned());
    }
    let temperature = read::<Temperature>("--temperature", Some(&options.temperature), slips);
    let strands = read::<Strands>("--strands", options.strands.as_deref(), slips);
    let weight = read::<Mass>("--weight", options.weight.as_deref(), slips);
    let resistance = read::<Resistance>("--resistance", options.resistance.as_deref(), slips);
    let diameter = read::<Length>("--diameter", options.diameter.as_deref(), slips);
    let empty = [
        (weight.is_some_and(|one| one <= Mass::ZERO), "--weight"),
        (
            resistance.is_some_and(|one| one <= Resistance::ZERO),
            "--resistance",
        ),
        (
            diameter.is_some_and(|one| one <= Length::ZERO),
            "--diameter",
        ),
    ];
    for (_, option) in empty.iter().filter(|(empty, _)| *empty) {
        slips.push(format!("error: {option}: it must be more than nothing"));
    }
    Some(Sample {
        strands,
        weight,
        resistance,
        length: length?,
        temperature: temperature?,
        diameter,
        doubts: doubts?,
    })
}

fn doubts(
    options: &CableOptions,
    catalog: &Catalog,
    slips: &mut Vec<String>,
) -> Option<MeasuringRow> {
    let mut row = catalog.measurings.first()?.clone();
    let mut percent = |option: &str, text: &Option<String>, into: &mut Ratio| {
        if let Some(value) = read::<Ratio>(option, text.as_deref(), slips) {
            *into = value;
        }
    };
    percent(
        "--diameter-doubt",
        &options.diameter_doubt,
        &mut row.diameter,
    );
    percent("--weight-doubt", &options.weight_doubt, &mut row.weight);
    percent("--length-doubt", &options.length_doubt, &mut row.length);
    percent(
        "--resistance-doubt",
        &options.resistance_doubt,
        &mut row.resistance,
    );
    if let Some(value) = read::<Length>("--strand-doubt", options.strand_doubt.as_deref(), slips) {
        row.strand = value;
    }
    Some(row)
}

/// Reads a quantity that a person wrote, or says what was expected.
fn read<T: Quantity>(option: &str, text: Option<&str>, slips: &mut Vec<String>) -> Option<T> {
    match T::parse(text?) {
        Ok(value) => Some(value),
        Err(error) => {
            slips.push(format!(
                "error: {option} \"{}\" is not {}: {error}\n  = help: write it as {}",
                text.unwrap_or_default(),
                T::NAME,
                T::EXAMPLES
            ));
            None
        }
    }
}

fn setting(text: &str, slips: &mut Vec<String>) -> Option<Setting> {
    let settings = [
        Setting::RoadVehicle,
        Setting::SmallCraft,
        Setting::Competition,
    ];
    let found = settings
        .into_iter()
        .find(|setting| setting.as_str() == text);
    if found.is_none() {
        let words = || Setting::WORDS.iter().map(|(word, _)| *word);
        let near = nearest(text, words())
            .map_or_else(String::new, |word| format!("did you mean `{word}`? "));
        let known = words().collect::<Vec<_>>().join(", ");
        slips.push(format!(
            "error: --setting \"{text}\" is not a setting\n  = help: {near}The words are: {known}"
        ));
    }
    found
}
