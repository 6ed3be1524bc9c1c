//! Errors as a user sees them.
