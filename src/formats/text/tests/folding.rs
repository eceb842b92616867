//! Long tables, folded or left.

use std::fmt::Write;

use super::super::super::container::{Container, NumberKind};
use super::super::Text;
use super::corpus::{codes, every_box, file, numbers, open, shapes};

#[test]
fn fast_time() {
    let text = file("long-fast.csv").expect("opens");
    assert_eq!(
        shapes(&text),
        [("/counts", vec![6, 8]), ("/t", vec![8]), ("/x", vec![6]), ("/y", vec![6])]
    );
    assert_eq!(codes(&text.notes()), [("text-folded", "/t")]);
    assert_eq!(text.notes()[0].args["points"], 6u64.into());
    assert_eq!(text.notes()[0].args["samples"], 8u64.into());
    assert_eq!(numbers(&text, "/x"), [0.0, 0.2, 0.4, 0.0, 0.2, 0.4]);
    assert_eq!(numbers(&text, "/t")[7], 0.35);
    let counts = numbers(&text, "/counts");
    for (i, v) in counts.iter().enumerate() {
        let (y, x, t) = (i / 24, i / 8 % 3, i % 8);
        assert_eq!(*v, ((t * t + 3 * x + 5 * y) % 13) as f64 - 6.0);
    }
    let kind = text.array("/counts").map(|a| a.kind);
    assert_eq!(kind, Some(NumberKind::Integer { bits: 32, signed: true }));
    every_box(&text, "/counts");
    every_box(&text, "/y");
}

#[test]
fn slow_time() {
    let text = file("long-slow.txt").expect("opens");
    assert_eq!(
        shapes(&text),
        [("/t", vec![9]), ("/v", vec![9, 6]), ("/x", vec![6]), ("/y", vec![6])]
    );
    assert_eq!(numbers(&text, "/y"), [0.0, 0.0, 0.0, 0.2, 0.2, 0.2]);
    assert_eq!(numbers(&text, "/t")[8], 0.4);
    assert_eq!(text.notes()[0].args["samples"], 9u64.into());
    every_box(&text, "/v");
}

/// Rows `a b c value` of three nested loops, slowest first.
fn loops(n: [usize; 3], step: [f64; 3], header: &str) -> Text {
    let mut text = format!("{header}\n");
    for a in 0..n[0] {
        for b in 0..n[1] {
            for c in 0..n[2] {
                let value = (a * 31 + b * 17 + c * c * 7) % 101;
                let (a, b, c) = (a as f64 * step[0], b as f64 * step[1], c as f64 * step[2]);
                writeln!(text, "{a:.4} {b:.4} {c:.4} {value}").expect("writes");
            }
        }
    }
    open(text.as_bytes()).expect("opens")
}

/// With three loops of eight and more, the step of the positions tells which one is time.
#[test]
fn three_loops() {
    let text = loops([12, 10, 9], [0.2, 0.2, 0.01], "y x t v");
    assert_eq!(shapes(&text)[1], ("/v", vec![120, 9]));
    let text = loops([9, 10, 12], [0.01, 0.2, 0.2], "t y x v");
    assert_eq!(shapes(&text)[1], ("/v", vec![9, 120]));
    let text = loops([9, 10, 12], [0.2, 0.2, 0.2], "a b c v");
    assert_eq!(shapes(&text)[3], ("/v", vec![90, 12]));
}

#[test]
fn a_long_table_without_header() {
    let mut rows = String::new();
    for point in 0..5 {
        for t in 0..10 {
            writeln!(rows, "{point}.5;{t};{}", (point * 7 + t * t) % 23).expect("writes");
        }
    }
    let text = open(rows.as_bytes()).expect("opens");
    assert_eq!(
        shapes(&text),
        [("/column_1", vec![5]), ("/column_2", vec![10]), ("/column_3", vec![5, 10])]
    );
}

/// One row too many, a time that drifts, two columns, our own names: left as they are.
#[test]
fn tables_that_are_left() {
    let table = |header: &str, blocks: usize, drift: f64, more: &str| {
        let mut text = format!("{header}\n");
        for p in 0..blocks {
            for t in 0..10 {
                let time = t as f64 + drift * p as f64;
                writeln!(text, "{p},{time},{}", (p * 7 + t * t) % 23).expect("writes");
            }
        }
        let text = open((text + more).as_bytes()).expect("opens");
        (text.arrays().len(), text.notes().len())
    };
    assert_eq!(table("p,t,v", 5, 0.0, ""), (3, 1));
    assert_eq!(table("p,t,v", 5, 1e-12, ""), (3, 1));
    assert_eq!(table("p,t,v", 5, 0.0, "5,0,1\n"), (3, 0));
    assert_eq!(table("p,t,v", 5, 1e-6, ""), (3, 0));
    assert_eq!(table("p,t,v", 1, 0.0, ""), (3, 0));
    assert_eq!(table("p,t_s,waveforms", 5, 0.0, ""), (3, 0));
    let two: String = (0..40).map(|i| format!("{},{}\n", i % 10, i * i % 7)).collect();
    assert!(open(format!("t,v\n{two}").as_bytes()).expect("opens").notes().is_empty());
}
