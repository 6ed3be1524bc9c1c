//! Kinds of logs by what they declare, how their runs, units, dates and heads are written, and what they are packed with. The
//! right answer was decided before the reader was run on them.

use std::fmt::Write as _;

use relent::ingest::Ask::{
    DecimalMark, Delimiter, ForceColumn, ForceUnit, Run, SamplingRate, Scale, Sign,
};
use relent::ingest::ChosenRun;
use relent::quantity::Hertz;

use crate::ingest_case::{Case, asks, judge, reads, refused};

/// Rows of a hit of 412.5 at the fourth, 1 ms apart, parted by `;`.
fn rows(n: usize) -> String {
    later(0.0, n)
}

/// The same from another instant on.
fn later(start: f64, n: usize) -> String {
    let mut text = String::new();
    for i in 0..n {
        let force = if i == 3 {
            412.5
        } else {
            0.2 + (i % 3) as f64 / 10.0
        };
        let _ = writeln!(text, "{:.3};{force:.1}", start + i as f64 / 1000.0);
    }
    text
}

fn rates() -> Vec<Case> {
    let log = |line: &str| format!("Device: bench 4\n{line}\n\nForce [N]\n0.3\n0.2\n412.5\n0.1\n");
    let mut cases: Vec<Case> = [
        ("Sampling: 500 samples/s", 500.0),
        ("Sampling rate: 1 000 Hz", 1000.0),
        ("Sampling rate: 1'000 Hz", 1000.0),
        ("Samples per second: 500", 500.0),
        ("Scan rate (scans/s): 500", 500.0),
        ("Sampling rate, Hz: 500", 500.0),
        ("Abtastrate;Hz;500", 500.0),
        ("fs_hz=1000", 1000.0),
        ("dt [s] = 0.001", 1000.0),
        ("dt_s=0.001", 1000.0),
        ("dt=0.001", 1000.0),
        ("Time increment (s): 0.001", 1000.0),
        ("Pas d'échantillonnage : 1 ms", 1000.0),
        ("Frecuencia de muestreo: 500 Hz", 500.0),
        ("Frequenza di campionamento: 500 Hz", 500.0),
        ("Taxa de amostragem: 500 Hz", 500.0),
        ("Częstotliwość próbkowania: 500 Hz", 500.0),
        ("Vzorkovací frekvence: 500 Hz", 500.0),
        ("Samplingsfrekvens: 500 Hz", 500.0),
        ("Bemonsteringsfrequentie: 500 Hz", 500.0),
    ]
    .into_iter()
    .map(|(line, rate)| reads(line, log(line), 4, 412.5).rate(rate))
    .collect();
    cases.extend(
        [
            "Sampling rate: -1000 Hz",
            "Sampling rate: 1,000 Hz",
            "Frequency: 868 MHz",
            "Frequency: 50 Hz",
            "Rate: 9600",
            "Sampling rate: external 2",
            "Sampling rate: 600 samples per minute",
            "Sampling rate: 100..1000 Hz",
            "Sample rate divider: 10",
            "Sampling rate index: 3",
            "Max. sampling rate: 10 kHz",
            "Acquisition bandwidth: 500 Hz",
            "Recording period: 5 s",
            "Acquisition period: 10 s",
            "Supply: 230 V, 50 Hz",
        ]
        .map(|line| asks(line, log(line), &[SamplingRate])),
    );
    cases
}

