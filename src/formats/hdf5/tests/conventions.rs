use super::*;

#[test]
fn axes_of_a_netcdf_file() {
    let file = open(AXES);
    let paths: Vec<&str> = file.arrays().iter().map(|array| array.path.as_str()).collect();
    assert_eq!(paths, ["/p", "/y"], "the dimension without coordinates is left out");
    let p = file.array("/p").unwrap();
    assert_eq!(p.scales, [Some("/y".to_owned()), None]);
    assert_eq!(p.attributes["scale_factor"], number(0.25));
    assert_eq!(p.attributes["_FillValue"], number(-9.0));
    assert_eq!(all(&file, "/p"), ramp(4));
    let y = file.array("/y").unwrap();
    assert_eq!((&y.attributes["units"], y.scales.len()), (&text("mm"), 0));
    assert_eq!(all(&file, "/y"), [0.0, 0.5]);
    assert_eq!(file.notes(), []);
}

#[test]
fn attached_scales_and_scales_of_equal_length() {
    let file = open(SCALES);
    let (y, x) = (Some("/y".to_owned()), Some("/x".to_owned()));
    assert_eq!(file.array("/p").unwrap().scales, [y.clone(), x.clone()]);
    // Nothing is attached to `q`, but only one scale has the length of each dimension.
    assert_eq!(file.array("/q").unwrap().scales, [x, y]);
    assert!(file.array("/x").unwrap().scales.is_empty());
    // Texts of variable length.
    assert_eq!(file.array("/p").unwrap().attributes["units"], text("kPa"));
    assert_eq!(file.group_attributes("")["note"], text("wärm"));
}

/// Class attributes as MAT files of version 7.3 have them (seen in such files; no specification).
#[test]
fn values_of_a_mat_file() {
    let file = open(MATLAB);
    let p = file.array("/p").unwrap();
    assert_eq!((p.shape.as_slice(), p.reversed), ([4, 3, 2].as_slice(), true));
    // Element (1, 2, 3) of the 2 × 3 × 4 array that the program shows.
    assert_eq!(file.read("/p", &[3, 2, 1], &[1, 1, 1]).unwrap().to_f64(), [23.0 * 3.0 - 5.0]);
    let s = file.group_attributes("/s");
    assert_eq!((&s["unit"], &s["two"]), (&text("µs"), &text("ab\ncd")));
    assert_eq!(file.group_attributes("")["empty"], text(""));
    assert_eq!(file.array("/none").unwrap().shape, [3, 0]);
    assert!(all(&file, "/none").is_empty());
    assert_eq!(all(&file, "/flag"), [1.0, 0.0]);
    assert_eq!((all(&file, "/z/real"), all(&file, "/z/imag")), (vec![1.0], vec![2.0]));
    assert_eq!(codes(&file.notes()), [("hdf5-cells", "/#refs#"), ("hdf5-cells", "/c")]);
}
