//! What is read from whole and broken files.

use super::super::super::container::{Access, Attribute, Container, NumberKind};
use super::corpus::{codes, every_box, file, numbers, open, shapes, unit};

const COUNTS: NumberKind = NumberKind::Integer { bits: 32, signed: true };
const FLOAT: NumberKind = NumberKind::Float { bits: 64 };

#[test]
fn self_describing_files() {
    let text = file("point.csv").expect("opens");
    assert_eq!(shapes(&text), [("/t_s", vec![3]), ("/waveforms", vec![3])]);
    assert_eq!(numbers(&text, "/waveforms"), [0.000_488_3, 0.000_976_6, -0.000_244_1]);
    assert_eq!(text.group_attributes("")["x_m"], Attribute::Numbers(vec![1.5e-4]));
    assert_eq!(text.group_attributes("")["note"], Attribute::Text("invented".into()));
    let text = file("points.csv").expect("opens");
    assert_eq!(shapes(&text), [("/t0_s", vec![2]), ("/waveforms", vec![2, 3]), ("/z_m", vec![2])]);
    assert_eq!(numbers(&text, "/waveforms"), [3.0, 2.0, 4.0, 2.0, 3.0, -3.0]);
    assert_eq!(text.array("/waveforms").map(|a| a.kind), Some(COUNTS));
    assert_eq!(text.array("/z_m").map(|a| (a.kind, a.access)), Some((FLOAT, Access::Random)));
    assert_eq!(text.group_attributes("").keys().collect::<Vec<_>>(), ["dt_s", "volts_per_count"]);
    assert!(text.notes().is_empty());
    let text = file("sensitivity.csv").expect("opens");
    assert_eq!(numbers(&text, "/phase_deg"), [-0.13, -0.261, -0.391]);
    assert_eq!(text.arrays().len(), 4);
}

#[test]
fn an_eight_bit_file_with_decimal_commas() {
    let text = file("decimal-comma-latin1.txt").expect("opens");
    assert_eq!(unit(&text, "/Zeit"), Some("µs"));
    assert_eq!(unit(&text, "/Temperatur"), Some("°C"));
    assert_eq!(numbers(&text, "/Zeit"), [0.0, 0.02, 0.04]);
    let volts = numbers(&text, "/Spannung");
    assert_eq!(volts[..2], [1.25, -0.15]);
    assert!(volts[2].is_nan());
    let attributes = text.group_attributes("");
    let is = |key: &str, n: f64, unit: &str| {
        assert_eq!(attributes[key], Attribute::Numbers(vec![n]));
        assert_eq!(attributes[&format!("{key} units")], Attribute::Text(unit.into()));
    };
    is("Abtastintervall", 20.0, "ns");
    is("Verstärkung", 1.5, "dB");
    is("Wassertemperatur", 22.4, "°C");
    assert_eq!(attributes.len(), 6);
}

#[test]
fn wide_tables() {
    let text = file("wide-headings.csv").expect("opens");
    assert_eq!(
        shapes(&text),
        [("/headings", vec![10]), ("/values", vec![6, 10]), ("/x", vec![6]), ("/y", vec![6])]
    );
    assert_eq!(unit(&text, "/headings"), Some("us"));
    assert_eq!(unit(&text, "/x"), Some("mm"));
    assert_eq!(numbers(&text, "/headings")[9], 4.5);
    assert_eq!(text.array("/values").map(|a| a.kind), Some(COUNTS));
    every_box(&text, "/values");
    every_box(&text, "/x");
    let text = file("wide-indexed.tsv").expect("opens");
    assert_eq!(shapes(&text), [("/v", vec![4, 9]), ("/x", vec![4]), ("/y", vec![4])]);
    assert_eq!((unit(&text, "/v"), unit(&text, "/y")), (Some("mV"), Some("mm")));
    assert_eq!(text.array("/v").map(|a| a.kind), Some(FLOAT));
    assert_eq!(numbers(&text, "/v")[9..12], [0.0, 0.25, 0.5]);
    every_box(&text, "/v");
    let text = file("corner.csv").expect("opens");
    assert_eq!(
        shapes(&text),
        [("/column_1", vec![4]), ("/headings", vec![10]), ("/values", vec![4, 10])]
    );
}

#[test]
fn other_forms() {
    let text = file("matrix.txt").expect("opens");
    assert_eq!(shapes(&text).len(), 6);
    assert_eq!(shapes(&text)[1], ("/column_2", vec![5]));
    assert_eq!(numbers(&text, "/column_2")[2], 0.25);
    let rows: Vec<String> =
        (0..4).map(|r| (0..9).map(|c| format!("{} ", r * 9 + c)).collect()).collect();
    let text = open(rows.join("\n").as_bytes()).expect("opens");
    assert_eq!(shapes(&text), [("/table", vec![4, 9])]);
    assert_eq!(numbers(&text, "/table")[9..12], [9.0, 10.0, 11.0]);
    every_box(&text, "/table");
    let text = file("instrument.csv").expect("opens");
    assert_eq!(shapes(&text), [("/CH1", vec![3]), ("/TIME", vec![3])]);
    assert_eq!((unit(&text, "/TIME"), unit(&text, "/CH1")), (Some("s"), Some("V")));
    let attributes = text.group_attributes("");
    assert_eq!(attributes["Record Length"], Attribute::Numbers(vec![12.0]));
    assert_eq!(attributes["Sample Interval units"], Attribute::Text("s".into()));
    assert_eq!(attributes["Vertical Scale"], Attribute::Numbers(vec![50.0]));
    assert_eq!(attributes["Channel"], Attribute::Numbers(vec![1.0]));
    let text = file("carriage-return.txt").expect("opens");
    assert_eq!(numbers(&text, "/v"), [1.5, 2.5, 3.5]);
    assert_eq!(unit(&text, "/t"), Some("us"));
    let text = open(b"x\n1\n2\n").expect("opens");
    assert_eq!(shapes(&text), [("/x", vec![2])]);
    let text = open(b"3\nx y\n1 2\n3 4\n").expect("opens");
    assert_eq!(shapes(&text), [("/x", vec![2]), ("/y", vec![2])]);
    let text = open(b"Position X (mm)  Amplitude (V)\n1.5 2\n3 4\n").expect("opens");
    assert_eq!(shapes(&text), [("/Amplitude", vec![2]), ("/Position X", vec![2])]);
}