fn heads() -> Vec<Case> {
    let hit = rows(8);
    let under = |heads: &str| format!("{heads}{hit}");
    vec![
        reads(
            "a rule under the heads",
            "| t [s] | F [N] |\n|---|---|\n| 0.000 | 1.5 |\n| 0.001 | 412.5 |\n",
            2,
            412.5,
        ),
        reads(
            "a rule of dashes",
            under("t [s];F [N]\n-----;-----\n"),
            8,
            412.5,
        ),
        reads(
            "a line between heads and rows",
            under("t [s];F [N]\nRun 1\n"),
            8,
            412.5,
        ),
        reads(
            "units under one column alone",
            "Time;Force\n;kN\n10:15:02.000;0.5\n10:15:02.001;4.125\n",
            2,
            4125.0,
        ),
        reads(
            "units with one that is not known",
            "t;F;Hum\ns;N;g/m³\n0.000;1.5;7\n0.001;412.5;7\n",
            2,
            412.5,
        ),
        reads(
            "units with a volt",
            "t;F;U\ns;N;V\n0.000;1.5;7\n0.001;412.5;7\n",
            2,
            412.5,
        ),
        reads("Cyrillic units", under("Время, с;Сила, Н\n"), 8, 412.5),
        reads(
            "units in words of one's own",
            under("Time (in s);Force (in daN)\n"),
            8,
            4125.0,
        ),
        asks(
            "units named in prose belong to no column",
            under("Units: s, N\ntime;force\n"),
            &[ForceUnit],
        ),
        reads(
            "heads of two words between wide blanks",
            "  Elapsed time (s)   Contact force (N)\n   0.000     1.5\n   0.001   412.5\n",
            2,
            412.5,
        ),
        reads(
            "a column without a head at the left",
            "\tt [s]\tF [N]\n\t0.000\t1.5\n\t0.001\t412.5\n",
            2,
            412.5,
        ),
        reads(
            "columns without anything at the right",
            "t_s,F_N,,,\n0.000,1.5,,,\n0.001,412.5,,,\n",
            2,
            412.5,
        ),
        reads(
            "a letter with a unit of mass",
            under("t (s);F (lb)\n"),
            8,
            412.5 * 4.448_221_615_260_5,
        )
        .notice("unit"),
        reads(
            "milliseconds as the name",
            "millis;force_N\n0;1.5\n1;412.5\n2;1.5\n",
            3,
            412.5,
        )
        .at(0.001),
        reads(
            "a force beside its peak",
            "Zeit [s];Kraft [N];Maximalwert [N];Fmin [N]\n0.000;1.5;900;0\n0.001;412.5;900;0\n",
            2,
            412.5,
        ),
        reads(
            "a force beside its deviation",
            "t [s];Force [N];Std dev [N];Uncertainty [N]\n0.000;1.5;900;0\n0.001;412.5;900;0\n",
            2,
            412.5,
        ),
        asks(
            "a greatest force alone",
            under("Zeit [s];Spitzenkraft [N]\n"),
            &[ForceColumn],
        ),
        asks(
            "a static force alone",
            under("t [s];Static force [N]\n"),
            &[ForceColumn],
        ),
        asks(
            "two units of force in the preamble",
            under("Force unit: kN\nDisplay unit: N\ntime_s;force\n"),
            &[ForceUnit],
        ),
        asks(
            "a head and its unit row differ",
            under("Time [s];Force [kN]\ns;N\n"),
            &[ForceUnit],
        ),
        asks(
            "a multiplied force",
            under("t [s];Force x10 [N]\n"),
            &[Scale],
        ),
        asks(
            "a force in powers of ten",
            under("t [s];Force 10³ [N]\n"),
            &[Scale],
        ),
        asks("a divided force", under("t [s];Force / 10 N\n"), &[Scale]),
        asks(
            "a decimal comma or two columns",
            "Sampling rate: 100 Hz\nForce, daN\n0,3\n41,5\n0,2\n",
            &[Delimiter],
        ),
        reads(
            "the same, answered",
            "Sampling rate: 100 Hz\nForce, daN\n0,3\n41,5\n0,2\n",
            3,
            415.0,
        )
        .said(|a| {
            a.delimiter = Some(';');
            a.decimal_mark = Some(',');
        }),
    ]
}

fn unit_columns() -> Vec<Case> {
    vec![
        reads(
            "units in a column",
            "t [s];Force;Unit\n0.000;1.5;daN\n0.001;41.25;daN\n",
            2,
            412.5,
        ),
        reads(
            "a gauge that changes its unit in the column",
            "t [s];Force;Unit\n0.000;998.0;N\n0.001;1.2;kN\n0.002;1.5;N\n",
            3,
            1200.0,
        )
        .notice("unit"),
        reads(
            "units in columns without heads",
            "Time;;Force;\n0.000;s;1.5;N\n0.001;s;412.5;N\n",
            2,
            412.5,
        ),
        reads(
            "a status that looks like a unit",
            "t [s];Force [kN];Status\n0.000;1.5;N\n0.001;4.0;N\n",
            2,
            4000.0,
        ),
        reads(
            "a row without its unit",
            "t [s];Force;Unit\n0.000;1.5;N\n0.001;412.5;N\n0.002;900.0;\n",
            3,
            412.5,
        )
        .missing(1),
        asks(
            "volts in the column",
            "t [s];Value;Unit\n0.000;1.5;V\n0.001;412.5;V\n",
            &[ForceColumn],
        ),
    ]
}

