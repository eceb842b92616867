//! From a figure of the report model to a drawing.

use plotters::prelude::SVGBackend;
use plotters_backend::DrawingBackend;

use super::backend::Target;
use super::curves::{self, Place};
use super::glance::GlanceFigure;
use super::look::{Look, PT_PER_MM};
use super::map::MapFigure;
use super::pen::{Notes, Pen};
use super::problem::DrawProblem;
use super::svg::{self, Names, UNITS_PER_PT};
use crate::report::model::{Figure, FigureBody};

/// Width of a figure that fills the sheet, and of a map beside another, in millimetres.
const FULL_MM: f64 = 174.0;
const HALF_MM: f64 = 82.0;

/// A figure as one self-contained SVG, in its own width and with a decimal point.
///
/// # Errors
/// When the figure's data contradict themselves; ugly data are drawn.
pub fn svg(figure: &Figure) -> Result<String, DrawProblem> {
    svg_with(figure, &Look::default())
}

/// A figure as one self-contained SVG.
///
/// Its width and height attributes are millimetres; the page may size it by style. Title and
/// description carry the alternative text and the caption.
///
/// # Errors
/// When the figure's data contradict themselves, or the width can't hold the figure's words.
pub fn svg_with(figure: &Figure, look: &Look) -> Result<String, DrawProblem> {
    let (width, height) = size_pt(figure, look)?;
    let mut drawing = String::new();
    let size = ((width * UNITS_PER_PT).round() as u32, (height * UNITS_PER_PT).round() as u32);
    let notes = draw(
        figure,
        SVGBackend::with_string(&mut drawing, size),
        Target::Document,
        UNITS_PER_PT,
        look,
    )?;
    let names = Names { id: &figure.id, title: &figure.alt, description: &figure.caption };
    svg::finish(&drawing, &notes, (width, height), &names)
}

/// Width and height of a figure as an SVG, in points.
///
/// # Errors
/// As [`svg_with`].
pub fn size_pt(figure: &Figure, look: &Look) -> Result<(f64, f64), DrawProblem> {
    let own = if matches!(figure.body, FigureBody::Map(_)) { HALF_MM } else { FULL_MM };
    let wanted = look.width_mm.filter(|mm| mm.is_finite()).unwrap_or(own).clamp(1.0, 2000.0);
    // Whole units, so that paper and drawing agree.
    let whole = |pt: f64| (pt * UNITS_PER_PT).ceil();
    let width = whole(wanted * PT_PER_MM) / UNITS_PER_PT;
    let height = whole(natural_height(figure, width, look)?) / UNITS_PER_PT;
    Ok((width, height))
}

/// Draws a figure onto any plotters target, filling its width.
///
/// `units_per_pt` says how many of the target's units make a point: device pixels for a canvas.
/// For `Target::Document` the notes hold the texts and rasters that the target could not take.
///
/// # Errors
/// When the figure's data contradict themselves, the target is too small, or it refuses a stroke.
pub fn draw<DB: DrawingBackend>(
    figure: &Figure,
    target: DB,
    kind: Target,
    units_per_pt: f64,
    look: &Look,
) -> Result<Notes, DrawProblem> {
    let mut pen = Pen::new(target, kind, if units_per_pt > 0.0 { units_per_pt } else { 1.0 });
    let paper = pen.paper();
    let height = Some(paper.height());
    match &figure.body {
        FigureBody::Map(map) => MapFigure::new(map, paper.width(), height, look)?.draw(&mut pen)?,
        FigureBody::Glance { map, x_profile, y_profile, waveform } => {
            let parts = (x_profile, y_profile, waveform);
            GlanceFigure::new(map, parts, paper.width(), height, look)?.draw(&mut pen)?;
        }
        FigureBody::Curves(data) => curves::draw(&mut pen, data, &Place::alone(paper), look)?,
    }
    pen.finish()
}

