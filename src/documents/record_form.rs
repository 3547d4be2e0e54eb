//! A record file to be filled in: every reading of the sheet, with what it should show beside it.

use std::fmt::Write;

use super::escape::clean;
use super::json::quoted;
use super::view::{PlanView, ReadingRowView};

const HEAD: &str = r##"#
# What was really cut, bought and measured. Keep it beside the job file, and give it away with the
# vehicle. Lines that start with # are notes and change nothing; `longlead reference record` explains
# every key.

# vehicle = "a plate, a hull number"
# built_by = "who did the work"
# built_on = "2026-05-02"
# note = ["what else the next owner should know"]

# How far your meter may be off, and the smallest step that it shows in its finest range.
meter_error = "0.5 %"
meter_step = "0.1 mV"

# A cable that was cut to another length than planned, and a part that was bought in the place of
# a planned one:
#
# [[cut]]
# lead = "name of the lead"
# cable = 1
# length = "1.35 m"
#
# [[bought]]
# planned = "id of the planned part"
# bought = "what was bought"
# supplier = "from whom"
# paid = "12.50"

# One [[day]] for each day of readings; copy it for the next. Write "52.3 mV" or "12.63 V" between
# the quotes after `reads`; what is not taken stays empty. Crimps are only read where the cable
# between them is out of its band.
[[day]]
date = "YEAR-MONTH-DAY"
"##;

/// The text of a record file in which nothing is filled in.
pub fn blank(view: &PlanView) -> String {
    let mut text = format!("# Record: {}\n{HEAD}", clean(&view.title));
    let Some(sheet) = &view.readings else {
        return text;
    };
    // Writing to a text cannot fail.
    let _ = writeln!(text, "air = \"{:.0} C\"", sheet.air_c);
    for state in &sheet.states {
        let _ = writeln!(
            text,
            "\n# {}\n[[day.state]]\nname = {}\nreading = [",
            clean(&state.told),
            quoted(&state.name)
        );
        for row in state.rows.iter().chain(&state.crimps) {
            line(&mut text, row);
        }
        text.push_str("]\n");
    }
    text
}

fn line(text: &mut String, view: &ReadingRowView) {
    let row = &view.row;
    let (red, black) = (clean(&row.red), clean(&row.black));
    let _ = writeln!(
        text,
        "    # {}; {} to {}; red on {red}, black on {black}\n    {{ point = {}, reads = \"\" }},",
        view.shows,
        view.least,
        view.most,
        quoted(&row.point)
    );
}
