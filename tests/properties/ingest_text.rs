//! Logs with one kind of trouble in their text each: encodings, line ends, delimiters, decimal marks, numbers.
//! The right answer was decided before the reader was run on them.

use relent::ingest::Ask::{DecimalMark, Delimiter, ForceColumn, SamplingRate, Sign, TimeColumn};

use crate::ingest_case::{Case, asks, judge, reads, refused};

const PLAIN: &str = "time_s,force_N\n0.000,1.5\n0.001,380.5\n0.002,12.5\n";

fn utf16(text: &str, mark: &[u8], bytes: impl Fn(u16) -> [u8; 2]) -> Vec<u8> {
    let mut out = mark.to_vec();
    out.extend(text.encode_utf16().flat_map(bytes));
    out
}

fn encodings() -> Vec<Case> {
    let heads = "Zeit [s];Kraft [N];Temp [°C]\n0,000;1,5;20\n0,001;380,5;20\n0,002;12,5;20\n";
    let latin: Vec<u8> = heads
        .chars()
        .map(|c| u8::try_from(u32::from(c)).unwrap())
        .collect();
    vec![
        reads("UTF-8 with a mark", format!("\u{feff}{PLAIN}"), 3, 380.5).at(0.001),
        reads(
            "UTF-16, little end first, with a mark",
            utf16(PLAIN, &[0xff, 0xfe], u16::to_le_bytes),
            3,
            380.5,
        ),
        reads(
            "UTF-16, big end first, with a mark",
            utf16(PLAIN, &[0xfe, 0xff], u16::to_be_bytes),
            3,
            380.5,
        ),
        reads(
            "UTF-16, little end first, without a mark",
            utf16(PLAIN, &[], u16::to_le_bytes),
            3,
            380.5,
        ),
        reads(
            "UTF-16, big end first, without a mark",
            utf16(PLAIN, &[], u16::to_be_bytes),
            3,
            380.5,
        ),
        reads("degree sign in Windows-1252", latin, 3, 380.5).rate(1000.0),
        reads("degree sign in UTF-8", heads, 3, 380.5),
        reads(
            "no-break space of Windows-1252 as thousands mark",
            b"Zeit [s];Kraft [N]\n0,0;998,2\n0,1;1\xa0204,5\n0,2;3,1\n".to_vec(),
            3,
            1204.5,
        )
        .at(0.1),
        reads(
            "zero bytes after the last line",
            format!("{PLAIN}\0\0\0\0\0\0"),
            3,
            380.5,
        )
        .notice("encoding"),
        reads(
            "end-of-file sign after the last line",
            format!("{PLAIN}\u{1a}"),
            3,
            380.5,
        )
        .notice("encoding"),
        reads(
            "zero bytes in a force cell",
            "time_s,force_N\n0.000,1.5\n0.001,380.5\n0.002,\0\0\0\0\n0.003,2.5\n",
            4,
            380.5,
        )
        .missing(1)
        .notice("cell"),
        reads(
            "one byte that is no UTF-8 in a remark",
            b"# gate 3, \xc3\xa9lan \xc3\xa9, torn \xff\ntime_s,force_N\n0.000,1.5\n0.001,380.5\n"
                .to_vec(),
            2,
            380.5,
        )
        .notice("encoding"),
        refused(
            "bytes of a program",
            b"\x7fELF\x02\x01\x01\x00\x00\x07\x03\x00\x3e".repeat(30),
            "not text",
        ),
        refused("white space alone", " \n\t\r\n  \n", "empty"),
        refused(
            "words alone",
            "Dear colleague,\nplease find the log attached.\nRegards\n",
            "no rows of numbers",
        ),
        refused(
            "heads without rows",
            "time_s,force_N\n",
            "no rows of numbers",
        ),
    ]
}

