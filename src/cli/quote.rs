//! What a quote is given on the command line.

use super::arguments::QuoteOptions;
use super::error::CommandError;
use crate::quote::{NumberError, Request, number};

impl QuoteOptions {
    /// Number and date.
    pub fn request(&self) -> Result<Request, CommandError> {
        let pattern = self.number.as_deref();
        let number = pattern.map(|pattern| number(pattern, self.date)).transpose();
        let number = number.map_err(|error| {
            let why = match error {
                NumberError::NoDate => "it asks for parts of a date; add --date YEAR-MONTH-DAY",
                NumberError::UnknownPart => "in braces it takes {year}, {month} and {day}",
            };
            CommandError::Usage(format!("error: the number of the quote cannot be made: {why}"))
        })?;
        Ok(Request {
            number,
            date: self.date,
        })
    }
}