#[test]
fn notes() {
    let text = file("empty-cells.csv").expect("opens");
    assert!(numbers(&text, "/p")[1..].iter().all(|v| v.is_nan()));
    assert_eq!(codes(&text.notes()), [("text-empty-cells", "line 3")]);
    assert_eq!(text.notes()[0].args["count"], 3u64.into());
    let text = file("two-tables.csv").expect("opens");
    assert_eq!(shapes(&text), [("/t_s", vec![2]), ("/waveforms", vec![2])]);
    assert_eq!(codes(&text.notes()), [("text-after-table", "line 5")]);
}

#[test]
fn blank_lines_end_the_table() {
    for end in ["", "\n", "\n\n", "\r\n\r\n  \n", "\n\x1a"] {
        let text = open(format!("t_s,waveforms\n\n0,1\n1,2{end}").as_bytes()).expect("opens");
        assert_eq!(numbers(&text, "/waveforms"), [1.0, 2.0]);
        assert!(text.notes().is_empty());
    }
}

#[test]
fn refused_files() {
    let refused = |name: &str| file(name).err().expect("refused");
    for (name, expected) in [
        (
            "broken-rows.csv",
            vec![
                ("text-row-width", "line 3"),
                ("text-not-a-number", "line 4"),
                ("text-row-width", "line 5"),
                ("text-not-a-number", "line 6"),
            ],
        ),
        ("broken-first-row.csv", vec![("text-not-a-number", "line 2")]),
        ("broken-header.csv", vec![("text-header-width", "line 1")]),
        ("broken-nul.csv", vec![("text-nul", "line 3")]),
        (
            "broken-order.csv",
            vec![("text-column-order", "waveforms[2]"), ("text-column-order", "waveforms[1]")],
        ),
        ("broken-twice.csv", vec![("text-column-twice", "x")]),
        ("broken-no-rows.csv", vec![("text-no-rows", "line 2")]),
        ("utf16.txt", vec![("text-utf16", "byte 0")]),
    ] {
        assert_eq!(codes(&refused(name)), expected, "{name}");
    }
    assert_eq!(refused("broken-rows.csv")[3].args["found"], "1 V".into());
    assert_eq!(refused("broken-rows.csv")[3].args["column"], 2u64.into());
}

#[test]
fn many_problems_are_counted() {
    let text = format!("a,b\n1,2\n{}", "1,x\n".repeat(50));
    let problems = open(text.as_bytes()).err().expect("refused");
    assert_eq!(problems.len(), 21);
    assert_eq!(problems[20].code, "text-more-problems");
    assert_eq!(problems[20].args["count"], 30u64.into());
}

#[test]
fn boxes_outside() {
    let text = file("points.csv").expect("opens");
    for (path, start, count) in [
        ("/z_m", vec![1], vec![2]),
        ("/z_m", vec![0, 0], vec![1, 1]),
        ("/z_m", vec![u64::MAX], vec![2]),
        ("/waveforms", vec![0, 2], vec![1, 2]),
        ("/waveforms", vec![0], vec![1]),
    ] {
        let refused = text.read(path, &start, &count).map_err(|p| p.code);
        assert_eq!(refused, Err("box-outside-array".to_owned()));
    }
    assert_eq!(text.read("/q", &[], &[]).map_err(|p| p.code), Err("array-missing".to_owned()));
}

/// A header beyond its limit, and rows over many blocks.
#[test]
fn large_files() {
    let remarks = "# remark that fills the head\n".repeat(200_000);
    let problems = open(format!("{remarks}x,y\n1,2\n").as_bytes()).err().expect("refused");
    assert_eq!(problems[0].code, "text-header-too-large");
    let problems = open(&[b'1'; 21 << 20]).err().expect("refused");
    assert_eq!(codes(&problems), [("text-line-too-long", "line 1")]);
    let names: Vec<String> = (0..3000).map(|i| format!("waveforms[{i}]")).collect();
    let rows: Vec<String> = (0..200)
        .map(|r| (0..3000).map(|c| (r * c % 2000 - 1000).to_string()).collect::<Vec<_>>().join(","))
        .collect();
    let text =
        open(format!("{}\n{}\n", names.join(","), rows.join("\n")).as_bytes()).expect("opens");
    assert_eq!(text.array("/waveforms").map(|a| a.access), Some(Access::Sequential));
    let read = text.read("/waveforms", &[137, 1500], &[2, 3]).expect("reads").to_f64();
    let expected: Vec<f64> = [137, 138]
        .iter()
        .flat_map(|r| (1500..1503).map(move |c| f64::from(r * c % 2000 - 1000)))
        .collect();
    assert_eq!(read, expected);
}