/// Height that a figure takes in a width, in points.
fn natural_height(figure: &Figure, width: f64, look: &Look) -> Result<f64, DrawProblem> {
    Ok(match &figure.body {
        FigureBody::Map(map) => MapFigure::new(map, width, None, look)?.height(),
        FigureBody::Glance { map, x_profile, y_profile, waveform } => {
            GlanceFigure::new(map, (x_profile, y_profile, waveform), width, None, look)?.height()
        }
        FigureBody::Curves(_) => curves::natural_height(width),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::gallery;
    use crate::figures::geometry::Rect;
    use crate::figures::lettering::Anchor;
    use crate::figures::text::runs_width;

    const WIDTHS_MM: [f64; 3] = [55.0, 82.0, 170.0];

    fn drawn() -> Vec<(String, f64, Result<String, DrawProblem>)> {
        let mut out = Vec::new();
        for figure in gallery::all() {
            for width in WIDTHS_MM {
                let look = Look { width_mm: Some(width), decimal_mark: ',' };
                out.push((figure.id.clone(), width, svg_with(&figure, &look)));
            }
        }
        out
    }

    /// Tags opened and closed in order, attributes quoted, no bare `<` or `&`.
    fn is_balanced(text: &str) -> Result<(), String> {
        let mut open: Vec<&str> = Vec::new();
        let mut rest = text;
        while let Some(start) = rest.find('<') {
            let (before, tail) = (&rest[..start], &rest[start + 1..]);
            if before.contains('>') || before.split('&').skip(1).any(|s| !s.contains(';')) {
                return Err(format!("bare character in {before:?}"));
            }
            let end = tail.find('>').ok_or("tag without end")?;
            let tag = &tail[..end];
            if tag.contains('<') || tag.matches('"').count() % 2 == 1 {
                return Err(format!("broken tag {tag:?}"));
            }
            let name = tag.trim_start_matches('/').split([' ', '/']).next().unwrap_or("");
            if tag.starts_with('/') {
                if open.pop() != Some(name) {
                    return Err(format!("</{name}> closes nothing"));
                }
            } else if !tag.ends_with('/') {
                open.push(name);
            }
            rest = &tail[end + 1..];
        }
        if open.is_empty() { Ok(()) } else { Err(format!("left open: {open:?}")) }
    }

    #[test]
    fn the_balance_check_can_fail() {
        assert!(is_balanced("<a b=\"1\"><c/>x &amp; y</a>").is_ok());
        for bad in ["<a>", "<a></b>", "<a b=\"></a>", "<a>&</a>", "<a>></a>"] {
            assert!(is_balanced(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn every_figure_is_balanced_and_holds_no_false_number() {
        let mut bad = Vec::new();
        for (id, width, made) in drawn() {
            let text = match made {
                Ok(text) => text,
                // A glance doesn't fit half a column; everything else must be drawn.
                Err(DrawProblem::TooSmall { .. }) if width < 80.0 && id.starts_with("glance") => {
                    continue;
                }
                Err(problem) => panic!("{id} at {width} mm: {problem}"),
            };
            bad.extend(is_balanced(&text).err().map(|e| format!("{id}: {e}")));
            let plain = text
                .split("base64,")
                .map(|s| s.split_once('"').map_or(s, |p| p.1))
                .collect::<String>();
            for word in ["NaN", "inf", "<script", "\u{0}", "\u{202e}", "−0<", ">-0"] {
                if plain.contains(word) {
                    bad.push(format!("{id} at {width} mm holds {word:?}"));
                }
            }
            assert!(text.contains("role=\"img\"") && text.contains("</title>"));
            // 30 dashed levels and 80 marks make the crowded panel larger.
            let most = if id.contains("curves-6") { 120_000 } else { 60_000 };
            assert!(
                text.len() < most || id.contains("map") || id.starts_with("glance"),
                "{id}: {}",
                text.len()
            );
        }
        assert!(bad.is_empty(), "{}", bad.join("\n"));
    }

    #[test]
    fn the_same_figure_is_the_same_bytes() {
        for figure in gallery::all() {
            assert_eq!(svg(&figure), svg(&figure));
        }
    }

    fn texts(figure: &Figure, width_mm: f64) -> Option<(Rect, Vec<(String, Rect)>)> {
        let look = Look { width_mm: Some(width_mm), decimal_mark: '.' };
        let width = width_mm * PT_PER_MM;
        let height = natural_height(figure, width, &look).ok()?;
        let size = ((width * UNITS_PER_PT).ceil() as u32, (height * UNITS_PER_PT).ceil() as u32);
        let mut drawing = String::new();
        let target = SVGBackend::with_string(&mut drawing, size);
        let notes = draw(figure, target, Target::Document, UNITS_PER_PT, &look).ok()?;
        let boxes = notes.texts.iter().map(|set| {
            let wide = runs_width(&set.runs, set.size);
            let left = match set.anchor {
                Anchor::Start => set.at.0,
                Anchor::Middle => set.at.0 - wide / 2.0,
                Anchor::End => set.at.0 - wide,
            };
            let words = set.runs.iter().map(|run| run.text.as_str()).collect();
            // From the top of a figure to the baseline; hanging parts may reach into the next line.
            (words, Rect::new(left, set.at.1 - 0.73 * set.size, wide, 0.73 * set.size))
        });
        Some((Rect::new(0.0, 0.0, width + 0.1, height + 0.1), boxes.collect()))
    }

    #[test]
    fn no_words_overlap_and_none_are_clipped() {
        let (mut seen, mut bad) = (0, Vec::new());
        for figure in gallery::all() {
            for width in WIDTHS_MM {
                let Some((paper, texts)) = texts(&figure, width) else { continue };
                for (index, (words, ground)) in texts.iter().enumerate() {
                    seen += 1;
                    if !paper.grown(0.5).holds(ground) {
                        bad.push(format!(
                            "{} at {width} mm: {words:?} clipped {ground:?}",
                            figure.id
                        ));
                    }
                    for (other, _) in texts[..index]
                        .iter()
                        .filter(|(_, taken)| ground.grown(-0.1).overlaps(taken))
                    {
                        bad.push(format!("{} at {width} mm: {words:?} over {other:?}", figure.id));
                    }
                }
            }
        }
        assert!(bad.is_empty(), "{}", bad.join("\n"));
        assert!(seen > 2000, "{seen}");
    }

    #[test]
    fn what_matters_is_labelled() {
        let words = |figure: &Figure| {
            texts(figure, 170.0).unwrap().1.into_iter().map(|t| t.0).collect::<Vec<_>>()
        };
        let body = FigureBody::Glance {
            map: gallery::focal_plane(41),
            x_profile: gallery::profile(),
            y_profile: gallery::profile(),
            waveform: gallery::burst(4000),
        };
        let all = words(&Figure { id: "g".into(), caption: "c".into(), alt: "a".into(), body });
        for wanted in [
            "−3 dB",
            "−6 dB",
            "−12 dB",
            "2.46 mm",
            "pc = 5.1 MPa",
            "pr = 5.0 MPa",
            "window",
            "x\u{2009}/\u{2009}mm",
        ] {
            assert!(
                all.iter().any(|w| w.replace('\u{2009}', " ") == wanted.replace('\u{2009}', " ")),
                "{wanted} of {all:?}"
            );
        }
    }

    #[test]
    fn a_pixel_target_gets_everything() {
        let figure = &gallery::all()[29];
        let mut drawing = String::new();
        let target = SVGBackend::with_string(&mut drawing, (1000, 900));
        let notes = draw(figure, target, Target::Pixels, 2.0, &Look::default()).unwrap();
        assert!(notes.texts.is_empty() && notes.pictures.is_empty());
        assert!(drawing.matches("<rect").count() > 1600);
        assert!(drawing.matches("<text").count() > 20);
    }

    #[test]
    fn contradicting_lists_are_refused() {
        let mut data = gallery::profile();
        data.curves[0].y.pop();
        let figure = Figure {
            id: "c".into(),
            caption: String::new(),
            alt: String::new(),
            body: FigureBody::Curves(data),
        };
        assert!(matches!(svg(&figure), Err(DrawProblem::Length { expected: 41, found: 40, .. })));
    }
}
