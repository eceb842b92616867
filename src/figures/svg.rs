//! The finishing of an SVG: size and names, rasters, text with subscripts, compact lines.
//!
//! plotters' SVG target writes one element a line. Its texts are replaced by ours (which keep
//! subscripts in the flow of the line), its lines of one stroke are joined into one path.

use std::fmt::Write as _;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

use super::lettering::{Anchor, FAMILY};
use super::look::PT_PER_MM;
use super::palette::Rgb;
use super::pen::{Notes, Picture, SetText};
use super::problem::DrawProblem;
use super::text::{SUBSCRIPT_DROP, SUBSCRIPT_SIZE, printable};

/// Units of the drawing to the point.
pub const UNITS_PER_PT: f64 = 20.0;

/// What the figure is called, for those who hear it.
pub struct Names<'a> {
    pub id: &'a str,
    pub title: &'a str,
    pub description: &'a str,
}

/// A finished SVG from plotters' drawing and our notes.
pub fn finish(
    drawing: &str,
    notes: &Notes,
    size_pt: (f64, f64),
    names: &Names<'_>,
) -> Result<String, DrawProblem> {
    let mut out = head(size_pt, names);
    for picture in &notes.pictures {
        image(&mut out, picture)?;
    }
    let mut texts = notes.texts.iter();
    let mut path = OpenPath::default();
    let mut in_text = false;
    for line in drawing.lines().skip(1) {
        if in_text {
            in_text = !line.starts_with("</text>");
        } else if line.starts_with("<text ") {
            in_text = true;
            path.close(&mut out);
            texts.next().into_iter().for_each(|set| text(&mut out, set));
        } else if let Some((style, points)) = stroke_of(line) {
            path.add(&mut out, style, &points);
        } else if line != "</svg>" {
            path.close(&mut out);
            let _ = writeln!(
                out,
                "{}",
                line.replace(" opacity=\"1\"", "").replace(" stroke=\"none\"", "")
            );
        }
    }
    path.close(&mut out);
    out.push_str("</svg>\n");
    Ok(out)
}

fn head((width, height): (f64, f64), names: &Names<'_>) -> String {
    let id: String = names
        .id
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() || c == '-' { c } else { '-' })
        .collect();
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" width=\"{}mm\" height=\"{}mm\" role=\"img\" \
         aria-labelledby=\"{id}-title {id}-desc\" font-family=\"{FAMILY}\" stroke-linejoin=\"round\" \
         style=\"font-variant-numeric:tabular-nums\">\n<title id=\"{id}-title\">",
        units(width),
        units(height),
        decimal(width / PT_PER_MM),
        decimal(height / PT_PER_MM),
    );
    escape(&mut out, names.title);
    let _ = write!(out, "</title>\n<desc id=\"{id}-desc\">");
    escape(&mut out, names.description);
    out.push_str("</desc>\n");
    out
}

fn image(out: &mut String, picture: &Picture) -> Result<(), DrawProblem> {
    let area = &picture.area;
    let _ = write!(
        out,
        "<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\" \
         style=\"image-rendering:pixelated\" href=\"data:image/png;base64,",
        decimal(area.x0 * UNITS_PER_PT),
        decimal(area.y0 * UNITS_PER_PT),
        decimal(area.width() * UNITS_PER_PT),
        decimal(area.height() * UNITS_PER_PT),
    );
    STANDARD.encode_string(picture.raster.png()?, out);
    out.push_str("\"/>\n");
    Ok(())
}

fn text(out: &mut String, set: &SetText) {
    let anchor = match set.anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    };
    let size = set.size * UNITS_PER_PT;
    let _ = write!(
        out,
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{}\"{anchor}",
        units(set.at.0),
        units(set.at.1),
        decimal(size),
        hex(set.colour)
    );
    if let Some(halo) = set.halo {
        let _ = write!(
            out,
            " stroke=\"{}\" stroke-width=\"{}\" paint-order=\"stroke\"",
            hex(halo),
            units(1.1)
        );
    }
    out.push('>');
    let mut lowered = false;
    for run in &set.runs {
        let drop = units(SUBSCRIPT_DROP * set.size);
        let shift = match (lowered, run.subscript) {
            (false, true) => format!(" dy=\"{drop}\""),
            (true, false) => format!(" dy=\"-{drop}\""),
            _ => String::new(),
        };
        lowered = run.subscript;
        let small = if run.subscript {
            format!(" font-size=\"{}\"", decimal(size * SUBSCRIPT_SIZE))
        } else {
            String::new()
        };
        let slant = if run.italic { " font-style=\"italic\"" } else { "" };
        if shift.is_empty() && small.is_empty() && slant.is_empty() {
            escape(out, &run.text);
        } else {
            let _ = write!(out, "<tspan{shift}{small}{slant}>");
            escape(out, &run.text);
            out.push_str("</tspan>");
        }
    }
    out.push_str("</text>\n");
}