fn line_ends() -> Vec<Case> {
    vec![
        reads("CR LF", PLAIN.replace('\n', "\r\n"), 3, 380.5).at(0.001),
        reads("CR CR LF", PLAIN.replace('\n', "\r\r\n"), 3, 380.5).at(0.001),
        reads("CR alone", PLAIN.replace('\n', "\r"), 3, 380.5).at(0.001),
        reads(
            "CR alone after the heads only",
            PLAIN.replacen('\n', "\r", 1),
            3,
            380.5,
        ),
        reads("no final line end", PLAIN.trim_end(), 3, 380.5),
        reads(
            "blank lines between rows",
            PLAIN.replace('\n', "\n\n"),
            3,
            380.5,
        ),
        reads(
            "blanks at the line ends",
            PLAIN.replace('\n', "  \n"),
            3,
            380.5,
        ),
        reads(
            "torn off inside the last force",
            "time_s,force_N\n0.000,1.5\n0.001,380.5\n0.002,398.2\n0.003,39",
            4,
            398.2,
        )
        .missing(1)
        .notice("cell"),
        reads(
            "torn off after the delimiter",
            "time_s,force_N\n0.000,1.5\n0.001,380.5\n0.002,",
            3,
            380.5,
        )
        .missing(1)
        .notice("missing"),
        reads(
            "torn off inside the last instant",
            "time_s,force_N\n0.000,1.5\n0.001,380.5\n0.00",
            3,
            380.5,
        )
        .missing(1)
        .notice("missing"),
        reads(
            "integers torn off far below the force before",
            "time_ms,force_N\n0,400\n1,401\n2,399\n3,400\n4,398\n5,39",
            6,
            401.0,
        )
        .missing(1)
        .notice("cell"),
        reads(
            "integers without a final line end",
            "time_ms,force_N\n0,400\n1,401\n2,399\n3,400\n4,398\n5,397",
            6,
            401.0,
        ),
        reads(
            "two lines run together",
            "time_s,force_N\n0.000,1.5\n0.001,380.5\n0.0020.003,9.5\n0.004,2.5\n",
            3,
            380.5,
        )
        .notice("cell"),
    ]
}

