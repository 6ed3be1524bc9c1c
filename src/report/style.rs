//! How the report looks: the style sheet of the page and of its drawings, and the pens of the plots.
//!
//! plotters writes a colour into every element and no class. So each pen has a colour of its own: the drawing is right
//! without a sheet, and with one the colour is the name by which the sheet sets dashes and follows a dark screen.

use plotters::style::RGBColor;

/// Text and the deciding curve.
pub const INK: RGBColor = RGBColor(0x1b, 0x1b, 0x1b);
/// Secondary text and axes.
pub const SOFT: RGBColor = RGBColor(0x5c, 0x5c, 0x5c);
/// Grid lines.
pub const HAIR: RGBColor = RGBColor(0xdc, 0xdc, 0xdc);
/// The forbidden side of a limit.
pub const FORBIDDEN: RGBColor = RGBColor(0xee, 0xee, 0xec);
/// The boundary of the forbidden side.
pub const LIMIT: RGBColor = RGBColor(0x2c, 0x2c, 0x2c);
/// A level that is drawn for orientation.
pub const LEVEL: RGBColor = RGBColor(0x8a, 0x8a, 0x8a);
/// The value that is assessed, where it is a mean.
pub const JUDGED: RGBColor = RGBColor(0x2d, 0x2d, 0x2d);
/// Repeats that do not decide, each with its own dash; a fifth starts again with the first.
pub const REPEATS: [RGBColor; 4] = [
    RGBColor(0x66, 0x66, 0x66),
    RGBColor(0x67, 0x67, 0x67),
    RGBColor(0x68, 0x68, 0x68),
    RGBColor(0x69, 0x69, 0x69),
];

/// What the drawings need of the sheet: also put into a drawing that leaves the page.
pub const DRAWINGS: &str = include_str!("drawings.css");

/// The sheet of the page.
pub const PAGE: &str = include_str!("page.css");
