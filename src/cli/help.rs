//! Help that teaches.

/// The help text of a command, or of all.
pub fn text(topic: Option<&'static str>) -> &'static str {
    match topic {
        Some("report") => REPORT,
        Some("record") => RECORD,
        Some("look") => LOOK,
        Some("page") => PAGE,
        Some("demo") => DEMO,
        _ => GENERAL,
    }
}

const GENERAL: &str = "\
Focalsheet: from hydrophone scan files to a printable, signed-off field sheet.

  focalsheet                               make the page and the demo sheet, show both in a browser
  focalsheet report RECORD.json --out DIR  evaluate the scans that a record names, write the sheet
  focalsheet record DIR                    write a record skeleton for the scan files in a folder
  focalsheet look FILE                     list what is in a scan file and propose how to read it
  focalsheet page                          make the one-file page (target/page/focalsheet.html)
  focalsheet demo                          make the page and the demo sheet, then stop
  focalsheet COMMAND --help                more about one command

A first sheet of your own:
  1. Put the scan files (HDF5, netCDF, MAT, NPY, NPZ, text) and the sensitivity table into a folder.
  2. focalsheet record FOLDER       writes FOLDER/record.json with the scans it found.
  3. Fill in what you know: frequency, water temperature, drive level, sensor.
  4. focalsheet report FOLDER/record.json --out FOLDER/sheet
  5. Open FOLDER/sheet/sheet.html and print it.

Exit status: 0 done, 1 done but a scan is unfit for use, 2 refused with a message.
Values are output in water: neither a clearance of the device nor a prescription.";

const REPORT: &str = "\
focalsheet report RECORD.json --out FOLDER [--language TAG]

Reads the record and the files that it names (beside it), evaluates the scans, and writes into FOLDER:
  sheet.html       the sheet; reads and prints without a script
  sheet.json       all numbers, SI and unrounded, with findings and provenance
  quantities.csv   the quantities as a table
  figures/         every figure as SVG

--language says in which language the sheet is written: en (English, without the option), de (German, with
decimal comma). The codes and ids in sheet.json are the same in every language; its texts follow it.

FOLDER is written beside its place and then renamed: nothing half-written is left. An existing FOLDER is
replaced only if an earlier report wrote it.

Exit status: 0 done, 1 done but a scan is unfit (the sheet says why), 2 refused with a message.";

const RECORD: &str = "\
focalsheet record FOLDER [--out RECORD.json]

Looks at the scan files in FOLDER and writes a record that names them: id, file, and a role guessed from
their shape (plane, line, axial, point). What only a person knows is left out; docs/record.md lists it.
Without --out the record goes to FOLDER/record.json, which must not exist yet.";

const LOOK: &str = "\
focalsheet look FILE [--values ARRAY]

Lists the arrays of a scan file: path, dimensions, kind of number, first values, attributes. If the file
does not describe itself, says how it can be read as a scan, why, and what is missing, with the layout to
put into the record. With --values it prints all numbers of one array, one a line, in storage order.";

const PAGE: &str = "\
focalsheet page

Builds the page: one HTML file with everything inside, at target/page/focalsheet.html. It works from a
memory stick, without a network. Needs a checkout of the project and Rust; adds the WebAssembly target if
it is missing.";

const DEMO: &str = "\
focalsheet demo

Builds the page and evaluates the demo (demo-data/record.json) into target/demo/. Says where both are.";