fn delimiters() -> Vec<Case> {
    vec![
        asks("a blank in every force pushes the status word out", "time (ms)  load (daN)  Status\n0  3 174.33  OK\n1  4 430.47  OK\n2  6 182.95  OK\n3  8 630.00  OK\n", &[ForceColumn, Delimiter]),
        asks("a slow channel between blanks and no clock", "Rate: 500 Hz\nload (lbf)  Temp_C\n-0.14  20.0\n0.21\n0.55\n0.08\n1408.56  20.1\n0.38\n", &[Delimiter, ForceColumn]),
        asks("thousands blanks under heads parted by bars", "Rate: 100 Hz\nload_kN|Temp_C\n16 807.4|20.0\n23 456.7\n16 807.5\n12 043.2\n8 629.6\n", &[ForceColumn, Delimiter, DecimalMark]),
        asks("thousands commas under heads parted by semicolons", "Rate: 100 Hz\nForce in daN;Temp_C\n6,183;20.0\n8,629\n12,043\n16,807\n8,629;20.1\n6,183\n", &[ForceColumn, Delimiter, DecimalMark]),
        asks("a blank as thousands mark shifts a status word", "Zeit_s Kraft_daN Status\n12.345 514 OK\n12.347 716 OK\n12.349 1 000 OK\n12.351 716 OK\n", &[Delimiter]),
        asks("a blank as thousands mark fills a slow channel", "Time_s Force_N Temp_C\n0.000 518.189 20.0\n0.010 723.820 20.0\n0.020 723.820 20.1\n0.030 1 408.560\n0.040 523.820 20.1\n0.050 23.820 20.1\n", &[Delimiter]),
        reads("the same, answered", "Time_s Force_N Temp_C\n0.000 518.189 20.0\n0.010 723.820 20.0\n0.020 723.820 20.1\n0.030 1 408.560 20.1\n0.040 523.820 20.1\n0.050 23.820 20.1\n", 6, 1408.56).said(|a| a.decimal_mark = Some('.')),
        asks("many short rows between blanks", "time_s force_N temp_C\n0.000 1.5 20.5\n0.001 380.5\n0.002 3.5\n0.003 2.5 20.5\n0.004 2.5\n", &[ForceColumn]),
        reads("many short rows between blanks, answered", "time_s force_N temp_C\n0.000 1.5 20.5\n0.001 380.5\n0.002 3.5\n0.003 2.5 20.5\n0.004 2.5\n", 5, 380.5).said(|a| a.force = Some("force_N".into())),
        reads("a force missing between blanks does not give its place to the next column", "time_s force_N temp_C\n0.000 1.5 20.5\n0.001 380.5 20.5\n0.002       920.5\n0.003 2.5 20.5\n", 4, 380.5).missing(1).notice("cell"),
        reads("an instant and a force run together", "time_s  force_N\n0.000    1.5\n0.001  380.5\n0.002-1380.5\n0.003    2.5\n", 3, 380.5).notice("cell"),
        reads("tab", PLAIN.replace(',', "\t"), 3, 380.5),
        reads(
            "tab and padding blanks",
            PLAIN.replace(',', " \t   "),
            3,
            380.5,
        ),
        reads("bar", PLAIN.replace(',', "|"), 3, 380.5),
        reads(
            "aligned by blanks",
            "  time_s   force_N\n   0.000       1.5\n   0.001     380.5\n   0.002      12.5\n",
            3,
            380.5,
        ),
        reads(
            "blanks, heads with units apart",
            "Time (s)   Force (N)\n0.000   1.5\n0.001   380.5\n0.002   12.5\n",
            3,
            380.5,
        ),
        reads(
            "blanks, heads with units apart by one blank",
            "Time (s) Force (N)\n0.000 1.5\n0.001 380.5\n0.002 12.5\n",
            3,
            380.5,
        ),
        reads(
            "blanks and decimal commas",
            "Zeit_s Kraft_N\n0,000 1,5\n0,001 380,5\n0,002 12,5\n",
            3,
            380.5,
        ),
        reads("comma and a blank", PLAIN.replace(',', ", "), 3, 380.5),
        reads(
            "declared as sep=;",
            "sep=;\nZeit [s];Kraft [N]\n0,000;1,5\n0,001;380,5\n",
            2,
            380.5,
        ),
        reads(
            "a delimiter after the last cell",
            PLAIN.replace('\n', ",\n"),
            3,
            380.5,
        ),
        reads(
            "heads parted otherwise than the rows",
            "time_s;force_N\n0.000\t1.5\n0.001\t380.5\n",
            2,
            380.5,
        ),
        reads(
            "every cell quoted",
            "\"time_s\",\"force_N\"\n\"0.000\",\"1.5\"\n\"0.001\",\"380.5\"\n",
            2,
            380.5,
        ),
        reads(
            "a quoted remark with the delimiter in it",
            "time_s,force_N,comment\n0.000,1.5,\"a, b\"\n0.001,380.5,\"said \"\"stop\"\"\"\n",
            2,
            380.5,
        ),
        reads(
            "a quoted remark over two lines",
            "time_s,force_N,comment\n0.000,1.5,\"first\nsecond\"\n0.001,380.5,\n0.002,3.5,\n",
            3,
            380.5,
        ),
        reads(
            "a quote that nothing closes",
            "time_s,force_N,comment\n0.000,1.5,\"open\n0.001,380.5,\n0.002,3.5,\n",
            3,
            380.5,
        ),
        reads(
            "an inch sign in a remark",
            "time_s,force_N,comment\n0.000,1.5,2\"\n0.001,380.5,3\"\n0.002,3.5,\n",
            3,
            380.5,
        ),
        reads(
            "words beyond the last column",
            "time_s,force_N\n0.000,1.5\n0.001,380.5,door touched\n0.002,3.5\n",
            3,
            380.5,
        )
        .notice("remark"),
        asks(
            "a number beyond the last column",
            "time_s\tforce_N\n0.000\t1.5\n0.001\t380.5\t7\n0.002\t3.5\n",
            &[ForceColumn],
        ),
        asks(
            "bare numbers with commas",
            "12,5\n380,5\n13,5\n",
            &[Delimiter, DecimalMark],
        ),
        reads(
            "bare decimal commas under one head",
            "Kraft [N]\n12,5\n380,5\n13,5\n",
            3,
            380.5,
        )
        .said(|a| a.rate = Some(relent::quantity::Hertz(100.0))),
        refused(
            "an answered delimiter that makes no cells",
            PLAIN,
            "expected cells parted by",
        )
        .said(|a| a.delimiter = Some(';')),
    ]
}

