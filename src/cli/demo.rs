//! `focalsheet page`, `focalsheet demo`, and both shown.

use std::path::PathBuf;

use super::report_command::{evaluate, write};
use super::{DONE, say};
use crate::build;
use crate::report::wording::en::English;
use crate::serve::{self, Offer};

/// Makes the page alone.
///
/// # Errors
/// A message for the user.
pub fn page() -> Result<u8, String> {
    let root = build::root().map_err(|problem| problem.to_string())?;
    let path =
        build::page(&root, &mut |line| say::err(line)).map_err(|problem| problem.to_string())?;
    say::out(&path.display().to_string());
    Ok(DONE)
}

/// Makes the page and the demo's sheet; returns their paths.
///
/// # Errors
/// A message for the user.
pub fn demo() -> Result<(PathBuf, PathBuf), String> {
    let root = build::root().map_err(|problem| problem.to_string())?;
    let page =
        build::page(&root, &mut |line| say::err(line)).map_err(|problem| problem.to_string())?;
    say::err("Evaluating the demo …");
    let made = evaluate(&root.join("demo-data/record.json"), &English)
        .map_err(|problems| say::problems(&problems))?;
    let out = root.join("target/demo");
    write(&made, &out)?;
    let sheet = out.join("sheet.html");
    say::out(&page.display().to_string());
    say::out(&sheet.display().to_string());
    Ok((page, sheet))
}

/// Makes both and shows them on a free loopback port until interrupted.
///
/// # Errors
/// A message for the user.
pub fn show() -> Result<u8, String> {
    let (page, sheet) = demo()?;
    // Page and sheet say themselves in which encoding they are.
    let html = "text/html";
    let offers = vec![Offer::new("/", &page, html), Offer::new("/demo", &sheet, html)];
    serve::run(offers, |address| {
        say::out(&format!("The page:       http://{address}/"));
        say::out(&format!("The demo sheet: http://{address}/demo"));
        say::err("Stop with Ctrl-C.");
    })
    .map_err(|problem| problem.to_string())?;
    Ok(DONE)
}