fn tables_before() -> Vec<Case> {
    let hit = rows(20);
    vec![
        reads(
            "a calibration above",
            format!("mV;N\n0.000;0.0\n0.512;100.0\n1.024;200.0\n\nTime [s];Force [N]\n{hit}"),
            20,
            412.5,
        ),
        reads(
            "results above",
            format!("Peak [N];Static [N]\n900.5;80.2\n\nTime [s];Force [N]\n{hit}"),
            20,
            412.5,
        ),
        reads(
            "two numbers above the heads",
            format!("1;20\nTime [s];Force [N]\n{hit}"),
            20,
            412.5,
        ),
        reads(
            "many parameters above",
            format!(
                "{}Time [s];Force [N]\n{}",
                (0..60)
                    .map(|i| format!("Param {i};{i}.5\n"))
                    .collect::<String>(),
                rows(200)
            ),
            200,
            412.5,
        ),
    ]
}

fn runs() -> Vec<Case> {
    let (one, two) = (rows(20), later(1.0, 30));
    let log = |between: &str| format!("Time [s];Force [N]\n{one}{between}{two}");
    let bare = "0.3\n0.2\n412.5\n0.1\n";
    let column = |first: &str, second: &str| {
        let mark = |rows: &str, run: &str| {
            rows.lines()
                .map(|row| format!("{run};{row}\n"))
                .collect::<String>()
        };
        format!(
            "Run;Time [s];Force [N]\n{}{}",
            mark(&one, first),
            mark(&two, second)
        )
    };
    vec![
        asks("a blank line and a later clock", log("\n"), &[Run]),
        reads("the same, the second run", log("\n"), 30, 412.5).said(|a| a.run = Some(2.into())),
        asks("a name and a later clock", log("Messung Nr. 2\n"), &[Run]),
        asks("a name in a remark and a later clock", log("# hit 2\n"), &[Run]),
        asks("a later clock under another number of the run", column("1", "2"), &[Run]),
        reads("one number of the run", column("7", "7"), 50, 412.5).notice("clock-gap"),
        reads("a later clock alone is a gap", log(""), 50, 412.5).notice("clock-gap"),
        asks("a blank line while the clock goes on", format!("Time [s];Force [N]\n{}\n{}", later(0.0, 20), later(0.02, 20).replace("412.5", "0.1")), &[Run]),
        reads("the same, said to be one run", format!("Time [s];Force [N]\n{}\n{}", later(0.0, 20), later(0.02, 20).replace("412.5", "0.1")), 40, 412.5).said(|a| a.run = Some(ChosenRun::ALL)),
        reads("blank lines between all rows", format!("Time [s];Force [N]\n{}", one.replace('\n', "\n\n")), 20, 412.5),
        asks("a blank line and no clock", format!("Rate: 100 Hz\nForce [N]\n{bare}\n{bare}"), &[Run]),
        asks("heads again and no clock", format!("Rate: 100 Hz\nForce [N]\n{bare}Force [N]\n{bare}"), &[Run]),
        asks("a name and no clock", format!("Rate: 100 Hz\nForce [N]\nRun 1\n{bare}Run 2\n{bare}"), &[Run]),
        asks("a number below a blank line and no clock", format!("Rate: 100 Hz\nForce [N]\n{bare}\n900.5\n"), &[Run]),
        asks("numbers below a blank line", format!("Time [s];Force [N]\n{one}\n900.5;80.2\n"), &[Run]),
        reads("one number below a blank line", format!("Time [s];Force [N]\n{one}\n900.5\n"), 20, 412.5).notice("footer"),
        reads("a footer as wide as the rows", format!("Gap [mm];Time [s];Force [N]\n{}\nPeak;900.5;N\n", one.lines().map(|row| format!("50.0;{row}\n")).collect::<String>()), 20, 412.5).notice("footer"),
        reads("units again under heads again", format!("Time;Force\ns;N\n{one}Time;Force\ns;N\n{}", later(0.02, 20).replace("412.5", "0.1")), 40, 412.5),
        reads("heads again in another unit", "Gap [mm];Time [s];Force [N]\n50;0.000;1.5\n50;0.001;412.5\nGap [mm];Time [s];Force [kN]\n50;0.000;1.5\n50;0.001;4.1\n", 2, 4100.0).notice("unit").said(|a| a.run = Some(2.into())),
    ]
}