fn marks() -> Vec<Case> {
    let peak = "time_s,force_N\n0.000,0.20\n0.001,999.99\n0.002,1,408.56\n0.003,390.10\n";
    vec![
        asks("thousands mark among whole numbers before a slow channel", "t_s,F_N,Temp\n5.00,368,20.0\n5.01,513\n5.02,716\n5.03,1,000\n5.04,716\n5.05,513\n", &[DecimalMark]),
        reads("thousands mark among whole numbers before a slow channel, answered", "t_s,F_N,Temp\n5.00,368,20.0\n5.01,513\n5.02,716\n5.03,1,000\n5.04,716\n5.05,101\n5.06,5,20.1\n", 7, 1000.0).said(|a| a.decimal_mark = Some('.')),
        reads("whole forces beside a channel of three digits", "t_s,F_N,p_kPa\n5.00,368.5,101.3\n5.01,5.25,101.3\n5.02,716,101.3\n5.03,1,101.3\n", 4, 716.0),
        asks("points that may group, in a comma file", "t_us,F_N\n0,518\n500,723\n1000,1.009\n1500,1.409\n2000,723\n", &[DecimalMark]),
        asks("points that may group, beside stamps", "t,F_lbf\n10:15:14.345,4.430\n10:15:14.347,6.183\n10:15:14.349,8.629\n", &[DecimalMark]),
        reads("quoted thousands mark at the peak", peak.replace("1,408.56", "\"1,408.56\""), 4, 1408.56).at(0.002).notice("thousands-mark"),
        asks("thousands mark at the peak, not quoted", peak, &[DecimalMark, Delimiter]),
        reads("the same, answered", peak, 4, 1408.56).said(|a| a.decimal_mark = Some('.')).at(0.002),
        asks("the same where the next channel is empty", "time_s,force_N,temp\n0.000,0.20,20.5\n0.001,999.99,\n0.002,1,408.56,\n0.003,390.10,\n", &[DecimalMark]),
        asks("the same where the row looks whole", "time_s,force_N,temp\n0.000,0.20,20.5\n0.001,999.99\n0.002,1,408.56\n0.003,390.10\n", &[DecimalMark]),
        reads("the same where the row looks whole, answered", "time_s,force_N,temp\n0.000,0.20,20.5\n0.001,999.99\n0.002,1,408.56\n0.003,390.10\n", 4, 1408.56).said(|a| a.decimal_mark = Some('.')),
        asks("decimal commas in a comma file, always four cells", "Time [s],F [N]\n0,0,12,5\n0,1,380,5\n0,2,13,5\n", &[DecimalMark, Delimiter]),
        asks("blank as thousands mark between blanks", "time_s force_N\n0.000 998.2\n0.001 1 204.5\n0.002 3.1\n", &[Delimiter]),
        reads("blank as thousands mark between tabs", "time_s\tforce_N\n0.000\t998.2\n0.001\t1 204.5\n0.002\t3.1\n", 3, 1204.5),
        reads("apostrophe as thousands mark", "time_s;force_N\n0.000;998.2\n0.001;1'204.5\n0.002;3.1\n", 3, 1204.5),
        reads("typographic apostrophe as thousands mark", "time_s;force_N\n0.000;998.2\n0.001;1\u{2019}204.5\n0.002;3.1\n", 3, 1204.5),
        reads("no-break space as thousands mark", "Zeit [s];Kraft [N]\n0,0;998,2\n0,1;1\u{a0}204,5\n0,2;3,1\n", 3, 1204.5),
        reads("narrow no-break space as thousands mark", "Zeit [s];Kraft [N]\n0,0;998,2\n0,1;1\u{202f}204,5\n0,2;3,1\n", 3, 1204.5),
        reads("two thousands marks", "time_s;force_mN\n0.000;998.2\n0.001;1,204,500.5\n0.002;3.1\n", 3, 1204.5005),
        asks("thousands mark without decimals among decimals", "time_s,force_N\n0.000,998.2\n0.001,\"1,204\"\n0.002,3.1\n", &[DecimalMark]),
        reads("the same, answered", "time_s,force_N\n0.000,998.2\n0.001,\"1,204\"\n0.002,3.1\n", 3, 1204.0).said(|a| a.decimal_mark = Some('.')),
        reads("thousands mark among whole numbers", "time_s,force_N\n0.000,998\n0.001,\"1,204\"\n0.002,3\n", 3, 1204.0).notice("thousands-mark"),
        asks("decimals or thousands, nothing decides", "time [ms];force [N]\n0;12.345\n1;13.345\n2;14.345\n", &[DecimalMark]),
        asks("points and commas as decimal marks", "time [ms];force [N]\n0;12.5\n1;13,5\n2;14.5\n", &[DecimalMark]),
        asks("a declared comma and points in the cells", "Decimal_Separator\t,\ntime [ms]\tforce [N]\n0\t12.5\n1\t380.5\n", &[DecimalMark]),
        reads("marks only far down the log", format!("time [ms];force [N]\n{}500;380,5\n501;1,5\n", (0..500).map(|i| format!("{i};{}\n", i % 7)).collect::<String>()), 502, 380.5).at(0.5),
        reads("exponents", "time_s,force_N\n0.0E+00,1.5E+00\n1.0E-03,3.805E+02\n2.0e-3,1.25e1\n", 3, 380.5).at(0.001),
        reads("decimal commas with exponents", "Zeit [s];Kraft [N]\n0,0E+00;1,5E+00\n1,0E-03;3,805E+02\n", 2, 380.5),
        reads("no digit before the mark", "time_s,force_N\n.000,-.5\n.001,380.5\n.002,.25\n", 3, 380.5).min(-0.5),
        reads("no digit after the mark", "time_s,force_N\n0.,1.\n1.,380.\n2.,4.\n", 3, 380.0),
        reads("plus signs", "time_s,force_N\n+0.000,+1.5\n+0.001,+380.5\n", 2, 380.5),
        reads("minus sign of Unicode", "time_s,force_N\n0.000,\u{2212}0.5\n0.001,380.5\n0.002,1.5\n", 3, 380.5).min(-0.5),
        reads("en dash as minus sign", "time_s,force_N\n0.000,\u{2013}0.5\n0.001,380.5\n0.002,1.5\n", 3, 380.5).min(-0.5),
        reads("leading zeros", "time_s,force_N\n0000.000,0001.5\n0000.001,0380.5\n", 2, 380.5),
        reads("seventeen digits", "time_s,force_N\n0.00000000000000000,1.5000000000000000\n0.00100000000000000,380.50000000000000\n", 2, 380.5),
        reads("an exponent torn off", "time_s,force_N\n0.000,1.5\n0.001,380.5\n0.002,1.2E\n0.003,2.5\n", 4, 380.5).missing(1).notice("cell"),
        reads("words for not a number", "time_s,force_N\n0.000,1.5\n0.001,1.#QNAN\n0.002,-1.#IND\n0.003,+Inf\n0.004,380.5\n0.005,n/a\n0.006,---\n", 7, 380.5).missing(5).notice("missing"),
        reads("an overflow to infinity", "time_s,force_N\n0.000,1.5\n0.001,1e999\n0.002,380.5\n", 3, 380.5).missing(1),
        reads("a minus sign after the number", "time_s,force_N\n0.000,1.5\n0.001,12.5-\n0.002,380.5\n", 3, 380.5).missing(1).notice("cell"),
        reads("hexadecimal", "time_s,force_N\n0.000,1.5\n0.001,0x1F\n0.002,380.5\n", 3, 380.5).missing(1).notice("cell"),
        reads("the unit in every cell", "time;force\n0.000 s;1.5 N\n0.001 s;380.5 N\n0.002 s;12.5 N\n", 3, 380.5).at(0.001),
        reads("a gauge that changes its unit by itself", "time_s;force\n0.000;998.0 N\n0.001;1.204 kN\n0.002;12.5 N\n", 3, 1204.0).notice("unit"),
        reads("the first force is no number", "time_s,force_N\n0.000,overload\n0.001,380.5\n0.002,1.5\n0.003,2.5\n", 4, 380.5).missing(1).notice("cell"),
        reads("the last force is no number", "time_s,force_N\n0.000,2.5\n0.001,380.5\n0.002,1.5\n0.003,overload\n", 4, 380.5).missing(1).notice("cell"),
        asks("a push logged as negative", "time_s,force_N\n0.000,0.1\n0.001,-0.2\n0.002,-380.5\n0.003,-200.0\n0.004,-0.1\n0.005,0.1\n0.006,-0.1\n", &[Sign]),
        asks("nothing but an index and a force", "sample,force_N\n1,1.5\n2,380.5\n3,1.5\n", &[SamplingRate, TimeColumn]),
        asks("numbers as heads", "0,1\n0.000,1.5\n0.001,380.5\n", &[ForceColumn]),
    ]
}

#[test]
fn every_encoding_is_read_or_refused() {
    judge(&encodings(), 16);
}

#[test]
fn every_line_end_is_read_and_a_torn_one_is_seen() {
    judge(&line_ends(), 13);
}

#[test]
fn every_delimiter_is_read_or_asked() {
    judge(&delimiters(), 32);
}

#[test]
fn every_number_is_read_rightly_or_asked_or_told() {
    judge(&marks(), 47);
}