/// Writes text so that it can't be read as markup, without characters that XML forbids.
pub fn escape(out: &mut String, text: &str) {
    for c in text.chars().filter_map(printable) {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
}

fn hex((r, g, b): Rgb) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

fn units(points: f64) -> i64 {
    (points * UNITS_PER_PT).round() as i64
}

/// Up to two decimals, without trailing zeros.
fn decimal(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Stroke attributes and points of a line or polyline as plotters writes it; none for all else.
fn stroke_of(line: &str) -> Option<(String, Vec<(i64, i64)>)> {
    let value = |name: &str| {
        let start = line.find(&format!(" {name}=\""))? + name.len() + 3;
        Some(&line[start..start + line[start..].find('"')?])
    };
    let points = if line.starts_with("<polyline ") {
        value("points")?
            .split_ascii_whitespace()
            .map(|pair| {
                pair.split_once(',').and_then(|(x, y)| Some((x.parse().ok()?, y.parse().ok()?)))
            })
            .collect::<Option<Vec<_>>>()?
    } else if line.starts_with("<line ") {
        let number = |name: &str| value(name)?.parse::<i64>().ok();
        vec![(number("x1")?, number("y1")?), (number("x2")?, number("y2")?)]
    } else {
        return None;
    };
    let style =
        format!("stroke=\"{}\" stroke-width=\"{}\"", value("stroke")?, value("stroke-width")?);
    Some((style, points))
}

/// Lines of one stroke on the way into one path.
#[derive(Default)]
struct OpenPath {
    style: String,
    steps: String,
}

impl OpenPath {
    fn add(&mut self, out: &mut String, style: String, points: &[(i64, i64)]) {
        if style != self.style {
            self.close(out);
            self.style = style;
        }
        let Some(first) = points.first() else { return };
        let _ = write!(self.steps, "M{} {}", first.0, first.1);
        for (index, pair) in points.windows(2).enumerate() {
            let (dx, dy) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
            let lead = if index == 0 { "l" } else { "" };
            let first = if index > 0 && dx >= 0 { " " } else { "" };
            let second = if dy >= 0 { " " } else { "" };
            let _ = write!(self.steps, "{lead}{first}{dx}{second}{dy}");
        }
    }

    fn close(&mut self, out: &mut String) {
        if !self.steps.is_empty() {
            let _ = writeln!(out, "<path fill=\"none\" {} d=\"{}\"/>", self.style, self.steps);
        }
        self.steps.clear();
        self.style.clear();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::text::runs;

    fn set(words: &str) -> SetText {
        let anchor = Anchor::Start;
        SetText {
            runs: runs(words),
            at: (1.0, 2.0),
            anchor,
            size: 7.0,
            colour: (0, 0, 0),
            halo: None,
        }
    }

    #[test]
    fn a_subscript_hangs_within_its_line() {
        let mut out = String::new();
        text(&mut out, &set("p_{c} / MPa"));
        assert_eq!(
            out,
            "<text x=\"20\" y=\"40\" font-size=\"140\" fill=\"#000000\"><tspan font-style=\"italic\">p</tspan>\
             <tspan dy=\"28\" font-size=\"100.8\">c</tspan><tspan dy=\"-28\"> / MPa</tspan></text>\n"
        );
    }

    // XML 1.0 (5th ed.), 2.2 and 2.4: no controls, no bare markup.
    #[test]
    fn hostile_text_stays_text() {
        let mut out = String::new();
        escape(&mut out, "</text><script>\"'&\u{0}\u{1b}\u{FFFE}");
        assert_eq!(out, "&lt;/text&gt;&lt;script&gt;&quot;&#39;&amp;");
    }

    #[test]
    fn lines_of_one_stroke_become_one_path() {
        let drawing = "<svg>\n\
            <line opacity=\"1\" stroke=\"#000000\" stroke-width=\"8\" x1=\"0\" y1=\"5\" x2=\"10\" y2=\"5\"/>\n\
            <polyline fill=\"none\" opacity=\"1\" stroke=\"#000000\" stroke-width=\"8\" points=\"3,3 4,1 9,2 \"/>\n\
            <circle cx=\"1\" opacity=\"1\"/>\n</svg>\n";
        let names = Names { id: "a\"b", title: "<t>", description: "d" };
        let out = finish(drawing, &Notes::default(), (10.0, 5.0), &names).unwrap();
        assert!(out.contains("d=\"M0 5l10 0M3 3l1-2 5 1\""), "{out}");
        assert!(out.contains("<circle cx=\"1\"/>"));
        assert!(out.contains("id=\"a-b-title\">&lt;t&gt;</title>"));
        assert!(out.contains("viewBox=\"0 0 200 100\""));
    }
}