fn clocks() -> Vec<Case> {
    let of = |stamps: [&str; 4]| {
        let forces = ["1.5", "2.5", "412.5", "2.0"];
        let rows = stamps.iter().zip(forces);
        let rows: String = rows
            .map(|(stamp, force)| format!("{stamp};{force}\n"))
            .collect();
        format!("time;force_N\n{rows}")
    };
    let days = |first: &str, second: &str| {
        of([
            &format!("{first} 23:59:59.98"),
            &format!("{first} 23:59:59.99"),
            &format!("{second} 00:00:00.00"),
            &format!("{second} 00:00:00.01"),
        ])
    };
    let mut cases: Vec<Case> = [
        ("04/03/2024", "05/03/2024"),
        ("03/04/2024", "03/05/2024"),
        ("30/04/2024", "01/05/2024"),
        ("04/30/2024", "05/01/2024"),
        ("24-03-01", "24-03-02"),
        ("20240229", "20240301"),
        ("31-Dec-2024", "01-Jan-2025"),
        ("30. April 2024", "1. Mai 2024"),
    ]
    .map(|(first, second)| {
        reads("midnight", days(first, second), 4, 412.5)
            .at(0.02)
            .rate(100.0)
    })
    .into();
    cases.extend([
        reads("a zone in letters", of(["2024-03-01 10:15:02.00 UTC", "2024-03-01 10:15:02.01 UTC", "2024-03-01 10:15:02.02 UTC", "2024-03-01 10:15:02.03 UTC"]), 4, 412.5).at(0.02),
        reads("midnight beside a lost row", "time;force_N\n23:59:59.98;1.5\n23:59:59.99;1.5\n00:00:00.00;OL\n00:00:00.01;412.5\n00:00:00.02;1.5\n", 5, 412.5).missing(1).at(0.03),
        reads("the time of day and the time elapsed", "Uhrzeit;Zeit [s];Kraft [N]\n10:15:02;0.000;1.5\n10:15:02;0.001;412.5\n10:15:02;0.002;1.5\n", 3, 412.5).at(0.001),
        asks("a clock that stands", "time_s;force_N\n0.000;1.5\n0.000;412.5\n0.000;1.5\n0.000;0.5\n", &[SamplingRate]),
        reads("a clock that stands, answered", "time_s;force_N\n0.000;1.5\n0.000;412.5\n0.000;1.5\n0.000;0.5\n", 4, 412.5).said(|a| a.rate = Some(Hertz(1000.0))).at(0.001),
    ]);
    cases
}

