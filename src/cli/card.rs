//! `barrelhead card`.

use crate::paper::card::measuring_card;
use crate::write::pdf::pdf;

use super::Said;
use super::arguments::CardArguments;
use super::new_file::write_new;
use super::style::clean;

/// Writes the measuring card; no parameter file is needed.
pub fn run(arguments: &CardArguments) -> Said {
    let bytes = match pdf(&[measuring_card(arguments.paper.paper())]) {
        Ok(bytes) => bytes,
        Err(error) => return Said::failed(&error.to_string()),
    };
    match write_new(&arguments.out, &bytes) {
        Ok(()) => Said::done(format!(
            "{} written: print it at full size, measure A to J, then: barrelhead start --ask mine.toml\n",
            clean(&arguments.out.display().to_string())
        ))
        .with_files(),
        Err(why) => Said::not_written(&why),
    }
}
