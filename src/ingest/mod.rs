//! Bytes of a log → what was understood of it, and, where nothing has to be asked, its force–time record.

mod digest;
mod error;
mod notice;
mod notices;
mod question;
mod reading;

mod tokens;

mod unpack;

mod decode;

mod layout;

mod rows;

mod clock;

mod doubt;

mod read;
mod recipe;

pub use digest::{hexadecimal, sha256};
pub use error::{Foreign, ReadError};
pub use notice::{Kind, Notice, Noticed};
pub use question::{Ask, Doubt, Inside, Question, UnclearColumn};
pub use read::{DigestOf, logs_within, read, read_with};
pub use reading::{Channel, Outcome, Reading, Role, Run};
pub use recipe::{RecipeError, from_recipe, to_recipe};
pub use tokens::cells::printable;
pub use tokens::units::{force_unit, time_unit};
pub use unpack::MOST_UNPACKED;

pub use crate::trace::{Answers, ChosenRun, Sign};
