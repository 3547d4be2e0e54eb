//! `stock`: writes the shop file as it is once the job is built.

use super::arguments::StockOptions;
use super::check::outcome;
use super::error::CommandError;
use super::{Outcome, input, output};
use crate::plan::Extras;
use crate::purchase::{Leftover, stock_after};

/// Runs the command.
pub fn run(options: &StockOptions) -> Result<Outcome, CommandError> {
    let loaded = input::load(&options.files)?;
    let out = &options.out;
    if out.exists() && !options.replace {
        return Err(CommandError::Usage(format!(
            "error: `{}` is there already; nothing was written\n\
             help: name another file, or add --replace",
            out.display()
        )));
    }
    let plan = loaded.plan(Extras::NONE);
    let text = stock_after(&loaded.shop_text, &plan.purchase.stock)
        .map_err(|error| CommandError::Machine(format!("error: {error}")))?;
    output::write_new(out, text.as_bytes(), options.replace)?;
    let left = &plan.purchase.left;
    let pieces: u32 = left.iter().map(|row| row.pieces).sum();
    let offcuts: usize = left.iter().map(|row: &Leftover| row.offcuts.len()).sum();
    let told = format!(
        "{} holds the stock as it is when the job is built:\n\
         {pieces} spare pieces and {offcuts} offcuts of {} or more come in, what was used is gone.\n\
         Next job:  --shop {}\n",
        out.display(),
        loaded.job.units.shown(plan.purchase.keep_from),
        out.display()
    );
    output::print(told.as_bytes())?;
    Ok(outcome(plan.status()))
}
