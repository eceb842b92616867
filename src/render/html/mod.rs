//! The sheet as HTML: one `<article>` for the page on screen, one scriptless document to keep.
//!
//! Text of the model is untrusted (it may come from a file) and escaped where it is set; finished
//! figures are trusted. What a page needs to find again is marked by attributes:
//!
//! | attribute | on | meaning |
//! |---|---|---|
//! | `data-path` | `span` | path of the blank in the record, editable in place |
//! | `data-quantity`, `data-scan` | `tr` | the quantity of this row |
//! | `data-verdict` | `tr` | outcome of a stated value |
//! | `data-code` | `li.finding` | code of the finding |
//! | `data-figure` | `figure` | id of the figure |
//! | `id="section-…"`, `id="figure-…"` | `section`, `figure` | anchors |

mod article;
mod budget;
mod decimal;
mod definitions;
mod document;
mod escape;
mod explained;
mod figure;
mod finding;
mod front;
mod labels;
mod page;
mod quantities;
mod section;
mod spacing;
mod symbol;
mod table;
mod verdicts;
mod widths;

pub use article::{article, parts};
pub use document::document;
pub use escape::{css_string, json_in_script, text as escape_text};
pub use page::page_style;
pub use widths::figure_widths_mm;