fn cells() -> Vec<Case> {
    let commas = "t_ms,F_N\n0,0,3\n1,412,5\n2,0,4\n";
    vec![
        reads(
            "a spreadsheet's word for no value in a bare column",
            "Rate: 100 Hz\nForce [N]\n1.5\n#N/A\n412.5\n2.5\n",
            4,
            412.5,
        )
        .missing(1)
        .at(0.02),
        reads(
            "a spreadsheet's word at the start of a row",
            "Rate: 100 Hz\nForce [N];Temp\n1.5;20\n#DIV/0!;20\n412.5;20\n2.5;20\n",
            4,
            412.5,
        )
        .missing(1)
        .at(0.02),
        reads(
            "a gauge that changes its unit between blanks",
            "t_s F_N\n0.000 998.0\n0.001 1.2041 kN\n0.002 12.5\n",
            3,
            1204.1,
        )
        .notice("unit"),
        reads(
            "an exponent is never grouped",
            "t_s;F_N\n0.000;12\n0.001;4,125E+02\n0.002;13\n",
            3,
            412.5,
        )
        .notice("unit"),
        reads(
            "two rows run together",
            format!("t_s;F_N\n{}", rows(30)).replacen("\n0.011", "0.011", 1),
            29,
            412.5,
        )
        .missing(1)
        .notice("cell"),
        asks(
            "rows that are often run together",
            format!("t_s;F_N\n{}", rows(30)).replace("0.3\n", "0.3"),
            &[ForceColumn],
        ),
        asks(
            "three samples of a push logged as negative",
            "t_s;F_N\n0.000;-1.5\n0.001;-412.5\n0.002;-2.0\n",
            &[Sign],
        ),
        reads(
            "newton seconds are no nanoseconds",
            "Time [s];Force [N];Impulse [Ns]\n0.000;1.5;0.0\n0.001;412.5;0.1\n",
            2,
            412.5,
        ),
        reads(
            "blanks around the delimiter",
            "t_s ; F_N\n0.000 ; 1.5\n0.001 ; 412.5\n",
            2,
            412.5,
        ),
        reads(
            "quotes and blanks around the delimiter",
            "\"t_s\" , \"F_N\"\n\"0.000\" , \"1.5\"\n\"0.001\" , \"412.5\"\n",
            2,
            412.5,
        ),
        reads(
            "commas before units in heads parted by semicolons",
            "Zeit, ms;Kraft, N\n0,0;0,3\n1,0;412,5\n2,0;0,4\n",
            3,
            412.5,
        ),
        reads(
            "quotes around whole lines",
            "\"t_s,F_N\"\n\"0.000,1.5\"\n\"0.001,412.5\"\n",
            2,
            412.5,
        )
        .notice("encoding"),
        reads(
            "quotes around whole lines of quoted cells",
            "\"\"\"t_s\"\",\"\"F_N\"\"\"\n\"\"\"0.000\"\",\"\"1.5\"\"\"\n\"\"\"0.001\"\",\"\"412.5\"\"\"\n",
            2,
            412.5,
        ),
        reads(
            "another delimiter, answered",
            "t_s^F_N\n0.000^1.5\n0.001^412.5\n",
            2,
            412.5,
        )
        .said(|a| a.delimiter = Some('^')),
        reads(
            "decimal commas in a comma file, always four cells, answered",
            "t [s],F [N]\n0,00,0,3\n0,01,412,5\n0,02,0,4\n",
            3,
            412.5,
        )
        .said(|a| a.decimal_mark = Some(','))
        .at(0.01),
        asks(
            "decimal commas in one column of a comma file",
            commas,
            &[DecimalMark, Delimiter],
        ),
        asks(
            "the same, answered, can be told apart in two ways",
            commas,
            &[Delimiter],
        )
        .said(|a| a.decimal_mark = Some(',')),
        reads(
            "blank lines between carriage returns alone",
            format!("Time [s];Force [N]\n{}\nPeak;900.5\n", rows(20)).replace('\n', "\r"),
            20,
            412.5,
        )
        .notice("footer"),
        refused(
            "a drawing",
            "<svg xmlns=\"x\">\n<path d=\"M 0 0\n10 20\n30 40\n50 60\n\"/></svg>\n",
            "HTML or XML",
        ),
        refused(
            "a JSON document",
            "{\"force_N\": [\n0.3,\n412.5,\n0.1\n]}\n",
            "a JSON document",
        ),
        refused(
            "a PDF document",
            "%PDF-1.4\nxref\n0 3\n0000000000 65535 f\n0000000010 00000 n\nstartxref\n120\n",
            "a PDF document",
        ),
    ]
}

#[test]
fn every_declared_rate_is_read_and_nothing_else_is_taken_for_one() {
    judge(&rates(), 35);
}

#[test]
fn every_way_to_write_heads_is_read_or_asked() {
    judge(&heads(), 25);
}

#[test]
fn units_beside_the_numbers_are_read_row_by_row() {
    judge(&unit_columns(), 6);
}

#[test]
fn the_record_is_found_below_another_table() {
    judge(&tables_before(), 4);
}

#[test]
fn runs_are_never_read_as_one() {
    judge(&runs(), 19);
}

#[test]
fn every_way_to_write_a_date_is_read() {
    judge(&clocks(), 13);
}

#[test]
fn every_way_to_write_cells_is_read_or_asked() {
    judge(&cells(), 21);
}
