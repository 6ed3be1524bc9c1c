//! A workbook → its sheet as text.

use super::ReadError;
use super::container::Unpacked;

/// The one sheet with cells, as rows of cells parted by tabs.
#[cfg(not(feature = "xlsx"))]
pub(super) fn text(_bytes: &[u8]) -> Result<Unpacked<'static>, ReadError> {
    Err(ReadError::Workbook)
}
