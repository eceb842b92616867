use super::*;

#[test]
fn a_file_cut_short() {
    let problems = try_open(CUT).map(|_| ()).unwrap_err();
    assert_eq!(codes(&problems), [("hdf5-short", "/"), ("hdf5-short", "/p")]);
    let of_array = &problems[1];
    assert_eq!(of_array.args["expected"], 5264u64.into());
    assert_eq!(of_array.args["found"], 4264u64.into());
}

#[test]
fn a_damaged_dataset_does_not_hide_the_others() {
    let file = open(DAMAGED);
    assert_eq!(all(&file, "/a"), ramp(4));
    assert_eq!(codes(&file.notes()), [("hdf5-broken", "/b")]);
    assert_eq!(file.read("/c", &[0], &[8]).unwrap_err().code, "hdf5-broken");
}

#[test]
fn data_in_other_files() {
    let problems = try_open(ELSEWHERE).map(|_| ()).unwrap_err();
    assert_eq!(codes(&problems), [("hdf5-elsewhere", "/external"), ("hdf5-virtual", "/virtual")]);
}

#[test]
fn groups_in_groups_in_groups() {
    let file = open(DEEP);
    assert_eq!(all(&file, "/y"), [2.0]);
    assert_eq!(codes(&file.notes()), [("file-too-deep", "/a/b/c/d/e/f/g/h/i/j/k/l/m/n/o/p/q")]);
}

#[test]
fn declared_sizes_are_not_believed() {
    let file = open(HUGE);
    let whole = |path: &str| {
        let shape = file.array(path).unwrap().shape.clone();
        file.read(path, &vec![0; shape.len()], &shape).unwrap_err().code
    };
    assert_eq!(whole("/wide"), "box-too-large");
    assert_eq!(whole("/never"), "box-too-large");
    assert_eq!(file.read("/wide", &[999_999, 999_998], &[1, 2]).unwrap().to_f64(), [0.0, 0.0]);
    assert_eq!(file.read("/coarse", &[0, 0], &[1, 1]).unwrap_err().code, "hdf5-chunk-too-large");
    assert_eq!(file.read("/wide", &[0, 999_999], &[1, 2]).unwrap_err().code, "box-outside-array");
    assert_eq!(file.read("/wide", &[0], &[1]).unwrap_err().code, "box-outside-array");
    assert_eq!(file.read("/gone", &[0], &[1]).unwrap_err().code, "array-missing");
}
