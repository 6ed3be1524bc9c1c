//! `relent read`: what is understood of a log, before anything is computed.
